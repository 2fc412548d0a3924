"""Make a data folder from a backup, after proving that the backup is whole."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

from shedtally.domain.stopped import Stopped
from shedtally.storage.copying import copy_rows, opened, opened_file
from shedtally.storage.database import DatabaseUnusable
from shedtally.storage.folder import DATABASE, PHOTOS, photo_files, start_epoch
from shedtally.storage.migrate import bring_up_to_date
from shedtally.usecases.back_up import MANIFEST, digest_of


class BackupDamaged(Stopped):
    """The backup is not what its manifest says."""

    def __init__(self, folder: Path, what: str) -> None:
        super().__init__(
            f"The backup in {folder} is damaged: {what}. Nothing was written. Try an older backup; "
            "phones still send what they hold once a server is there."
        )


class FolderInUse(Stopped):
    """The target holds something already."""

    def __init__(self, data: Path) -> None:
        super().__init__(
            f"{data} is not empty, and nothing in it was touched. Name an empty folder with "
            "--data, or move the old one away first and keep it until this one is proved good."
        )


def bring_back(backup: Path, data: Path, database_url: str = "") -> int:
    """Restore a backup into an empty folder; how many photographs came back.

    The restored server starts a new epoch, so that phones send again what the backup lacks.

    Args: database_url: an empty PostgreSQL database for the records; else they stay in SQLite.
    Raises: FolderInUse, BackupDamaged, DatabaseUnusable, all before anything is written.
    """
    if data.exists() and any(data.iterdir()):
        raise FolderInUse(data)
    photos = _proved(backup)
    if database_url:
        opened(database_url)
    part = data.with_name(data.name + ".part")
    shutil.rmtree(part, ignore_errors=True)
    shutil.copytree(backup, part, ignore=shutil.ignore_patterns(MANIFEST))
    start_epoch(part / DATABASE)
    if database_url:
        _into_postgres(part / DATABASE, database_url)
    if data.exists():
        data.rmdir()
    part.rename(data)
    return photos


def _into_postgres(file: Path, database_url: str) -> None:
    target, source = opened(database_url), opened_file(str(file))
    with source.begin() as connection:
        bring_up_to_date(connection)  # a backup may be of an older version
    try:
        copy_rows(source, target)
    except DatabaseUnusable:
        shutil.rmtree(file.parent, ignore_errors=True)
        raise
    file.unlink()


def _proved(backup: Path) -> int:
    file = backup / MANIFEST
    if not file.exists():
        raise BackupDamaged(backup, f"it has no {MANIFEST}, so it was never finished")
    manifest = json.loads(file.read_text(encoding="utf-8"))
    if digest_of(backup / DATABASE) != manifest["database_sha256"]:
        raise BackupDamaged(backup, f"{DATABASE} has changed since")
    found = {photo.name: photo for photo in photo_files(backup / PHOTOS)}
    missing = set(manifest["photos"]) - set(found)
    if missing:
        raise BackupDamaged(backup, f"{len(missing)} photographs are missing")
    wrong = [name for name, photo in found.items() if digest_of(photo) != name]
    if wrong:
        raise BackupDamaged(backup, f"photograph {wrong[0]} has changed since")
    return len(found)
