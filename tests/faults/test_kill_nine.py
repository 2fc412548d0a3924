"""The server is killed in mid-work: what it acknowledged is there, and nothing is there by half."""

from __future__ import annotations

import hashlib
import http.client
import json
import os
import signal
import socket
import sqlite3
import subprocess
import sys
import threading
import time
import uuid
from contextlib import closing
from pathlib import Path

import pytest

from shedtally.domain import stamp

ROUNDS = 3


class Server:
    """A real server process on one data folder, in a process group of its own."""

    def __init__(self, data: Path) -> None:
        self.data = data
        with closing(socket.socket()) as probe:
            probe.bind(("127.0.0.1", 0))
            self.port = probe.getsockname()[1]

    def start(self) -> None:
        command = [
            sys.executable, "-m", "gunicorn", "--bind", f"127.0.0.1:{self.port}",
            "--worker-class", "gthread", "--threads", "4", "--log-level", "error",
            "--no-control-socket", "shedtally.app:from_environment()",
        ]  # fmt: skip
        environment = {
            **os.environ,
            "SHEDTALLY_DATA": str(self.data),
            "SHEDTALLY_KEEP_FREE_MB": "0",
        }
        self.process = subprocess.Popen(command, env=environment, start_new_session=True)
        for _ in range(600):
            try:
                if self.ask("GET", "/api/ping")[0] == 200:
                    return
            except OSError:
                time.sleep(0.05)
        pytest.fail("the server did not start")

    def kill(self) -> None:
        os.killpg(self.process.pid, signal.SIGKILL)
        self.process.wait()

    def ask(self, method: str, path: str, body: bytes = b"", **headers: str) -> tuple[int, bytes]:
        with closing(http.client.HTTPConnection("127.0.0.1", self.port, timeout=20)) as connection:
            connection.request(method, path, body, {"X-Shedtally": "1", **headers})
            reply = connection.getresponse()
            return reply.status, reply.read()

    def pair(self) -> tuple[str, str]:
        """A device and its cookie; the code is put in as the command line does it."""
        code, device = "BCDFGHJK", str(uuid.uuid4())
        later = (time.time_ns() // 1_000_000) + 300_000
        with closing(sqlite3.connect(self.data / "shedtally.sqlite3")) as database, database:
            row = (hashlib.sha256(code.encode()).hexdigest(), later, 5)
            database.execute("INSERT INTO pairing_code VALUES (?, ?, ?)", row)
        body = json.dumps({"code": code, "device": device, "name": "n"}).encode()
        with closing(http.client.HTTPConnection("127.0.0.1", self.port)) as connection:
            headers = {"X-Shedtally": "1", "Content-Type": "application/json"}
            connection.request("POST", "/api/pair", body, headers)
            reply = connection.getresponse()
            reply.read()
            assert reply.status == 200
            return device, reply.getheader("Set-Cookie", "").split(";")[0]


@pytest.fixture
def server(tmp_path: Path):
    made = Server(tmp_path / "data")
    made.start()
    yield made
    made.kill()


class Sender:
    """A phone that pushes and uploads until the line goes dead, and notes what was acknowledged."""

    def __init__(self, server: Server, boat: str, picture) -> None:
        self.server, self.boat, self.picture = server, boat, picture
        self.device, self.cookie = server.pair()
        self.seq = 0
        self.acknowledged: set[str] = set()
        self.unsure: list[dict] = []
        self.photos: dict[str, bytes] = {}

    def change(self, table: str, key: str, **values: object) -> dict:
        self.seq += 1
        return {
            "id": str(uuid.uuid4()), "device": self.device, "seq": self.seq,
            "stamp": stamp.make(time.time_ns() // 1_000_000), "table": table, "key": key,
            "set": values, "base": 0,
        }  # fmt: skip

    def push(self, batch: list[dict]) -> None:
        self.unsure = batch
        body = json.dumps({"schema": 1, "changes": batch}).encode()
        path = f"/api/boats/{self.boat}/changes"
        kind = {"Content-Type": "application/json"}
        status, answer = self.server.ask("POST", path, body, Cookie=self.cookie, **kind)
        assert status == 200, answer
        results = json.loads(answer)["results"]
        assert {one["outcome"] for one in results} <= {"accepted", "repeated"}
        self.acknowledged |= {one["id"] for one in results}
        self.unsure = []

    def upload(self, number: int) -> None:
        body = self.picture("JPEG", (640 + number, 480))
        digest = hashlib.sha256(body).hexdigest()
        kind = {"Content-Type": "image/jpeg"}
        path = f"/api/photos/{digest}"
        status, _ = self.server.ask("PUT", path, body, Cookie=self.cookie, **kind)
        assert status in (200, 201)
        self.photos[digest] = body

    def work(self) -> None:
        number = 0
        try:
            while True:
                number += 1
                self.push([self.change("item", str(uuid.uuid4()), name=f"{n}") for n in range(7)])
                self.upload(number)
        except (OSError, http.client.HTTPException):
            return

    def everything(self) -> list[dict]:
        found: list[dict] = []
        since = 0
        while True:
            path = f"/api/boats/{self.boat}/changes?since={since}&limit=1000"
            page = json.loads(self.server.ask("GET", path, Cookie=self.cookie)[1])
            found += page["changes"]
            since = page["cursor"]
            if not page["more"]:
                return found


def test_all_that_was_acknowledged_survives_being_killed(server: Server, picture) -> None:
    boat = str(uuid.uuid4())
    phone = Sender(server, boat, picture)
    phone.push([phone.change("boat", boat, name="Tern")])
    for round_number in range(ROUNDS):
        thread = threading.Thread(target=phone.work)
        thread.start()
        time.sleep(0.7 + 0.13 * round_number)
        server.kill()
        thread.join()
        server.start()
        if phone.unsure:
            phone.push(phone.unsure)  # the answer was lost: sent again, it does no harm
        found = phone.everything()
        assert [one["cursor"] for one in found] == list(range(1, len(found) + 1))
        assert {one["id"] for one in found} >= phone.acknowledged
        assert len({one["id"] for one in found}) == len(found)
        for digest, body in phone.photos.items():
            status, kept = server.ask("GET", f"/api/photos/{digest}", Cookie=phone.cookie)
            assert (status, kept) == (200, body)
    assert len(phone.acknowledged) > ROUNDS
    assert phone.photos
    for path in (server.data / "photos").rglob("*"):
        if path.is_file():
            assert hashlib.sha256(path.read_bytes()).hexdigest() == path.name
    with closing(sqlite3.connect(server.data / "shedtally.sqlite3")) as database:
        assert database.execute("PRAGMA integrity_check").fetchone() == ("ok",)


def test_upload_that_is_cut_off_on_the_wire_is_never_visible(server: Server, picture) -> None:
    """As a phone that walks out of reach: half a body, then the connection ends."""
    phone = Sender(server, str(uuid.uuid4()), picture)
    body = picture("JPEG", (800, 600))
    digest = hashlib.sha256(body).hexdigest()
    head = (
        f"PUT /api/photos/{digest} HTTP/1.1\r\nHost: 127.0.0.1\r\nX-Shedtally: 1\r\n"
        f"Cookie: {phone.cookie}\r\nContent-Type: image/jpeg\r\nContent-Length: {len(body)}\r\n\r\n"
    )
    with closing(socket.create_connection(("127.0.0.1", server.port))) as line:
        line.sendall(head.encode() + body[: len(body) // 2])
        line.shutdown(socket.SHUT_WR)
        line.settimeout(10)
        answer = line.recv(65_536)
    assert answer.startswith(b"HTTP/1.1 422") or answer == b""
    assert server.ask("GET", f"/api/photos/{digest}", Cookie=phone.cookie)[0] == 404
    assert not [path for path in (server.data / "photos").rglob("*") if path.is_file()]
    kind = {"Content-Type": "image/jpeg"}
    path = f"/api/photos/{digest}"
    assert server.ask("PUT", path, body, Cookie=phone.cookie, **kind)[0] == 201
