"""Real `shedtally` processes, and a client that trusts what it is told to trust."""

from __future__ import annotations

import contextlib
import http.client
import json
import os
import random
import shutil
import signal
import socket
import ssl
import subprocess
import sys
import threading
import time
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

# The demo boat is ten seconds of reckoning, which on a machine with eight other users took more
# than ninety. One that ends early is noticed at once, so only one that hangs is waited for so long.
STARTS_WITHIN_S = 300
# A server stopped while its workers still start is given ten seconds by the one that waits for
# them; the rest is for machines with much else to do.
ENDS_WITHIN_S = 60


# Below those that the system gives to outgoing connections: a port that was free a moment ago
# stays free until its server starts, whatever other workers and their browsers do.
PORTS = range(20_000, 30_000)
_given: set[int] = set()


def free_port() -> int:
    """A port that nothing listens on, and that no other worker of this run will be given."""
    worker, workers = int(os.environ.get("PYTEST_XDIST_WORKER", "gw0")[2:]), 16
    while True:
        port = random.choice(PORTS[worker % workers :: workers])
        if port in _given:
            continue
        with contextlib.closing(socket.socket()) as probe:
            # As servers do, which may follow one that was just killed.
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            with contextlib.suppress(OSError):
                probe.bind(("127.0.0.1", port))
                _given.add(port)
                return port


@dataclass
class Answer:
    status: int
    headers: http.client.HTTPMessage
    body: bytes

    @property
    def json(self) -> Any:
        return json.loads(self.body)


@dataclass
class Running:
    """A started command and what it has printed so far."""

    process: subprocess.Popen[str]
    data: Path
    port: int
    plain_port: int
    printed: list[str] = field(default_factory=list)
    reader: threading.Thread | None = None

    @property
    def text(self) -> str:
        return "".join(self.printed)

    def wait_for(self, words: str) -> str:
        """All that was printed, once these words are in it."""
        deadline = time.monotonic() + STARTS_WITHIN_S
        while words not in self.text:
            if self.process.poll() is not None:
                code = self.ended()
                assert words in self.text, f"ended with {code}, never said {words!r}:\n{self.text}"
                break
            assert time.monotonic() < deadline, f"never said {words!r}:\n{self.text}"
            time.sleep(0.05)
        return self.text

    def stop(self) -> int:
        self.process.terminate()
        return self.ended()

    def ended(self) -> int:
        """Its exit code, when it has ended and all that it printed was read."""
        code = self.process.wait(ENDS_WITHIN_S)
        assert self.reader is not None
        self.reader.join(5)
        return code


def start_command(
    *words: str, data: Path, port: int = 0, plain_port: int = 0, detached: bool = False
) -> Running:
    """Start `shedtally WORDS`; the caller stops it.

    Args: detached: as with nohup. Otherwise not, also where the tests themselves were started so.
    """
    # A process inherits what its parent does with the signal.
    before = signal.signal(signal.SIGHUP, signal.SIG_IGN if detached else signal.SIG_DFL)
    try:
        process = subprocess.Popen(
            [sys.executable, "-m", "shedtally", *words],
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            encoding="utf-8",
            env={**os.environ, "PYTHONUNBUFFERED": "1", "PYTHONUTF8": "1"},
        )
    finally:
        signal.signal(signal.SIGHUP, before)
    one = Running(process, data, port, plain_port)
    one.reader = threading.Thread(target=_read, args=(one,), daemon=True)
    one.reader.start()
    return one


def _read(one: Running) -> None:
    assert one.process.stdout is not None
    with one.process.stdout as stream:
        one.printed.extend(stream)


def get(
    port: int, path: str, host: str, trust: ssl.SSLContext | None = None, **headers: str
) -> Answer:
    """GET from 127.0.0.1, as if the name had been looked up; over TLS if told what to trust."""
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=15)
    with contextlib.closing(connection):
        connection.connect()
        if trust is not None:
            connection.sock = trust.wrap_socket(connection.sock, server_hostname=host)
        connection.request("GET", path, headers={"Host": f"{host}:{port}", **headers})
        response = connection.getresponse()
        return Answer(response.status, response.headers, response.read())


def trusting(data: Path) -> ssl.SSLContext:
    """A client that has installed the authority of this data folder, and trusts nothing else."""
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
    context.load_verify_locations(data / "authority" / "authority.pem")
    return context


CHROMIUM_ARGUMENTS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)


def chromium() -> str | None:
    """The browser to test with; None leaves the choice to Playwright's own download."""
    names = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome")
    found = filter(None, map(shutil.which, names))
    return os.environ.get("SHEDTALLY_CHROMIUM") or next(found, None)


def home_that_trusts(folder: Path, *authorities: Path) -> Path:
    """A home folder in which Chromium finds these authorities: start it with HOME set to it."""
    store = folder / ".pki" / "nssdb"
    store.mkdir(parents=True)
    certutil = ["certutil", "-d", f"sql:{store}"]
    subprocess.run([*certutil, "-N", "--empty-password"], check=True)
    for number, file in enumerate(authorities):
        words = ("-A", "-t", "C,,", "-n", f"authority {number}", "-i", str(file))
        subprocess.run([*certutil, *words], check=True)
    return folder
