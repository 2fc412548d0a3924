"""Read everything in a data folder and say what is not as it should be."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from shedtally.storage.folder import DATABASE, PHOTOS, photo_files
from shedtally.usecases.back_up import NothingThere, digest_of


@dataclass(frozen=True)
class Report:
    """What was read, and what is wrong with it; `damage` is empty when all is well."""

    boats: int
    changes: int
    photos: int
    damage: tuple[str, ...]
    remarks: tuple[str, ...]


def check_data(data: Path) -> Report:
    """Check the database's own structure and every photograph against its digest.

    Reads only; the server may run meanwhile. Raises: NothingThere.
    """
    if not (data / DATABASE).exists():
        raise NothingThere(data)
    found = {file.name: file for file in photo_files(data / PHOTOS)}
    damage = [
        f"photograph {name}: its bytes are not those that were sent"
        for name, file in found.items()
        if digest_of(file) != name
    ]
    try:
        boats, changes, kept, problems = _read_database(data / DATABASE)
    except sqlite3.DatabaseError as error:
        return Report(0, 0, len(found), (*damage, f"database: {error}"), ())
    damage += [f"database: {problem}" for problem in problems]
    damage += [f"photograph {name}: the file is gone" for name in sorted(kept - set(found))]
    strays = len(set(found) - kept)
    remarks = (f"Photograph files that belong to no record, left alone: {strays}",)
    return Report(boats, changes, len(kept), tuple(damage), remarks if strays else ())


def _read_database(file: Path) -> tuple[int, int, set[str], list[str]]:
    """Boats, changes, digests of photographs on record, and faults of structure."""
    with closing(sqlite3.connect(f"{file.as_uri()}?mode=ro", uri=True)) as database:
        problems = [str(row[0]) for row in database.execute("PRAGMA integrity_check")]
        boats = _count(database, "SELECT count(*) FROM boat_counter")
        changes = _count(database, 'SELECT count(*) FROM "change"')
        kept = {str(row[0]) for row in database.execute("SELECT sha256 FROM photo")}
    return boats, changes, kept, [] if problems == ["ok"] else problems


def _count(database: sqlite3.Connection, query: str) -> int:
    return int(database.execute(query).fetchone()[0])
