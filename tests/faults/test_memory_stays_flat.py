"""Photographs pass through the server in pieces: many large ones at once take no more memory."""

from __future__ import annotations

import hashlib
import re
import socket
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from pathlib import Path

from real_server import RealServer

PHOTOS = 50
PADDING = b"\0" * 12_000_000
# Eight threads that held their photographs whole would take 96 MB more, fifty never let go 600 MB.
# Gunicorn itself reads some megabytes ahead for each thread.
MARGIN_MB = 64


def peak_mb(process: int) -> float:
    """The most memory that a process ever held, since the mark was last reset."""
    status = Path(f"/proc/{process}/status").read_text()
    found = re.search(r"VmHWM:\s+(\d+) kB", status)
    assert found
    return int(found.group(1)) / 1000


def put(server: RealServer, cookie: str, start: bytes) -> int:
    """Upload a picture followed by much that no decoder looks at."""
    digest = hashlib.sha256(start + PADDING).hexdigest()
    head = (
        f"PUT /api/photos/{digest} HTTP/1.1\r\nHost: 127.0.0.1\r\nX-Shedtally: 1\r\n"
        f"Cookie: {cookie}\r\nContent-Type: image/jpeg\r\nConnection: close\r\n"
        f"Content-Length: {len(start) + len(PADDING)}\r\n\r\n"
    )
    with closing(socket.create_connection(("127.0.0.1", server.port))) as line:
        line.settimeout(120)
        line.sendall(head.encode() + start)
        line.sendall(PADDING)
        return int(line.recv(65_536).split()[1])


def test_fifty_photographs_at_once_take_no_more_memory_than_a_few(
    serve: Callable[..., RealServer], picture: Callable[..., bytes]
) -> None:
    server = serve()
    _, cookie = server.pair()
    small = picture("JPEG", (200, 150))
    for number in range(3):
        assert put(server, cookie, small + bytes([number])) == 201
    (worker,) = server.worker_ids()
    Path(f"/proc/{worker}/clear_refs").write_text("5")  # forget the peak of the start
    before = peak_mb(worker)
    with ThreadPoolExecutor(PHOTOS) as pool:
        starts = [small + b"more" + bytes([number]) for number in range(PHOTOS)]
        answers = list(pool.map(lambda start: put(server, cookie, start), starts))
    assert answers == [201] * PHOTOS
    assert peak_mb(worker) - before < MARGIN_MB
    for file in server.files():
        file.unlink()
