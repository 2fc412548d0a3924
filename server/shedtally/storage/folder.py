"""The names inside a data folder, for those who handle it as files: backup, check, restore."""

from __future__ import annotations

import re
import secrets
import sqlite3
import uuid
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

from shedtally.domain.records import tag

DATABASE = "shedtally.sqlite3"
PHOTOS = "photos"
DIGEST = re.compile(r"[0-9a-f]{64}")


def photo_files(photos: Path) -> Iterator[Path]:
    """Every whole photograph, in order of digest; half-written ones have other names."""
    return (file for file in sorted(photos.rglob("*")) if DIGEST.fullmatch(file.name))


def start_epoch(database: Path) -> None:
    """Mark a database as brought back: phones send again what it lacks, and no tag comes twice."""
    with closing(sqlite3.connect(database)) as connection, connection:
        connection.execute("UPDATE server SET epoch = ?", (str(uuid.uuid4()),))
        for (number,) in connection.execute("SELECT next_tag FROM server").fetchall():
            ahead = tag.first_after_restore(number, secrets.randbelow)
            connection.execute("UPDATE server SET next_tag = ?", (ahead,))
