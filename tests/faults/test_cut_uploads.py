"""A phone walks out of reach in the middle of an upload: nothing is ever half there."""

from __future__ import annotations

import contextlib
import errno
import hashlib
import json
import socket
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import closing
from dataclasses import dataclass

import pytest

from real_server import RealServer

TENTHS = range(10)
PATIENCE_S = 20


@dataclass
class Upload:
    """One photograph on its way to a server, byte by byte as this test wants it."""

    server: RealServer
    cookie: str
    body: bytes

    @property
    def digest(self) -> str:
        return hashlib.sha256(self.body).hexdigest()

    def head(self, *fields: str) -> bytes:
        lines = [
            f"PUT /api/photos/{self.digest} HTTP/1.1",
            "Host: 127.0.0.1",
            "X-Shedtally: 1",
            f"Cookie: {self.cookie}",
            "Content-Type: image/jpeg",
            *fields,
        ]
        return "\r\n".join([*lines, "", ""]).encode()

    def whole(self) -> bytes:
        return self.head(f"Content-Length: {len(self.body)}") + self.body

    def in_chunks(self, size: int = 8192) -> bytes:
        parts = [self.body[at : at + size] for at in range(0, len(self.body), size)]
        chunks = b"".join(b"%x\r\n%b\r\n" % (len(part), part) for part in parts)
        return self.head("Transfer-Encoding: chunked") + chunks + b"0\r\n\r\n"

    def send(self, data: bytes, *, reset: bool = False) -> bytes:
        """Send these bytes and then no more; the answer, if any came. ``reset``: tear the line."""
        with closing(socket.create_connection(("127.0.0.1", self.server.port))) as line:
            line.settimeout(PATIENCE_S)
            # A server that has refused already may close the line under our hands; the system
            # says so in different words (ENOTCONN) if that comes between the last two calls.
            with contextlib.suppress(ConnectionError):
                line.sendall(data)
                if reset:
                    line.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, b"\1\0\0\0\0\0\0\0")
                    return b""
                half_close(line)
            answer = b""
            with contextlib.suppress(ConnectionError):
                while part := line.recv(65_536):
                    answer += part
            return answer

    def ensure_absent(self) -> None:
        """No file, no row, nothing left over, and the server says that it has no such photo."""
        deadline = time.monotonic() + PATIENCE_S
        while self.server.files("incoming") and time.monotonic() < deadline:
            time.sleep(0.02)
        assert self.server.files("incoming") == []
        assert self.server.files() == []
        assert self.server.files("pictures") == []
        assert self.server.count("SELECT count(*) FROM photo") == 0
        path = f"/api/photos/{self.digest}"
        assert self.server.ask("GET", path, Cookie=self.cookie)[0] == 404

    def ensure_kept_when_sent_again(self) -> None:
        answer = self.send(self.whole())
        assert answer.startswith(b"HTTP/1.1 201"), answer[:200]
        self.ensure_kept()

    def ensure_kept(self) -> None:
        """It is there as sent; and then make room for the next test."""
        path = f"/api/photos/{self.digest}"
        assert self.server.ask("GET", path, Cookie=self.cookie) == (200, self.body)
        self.server.execute("DELETE FROM photo")
        for file in [*self.server.files(), *self.server.files("pictures")]:
            file.unlink()


def half_close(line: socket.socket) -> None:
    """Say that no more comes. Raises: ConnectionError if the other side has closed."""
    try:
        line.shutdown(socket.SHUT_WR)
    except OSError as error:
        if error.errno != errno.ENOTCONN:
            raise
        raise ConnectionAbortedError from error


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[RealServer]:
    made = RealServer(tmp_path_factory.mktemp("shed"))
    made.start()
    yield made
    made.kill()


@pytest.fixture(scope="module")
def cookie(server: RealServer) -> str:
    return server.pair()[1]


@pytest.fixture
def upload(server: RealServer, cookie: str, picture: Callable[..., bytes]) -> Upload:
    return Upload(server, cookie, picture("JPEG", (1600, 1200), quality=98))


def refused(answer: bytes) -> bool:
    """A 4xx, or no answer because the line was closed."""
    return answer == b"" or answer.startswith(b"HTTP/1.1 4")


@pytest.mark.parametrize("reset", [False, True], ids=["ended", "torn"])
def test_upload_cut_at_every_tenth_is_never_visible_and_can_be_sent_again(
    upload: Upload, reset: bool
) -> None:
    sent = upload.head(f"Content-Length: {len(upload.body)}")
    for tenth in TENTHS:
        part = upload.body[: len(upload.body) * tenth // 10]
        assert refused(upload.send(sent + part, reset=reset)), tenth
        upload.ensure_absent()
    assert refused(upload.send(sent + upload.body[:-1], reset=reset))
    upload.ensure_absent()
    upload.ensure_kept_when_sent_again()


@pytest.mark.parametrize("reset", [False, True], ids=["ended", "torn"])
def test_upload_in_chunks_cut_at_every_tenth_is_never_visible(upload: Upload, reset: bool) -> None:
    """Cut between and inside chunks; without a length even a whole one is not taken."""
    whole = upload.in_chunks()
    for tenth in [*TENTHS, 10]:
        assert refused(upload.send(whole[: len(whole) * tenth // 10], reset=reset)), tenth
        upload.ensure_absent()
    upload.ensure_kept_when_sent_again()


def test_length_and_chunks_together_are_refused(upload: Upload) -> None:
    """Servers and proxies that read them differently can be played off against each other."""
    both = upload.head(f"Content-Length: {len(upload.body)}", "Transfer-Encoding: chunked")
    assert refused(upload.send(both + upload.in_chunks().partition(b"\r\n\r\n")[2]))
    upload.ensure_absent()


def test_bytes_after_the_announced_length_are_no_part_of_the_photograph(upload: Upload) -> None:
    """Padding behind the body can only be the next request; it must not spoil this one."""
    answer = upload.send(upload.whole() + b"\0" * 1000)
    assert answer.startswith(b"HTTP/1.1 201")
    upload.ensure_kept()


@pytest.mark.parametrize("padding", [b"\0", b"\0" * 5000])
def test_padded_photograph_is_refused_and_the_right_one_taken(
    upload: Upload, padding: bytes
) -> None:
    """As from a phone that read a file while it still grew: length and bytes agree, digest not."""
    body = upload.body + padding
    answer = upload.send(upload.head(f"Content-Length: {len(body)}") + body)
    assert answer.startswith(b"HTTP/1.1 4")
    upload.ensure_absent()
    upload.ensure_kept_when_sent_again()


def test_pushed_batch_cut_at_every_tenth_is_not_taken_by_half(
    server: RealServer, cookie: str
) -> None:
    boat = "019f0000-0000-7000-8000-00000000b0a7"
    change = {
        "id": "019f0000-0000-7000-8000-000000000001",
        "device": "019f0000-0000-7000-8000-000000000002",
        "seq": 1, "stamp": "019f3a1b2c3d0000", "table": "boat", "key": boat,
        "set": {"name": "Tern"}, "base": 0,
    }  # fmt: skip
    body = json.dumps({"schema": 1, "changes": [change]}).encode()
    head = (
        f"POST /api/boats/{boat}/changes HTTP/1.1\r\nHost: 127.0.0.1\r\nX-Shedtally: 1\r\n"
        f"Cookie: {cookie}\r\nContent-Type: application/json\r\n"
        f"Content-Length: {len(body)}\r\n\r\n"
    ).encode()
    line = Upload(server, cookie, b"")
    for tenth in TENTHS:
        assert refused(line.send(head + body[: len(body) * tenth // 10])), tenth
    assert server.count('SELECT count(*) FROM "change"') == 0
    assert line.send(head + body).startswith(b"HTTP/1.1 200")
    assert server.count('SELECT count(*) FROM "change"') == 1


def test_phones_that_send_a_byte_a_second_keep_nobody_waiting(
    upload: Upload, server: RealServer
) -> None:
    """As many slow uploads as there are threads but two; others are answered meanwhile."""
    stop = threading.Event()

    def drip() -> None:
        with closing(socket.create_connection(("127.0.0.1", server.port))) as line:
            line.sendall(upload.head(f"Content-Length: {len(upload.body)}"))
            at = 0
            while not stop.wait(0.2):
                line.sendall(upload.body[at : at + 1])
                at += 1

    slow = [threading.Thread(target=drip) for _ in range(6)]
    for thread in slow:
        thread.start()
    time.sleep(0.5)
    began = time.monotonic()
    for _ in range(5):
        assert server.ask("GET", "/api/session", Cookie=upload.cookie)[0] == 200
    took = time.monotonic() - began
    stop.set()
    for thread in slow:
        thread.join()
    assert took < 5
    upload.ensure_absent()
    upload.ensure_kept_when_sent_again()
