"""Read everything of a server and say what is not as it should be."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from shedtally.storage.folder import PHOTOS, photo_files
from shedtally.storage.inspection import Found, Unreadable, look
from shedtally.usecases.back_up import digest_of, ensure_there


@dataclass(frozen=True)
class Report:
    """What was read, and what is wrong with it; `damage` is empty when all is well."""

    boats: int
    changes: int
    photos: int
    damage: tuple[str, ...]
    remarks: tuple[str, ...]


def check_data(data: Path, database_url: str = "") -> Report:
    """Check the database, and every photograph against its digest.

    Reads only; the server may run meanwhile.

    Args: database_url: of PostgreSQL; empty for SQLite in the folder.
    Raises: NothingThere; DatabaseUnusable.
    """
    ensure_there(data, database_url)
    # The database first: a photograph is on the disk before the database knows of it.
    try:
        known = look(data, database_url)
    except Unreadable as error:
        known = Found(0, 0, frozenset(), (str(error),))
    found = {file.name: file for file in photo_files(data / PHOTOS)}
    damage = [
        f"photograph {name}: its bytes are not those that were sent"
        for name, file in found.items()
        if digest_of(file) != name
    ]
    damage += [f"database: {problem}" for problem in known.problems]
    if known.problems and not known.changes:
        return Report(0, 0, len(found), tuple(damage), ())
    gone = sorted(known.photos - set(found))
    damage += [f"photograph {name}: the file is gone" for name in gone]
    strays = len(set(found) - known.photos)
    remarks = [f"photograph {name}: no record names it; left alone" for name in known.unnamed]
    if strays:
        remarks.append(f"Photograph files that belong to no record, left alone: {strays}")
    damaged, remarked = tuple(damage), tuple(sorted(remarks))
    return Report(known.boats, known.changes, len(known.photos), damaged, remarked)
