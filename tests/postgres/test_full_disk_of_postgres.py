"""The disk of the database itself is full: told as such, and the same batch lands later."""

from __future__ import annotations

import os
import pwd
import subprocess
import uuid
from collections.abc import Iterator
from pathlib import Path

import psycopg.errors
import pytest
from sqlalchemy import event

from conftest import close
from postgres_server import ACCOUNT, Postgres
from shedtally.settings import Settings
from shedtally.storage.tables import db

DISK_MB = 12  # an empty database takes eight
FILLER_MB = 2


@pytest.fixture
def disk(postgres: Postgres) -> Iterator[Path]:
    """A small file system that the database server may write to. Needs root."""
    folder = postgres.folder / "disk"
    folder.mkdir(exist_ok=True)
    if os.geteuid() != 0:
        yield folder
        return
    owner = pwd.getpwnam(ACCOUNT)
    options = f"size={DISK_MB}m,uid={owner.pw_uid},gid={owner.pw_gid},mode=700"
    subprocess.run(["mount", "-t", "tmpfs", "-o", options, "none", str(folder)], check=True)
    yield folder
    subprocess.run(["umount", "--lazy", str(folder)], check=True)


@pytest.fixture
def settings(tmp_path: Path, postgres: Postgres, disk: Path) -> Iterator[Settings]:
    postgres.order(f"CREATE TABLESPACE small LOCATION '{disk}'")
    url = postgres.new_database(more="TABLESPACE small")
    yield Settings(tmp_path / "data", database_url=url, keep_free_bytes=0)
    postgres.drop(url)
    postgres.order("DROP TABLESPACE small")


def test_full_disk_of_the_database_is_told_and_the_batch_lands_when_there_is_room(
    app, phone, boat: str, disk: Path
) -> None:
    filler = disk / "filler"
    filler.write_bytes(b"x" * FILLER_MB * 1_000_000)
    if not disk.is_mount():
        _pretend_after(app, 5)
    accepted = 1
    for _ in range(300):
        batch = [phone.change("item", str(uuid.uuid4()), note="x" * 900) for _ in range(50)]
        reply = phone.push(boat, batch)
        if reply.status_code != 200:
            break
        accepted += len(batch)
    assert reply.status_code == 507
    assert reply.json["type"].endswith("/problems/disk-full")
    assert len(phone.pull_all(boat)) == accepted > 1
    filler.unlink()
    again = phone.push(boat, batch).json
    assert {result["outcome"] for result in again["results"]} == {"accepted"}
    assert [one["cursor"] for one in phone.pull_all(boat)] == list(range(1, accepted + 51))
    close(app)


def _pretend_after(app, batches: int) -> None:
    """Where no small disk can be made: let the driver say once what the database would say."""
    left = [batches]

    def refuse(_connection, _cursor, statement: str, *_: object) -> None:
        if statement.startswith("INSERT INTO change"):
            left[0] -= 1
            if left[0] == 0:
                raise psycopg.errors.DiskFull("could not extend file")

    with app.app_context():
        event.listen(db.engine, "before_cursor_execute", refuse)
