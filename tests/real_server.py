"""A real server process under gunicorn on a data folder of its own, made to be killed."""

from __future__ import annotations

import hashlib
import http.client
import json
import os
import signal
import socket
import subprocess
import sys
import time
import uuid
from collections.abc import Iterable
from contextlib import closing, suppress
from pathlib import Path

from sqlalchemy import create_engine, insert, text

from processes import STARTS_WITHIN_S, free_port
from shedtally.domain.sync import pairing
from shedtally.storage import tables
from shedtally.storage.database import postgres_url

WRITE = {"X-Shedtally": "1"}
JSON = {"Content-Type": "application/json"}


class RealServer:
    """The server, in a process group of its own. ``database`` is empty for SQLite."""

    def __init__(
        self, data: Path, database: str = "", workers: int = 1, **settings: str | int
    ) -> None:
        self.data, self.database, self.workers = data, database, workers
        self.settings = {"SHEDTALLY_KEEP_FREE_MB": "0"} | {
            name: str(value) for name, value in settings.items()
        }
        self.port = free_port()

    @property
    def address(self) -> str:
        """Plain HTTP, on this machine alone: browsers count that as safe."""
        return f"http://127.0.0.1:{self.port}"

    def start(self, before: Iterable[str] = ()) -> None:
        """Start it and wait for its answer. Args: before: a command to start it through."""
        words = [
            *before, sys.executable, "-m", "gunicorn", "--bind", f"127.0.0.1:{self.port}",
            "--worker-class", "gthread", "--threads", "8", "--workers", str(self.workers),
            "--log-level", "critical", "--no-control-socket", "--timeout", "120",
            "shedtally.app:from_environment()",
        ]  # fmt: skip
        own = {"SHEDTALLY_DATA": str(self.data), "SHEDTALLY_DATABASE_URL": self.database}
        environment = {**os.environ, **own, **self.settings}
        self.process = subprocess.Popen(words, env=environment, start_new_session=True)
        self.wait_until_ready()

    def wait_until_ready(self) -> None:
        deadline = time.monotonic() + STARTS_WITHIN_S
        while time.monotonic() < deadline:
            assert self.process.poll() is None, "the server ended"
            with suppress(OSError, http.client.HTTPException):
                if self.ask("GET", "/api/ping")[0] == 200:
                    return
            time.sleep(0.02)
        raise AssertionError("the server did not start")

    def kill(self) -> None:
        """End all its processes at once, as a power cut would but for the disk."""
        with suppress(ProcessLookupError):
            os.killpg(self.process.pid, signal.SIGKILL)
        self.process.wait()
        while self._listens():
            time.sleep(0.01)

    def kill_arbiter(self) -> None:
        """End the first process; its workers find out by themselves."""
        self.process.kill()
        self.process.wait()

    def worker_ids(self) -> list[int]:
        children = Path(f"/proc/{self.process.pid}/task/{self.process.pid}/children")
        return [int(word) for word in children.read_text().split()]

    def _listens(self) -> bool:
        with closing(socket.socket()) as probe:
            return probe.connect_ex(("127.0.0.1", self.port)) == 0

    def ask(self, method: str, path: str, body: bytes = b"", **headers: str) -> tuple[int, bytes]:
        with closing(http.client.HTTPConnection("127.0.0.1", self.port, timeout=60)) as connection:
            connection.request(method, path, body or None, {**WRITE, **headers})
            reply = connection.getresponse()
            return reply.status, reply.read()

    def new_code(self) -> str:
        """A pairing code, put in as the command line does it, without starting that."""
        code = "".join(pairing.ALPHABET[byte % len(pairing.ALPHABET)] for byte in os.urandom(8))
        row = {
            "code_sha256": hashlib.sha256(code.encode()).hexdigest(),
            "expires_ms": time.time_ns() // 1_000_000 + pairing.LIVES_MS,
            "tries_left": pairing.MAX_TRIES,
        }
        engine = create_engine(self.address_of_database())
        with engine.begin() as connection:
            connection.execute(insert(tables.pairing_code), row)
        engine.dispose()
        return code

    def address_of_database(self) -> str:
        if self.database:
            return postgres_url(self.database)
        return f"sqlite:///{self.data / 'shedtally.sqlite3'}"

    def count(self, query: str) -> int:
        """The one number that a query answers."""
        engine = create_engine(self.address_of_database())
        with engine.connect() as connection:
            found = connection.execute(text(query)).scalar_one()
        engine.dispose()
        return int(found)

    def execute(self, statement: str) -> None:
        engine = create_engine(self.address_of_database())
        with engine.begin() as connection:
            connection.execute(text(statement))
        engine.dispose()

    def pair(self) -> tuple[str, str]:
        """A new device and its cookie."""
        device = str(uuid.uuid4())
        body = json.dumps({"code": self.new_code(), "device": device, "name": "phone"}).encode()
        with closing(http.client.HTTPConnection("127.0.0.1", self.port, timeout=60)) as connection:
            connection.request("POST", "/api/pair", body, {**WRITE, **JSON})
            reply = connection.getresponse()
            assert reply.status == 200, reply.read()
            return device, reply.getheader("Set-Cookie", "").split(";")[0]

    def photo(self, sha256: str) -> bytes:
        """A photograph as it lies on the disk. Fails if it is not there, or twice."""
        (file,) = (path for path in self.files() if path.name == sha256)
        return file.read_bytes()

    def files(self, folder: str = "photos") -> list[Path]:
        return [path for path in (self.data / folder).rglob("*") if path.is_file()]
