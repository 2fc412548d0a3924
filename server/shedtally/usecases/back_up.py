"""Copy a server's data folder while it runs, so that the copy fits together and can be proved.

The database is copied first, then the photographs: a record only ever names a photograph that
was kept before it, so a copy in this order never lacks one. Nothing is visible under the final
name before all of it is on the disk.
"""

from __future__ import annotations

import datetime as dt
import json
import os
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass
from hashlib import file_digest
from pathlib import Path

from shedtally.domain.stopped import Stopped
from shedtally.storage.copying import copy_rows, opened, opened_file
from shedtally.storage.folder import DATABASE, PHOTOS, photo_files

MANIFEST = "manifest.json"
# What makes phones find the restored server again.
SMALL_FILES = ("address.json",)
# Pictures are made from photographs, but only when one arrives: a restored server needs them.
SMALL_FOLDERS = ("authority", "pictures", "local-rules")


class NothingThere(Stopped):
    """The folder holds no Shedtally data."""

    def __init__(self, data: Path) -> None:
        super().__init__(
            f"There is no {DATABASE} in {data}, so there is nothing to do. Name the data folder "
            "with --data, and with --database the one that it is served with, if that is elsewhere."
        )


class DamagedPhoto(Stopped):
    """A photograph's bytes are not those that were sent."""

    def __init__(self, file: Path) -> None:
        super().__init__(
            f"{file} does not have the bytes it was kept with. Nothing is deleted. Other backups "
            "and the phones that took it may still hold it: run shedtally check for the full list."
        )


@dataclass(frozen=True)
class Backup:
    """Where the copy is and what is in it."""

    folder: Path
    photos: int
    bytes: int


def ensure_there(data: Path, database_url: str) -> None:
    """Find a server's data. Raises: NothingThere."""
    database = data / (PHOTOS if database_url else DATABASE)
    if not database.exists():
        raise NothingThere(data)


def back_up(data: Path, into: Path, now: dt.datetime, database_url: str = "") -> Backup:
    """Copy the data folder into a new folder, named by the time, inside `into`.

    Args: now: aware, UTC. database_url: of PostgreSQL; its rows come as a SQLite file too.
    Raises: NothingThere; DatabaseUnusable; DamagedPhoto, and then no backup is left behind;
        OSError.
    """
    ensure_there(data, database_url)
    final = into / now.strftime("%Y-%m-%dT%H%M%SZ")
    part = final.with_name(final.name + ".part")
    part.mkdir(parents=True)
    try:
        if database_url:
            copy_rows(opened(database_url), opened_file(str(part / DATABASE)))
        else:
            copy_database(data / DATABASE, part / DATABASE)
        digests = dict(_copy_photos(data, part))
        _copy_small(data, part)
        manifest = {
            "made_at": now.isoformat(),
            "database_sha256": digest_of(part / DATABASE),
            "photos": digests,
        }
        text = json.dumps(manifest, indent=1, sort_keys=True)
        (part / MANIFEST).write_text(text + "\n", encoding="utf-8")
        _to_disk(part)
    except BaseException:
        shutil.rmtree(part, ignore_errors=True)
        raise
    part.rename(final)
    total = (final / DATABASE).stat().st_size + sum(digests.values())
    return Backup(final, len(digests), total)


def copy_database(source: Path, target: Path) -> None:
    """One consistent state of a SQLite database, also while others write to it."""
    with (
        closing(sqlite3.connect(source, timeout=30)) as live,
        closing(sqlite3.connect(target)) as copy,
    ):
        live.backup(copy)
        copy.execute("PRAGMA journal_mode=DELETE")  # one file, no side files to forget


def digest_of(file: Path) -> str:
    """SHA-256 of a file's bytes, in hexadecimal."""
    with file.open("rb") as stream:
        return file_digest(stream, "sha256").hexdigest()


def _copy_photos(data: Path, part: Path) -> Iterator[tuple[str, int]]:
    """Copy each photograph, prove the copy by its name, yield digest and bytes."""
    for file in photo_files(data / PHOTOS):
        target = part / PHOTOS / file.relative_to(data / PHOTOS)
        target.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(file, target)
        if digest_of(target) != file.name:
            raise DamagedPhoto(file)
        yield file.name, target.stat().st_size


def _copy_small(data: Path, part: Path) -> None:
    for name in SMALL_FILES:
        if (data / name).exists():
            shutil.copy2(data / name, part / name)
    for name in SMALL_FOLDERS:
        if (data / name).exists():
            shutil.copytree(data / name, part / name)  # modes too: 0600 on the keys


def _to_disk(folder: Path) -> None:
    """A stick may be pulled out a second later."""
    for path in [*folder.rglob("*"), folder]:
        descriptor = os.open(path, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)
