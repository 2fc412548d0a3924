"""The second process: the same application over plain HTTP, the set-up page first.

A process of its own, because gunicorn speaks TLS on all of its ports or on none. Its standard
input is a pipe from the first process; when that ends, for whatever reason, the pipe closes and
this one stops too.
"""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import threading
import time
from pathlib import Path
from typing import IO

from shedtally.domain.stopped import Stopped
from shedtally.serving.address import read
from shedtally.serving.application import application
from shedtally.serving.listen import Listener, listen
from shedtally.serving.plan import facts_for, settings_for

# A small computer that does much else needs half a minute; one that ends early is seen at once.
STARTS_WITHIN_S = 120


class PlainPortSilent(Stopped):
    """The second process ended, or never listened."""

    def __init__(self, listener: Listener) -> None:
        super().__init__(
            f"The set-up page on port {listener.port} did not start; the reason stands above. "
            "What is in the data folder is unchanged. Start again, perhaps with --plain-port."
        )


def start(data: Path, listener: Listener) -> subprocess.Popen[bytes]:
    """Start the process; end it with `terminate`, or by ending this one."""
    words = [str(data), listener.host, str(listener.port)]
    return subprocess.Popen(  # noqa: S603 - own module
        [sys.executable, "-m", "shedtally.serving.plain", *words], stdin=subprocess.PIPE
    )


def wait_until_open(process: subprocess.Popen[bytes], listener: Listener) -> None:
    """Wait for the port, so that an address is not printed before it answers.

    Raises: PlainPortSilent.
    """
    host = {"0.0.0.0": "127.0.0.1", "::": "::1"}.get(listener.host, listener.host)  # noqa: S104
    deadline = time.monotonic() + STARTS_WITHIN_S
    while process.poll() is None and time.monotonic() < deadline:
        try:
            socket.create_connection((host, listener.port), timeout=1).close()
        except OSError:
            time.sleep(0.05)
        else:
            return
    process.kill()
    raise PlainPortSilent(listener)


def main(data: Path, listener: Listener) -> None:
    """Serve plain HTTP until standard input closes."""
    address = read(data)
    if address is None:
        raise SystemExit(f"{data} holds no address yet; start shedtally serve")
    settings, facts = settings_for(data, address), facts_for(data, address)
    listen(
        listener,
        lambda: application(settings, facts, setup_first=True),
        in_worker=lambda: threading.Thread(
            target=_stop_at_end_of, args=(sys.stdin.buffer,), daemon=True
        ).start(),
    )


def _stop_at_end_of(pipe: IO[bytes]) -> None:
    pipe.read()
    os.kill(os.getppid(), signal.SIGTERM)


if __name__ == "__main__":
    main(Path(sys.argv[1]), Listener(sys.argv[2], int(sys.argv[3])))
