"""A disk that is really full, of a few megabytes: told, nothing half-written, and it recovers."""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import subprocess
import time
import uuid
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from real_server import JSON, RealServer
from shedtally.domain.sync import stamp
from shedtally.usecases.check_data import check_data

MEGABYTE = 1_000_000
DISK_MB = 6


@contextmanager
def small_disk(folder: Path) -> Iterator[Path]:
    """A file system of a few megabytes. Needs root; others get a folder of the common disk."""
    folder.mkdir()
    if os.geteuid() != 0:
        yield folder
        return
    size = f"size={DISK_MB}m"
    subprocess.run(["mount", "-t", "tmpfs", "-o", size, "none", str(folder)], check=True)
    try:
        yield folder
    finally:
        subprocess.run(["umount", "--lazy", str(folder)], check=True)


@pytest.fixture
def disk(tmp_path: Path) -> Iterator[Path]:
    with small_disk(tmp_path / "disk") as folder:
        yield folder


class Phone:
    def __init__(self, server: RealServer) -> None:
        self.server = server
        self.device, self.cookie = server.pair()
        self.seq = 0
        self.boat = str(uuid.uuid4())
        self.acknowledged: set[str] = set()
        self.photos: dict[str, bytes] = {}
        assert self.push([self.change("boat", self.boat, name="Tern")]) == 200

    def change(self, table: str, key: str, **values: object) -> dict:
        self.seq += 1
        return {
            "id": str(uuid.uuid4()), "device": self.device, "seq": self.seq,
            "stamp": stamp.make(time.time_ns() // 1_000_000), "table": table, "key": key,
            "set": values, "base": 0,
        }  # fmt: skip

    def items(self) -> list[dict]:
        return [self.change("item", str(uuid.uuid4()), note="x" * 900) for _ in range(50)]

    def push(self, batch: list[dict]) -> int:
        body = json.dumps({"schema": 1, "changes": batch}).encode()
        path = f"/api/boats/{self.boat}/changes"
        status, answer = self.server.ask("POST", path, body, Cookie=self.cookie, **JSON)
        self.told(status, answer)
        if status == 200:
            self.acknowledged |= {one["id"] for one in json.loads(answer)["results"]}
        return status

    def upload(self, body: bytes) -> int:
        digest = hashlib.sha256(body).hexdigest()
        kind = {"Content-Type": "image/jpeg"}
        path = f"/api/photos/{digest}"
        status, answer = self.server.ask("PUT", path, body, Cookie=self.cookie, **kind)
        self.told(status, answer)
        if status in (200, 201):
            self.photos[digest] = body
        return status

    def told(self, status: int, answer: bytes) -> None:
        assert status in (200, 201, 507), answer
        if status == 507:
            assert json.loads(answer)["type"].endswith("/problems/disk-full")

    def ensure_all_is_there(self) -> None:
        found: set[str] = set()
        since, more = 0, True
        while more:
            path = f"/api/boats/{self.boat}/changes?since={since}&limit=500"
            page = json.loads(self.server.ask("GET", path, Cookie=self.cookie)[1])
            found |= {one["id"] for one in page["changes"]}
            since, more = page["cursor"], page["more"]
        assert found == self.acknowledged
        for digest, body in self.photos.items():
            path = f"/api/photos/{digest}"
            assert self.server.ask("GET", path, Cookie=self.cookie) == (200, body)
        report = check_data(self.server.data, self.server.database)
        assert report.damage == ()
        # No record names these photographs here, which is remarked on; nothing else may be.
        assert [one for one in report.remarks if "no record names it" not in one] == []
        assert self.server.files("incoming") == []


def until_full(attempt: Callable[[], int]) -> int:
    """How often it went well before the disk was full."""
    for number in range(2000):
        if attempt() == 507:
            return number
    raise AssertionError("the disk never filled up")


def test_photographs_and_records_meet_a_full_disk_and_go_on_when_there_is_room(
    disk: Path, picture: Callable[..., bytes]
) -> None:
    filler = disk / "filler"
    filler.write_bytes(b"\0" * MEGABYTE)
    # Without a small disk the limit stands where a small disk would end.
    spare = 0 if disk.is_mount() else shutil.disk_usage(disk).free // MEGABYTE - DISK_MB
    server = RealServer(disk / "data", SHEDTALLY_KEEP_FREE_MB=spare)
    server.start()
    try:
        phone = Phone(server)
        sizes = iter(range(10_000))
        draw = lambda: picture("JPEG", (1200 + next(sizes), 900), quality=95)  # noqa: E731
        assert until_full(lambda: phone.upload(draw())) > 3
        phone.ensure_all_is_there()
        if disk.is_mount():
            assert until_full(lambda: phone.push(phone.items())) >= 0
            phone.ensure_all_is_there()
        refused = phone.items()
        filler.unlink()
        assert phone.push(refused) == 200
        # The part of the disk that a refused batch had needed for a moment is free again.
        if disk.is_mount():
            assert phone.upload(picture("JPEG", (300, 200))) == 201
        phone.ensure_all_is_there()
    finally:
        server.kill()


def test_photographs_leave_room_for_records(disk: Path, picture: Callable[..., bytes]) -> None:
    spare = 2 if disk.is_mount() else shutil.disk_usage(disk).free // MEGABYTE - DISK_MB + 2
    server = RealServer(disk / "data", SHEDTALLY_KEEP_FREE_MB=spare)
    server.start()
    try:
        phone = Phone(server)
        sizes = iter(range(10_000))
        draw = lambda: picture("JPEG", (1200 + next(sizes), 900), quality=95)  # noqa: E731
        assert until_full(lambda: phone.upload(draw())) > 3
        for _ in range(5):
            assert phone.push(phone.items()) == 200
        phone.ensure_all_is_there()
    finally:
        server.kill()
