"""The second process: the same application over plain HTTP, the set-up page first.

A process of its own, because gunicorn speaks TLS on all of its ports or on none. Its standard
input is a pipe from the first process; when that ends, for whatever reason, the pipe closes and
this one stops too.
"""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import threading
from pathlib import Path
from typing import IO

from shedtally.serving.address import read
from shedtally.serving.application import application
from shedtally.serving.listen import Listener, listen
from shedtally.serving.plan import facts_for, settings_for


def start(data: Path, listener: Listener) -> subprocess.Popen[bytes]:
    """Start the process; end it with `terminate`, or by ending this one."""
    words = [str(data), listener.host, str(listener.port)]
    return subprocess.Popen(  # noqa: S603 - own module
        [sys.executable, "-m", "shedtally.serving.plain", *words], stdin=subprocess.PIPE
    )


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
