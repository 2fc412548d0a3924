"""Where the records of a data folder are: in the folder itself, or in PostgreSQL.

The choice is remembered in the folder, so that pair, backup and check look where serve does.
"""

from __future__ import annotations

import json
import os
from pathlib import Path

from sqlalchemy import make_url

from shedtally.domain.stopped import Stopped
from shedtally.storage.database import postgres_url
from shedtally.storage.folder import DATABASE

FILE = "database.json"
VARIABLE = "SHEDTALLY_DATABASE_URL"


class OneWorkerOnly(Stopped):
    """Several processes were asked for on SQLite."""

    def __init__(self) -> None:
        super().__init__(
            "Several workers need PostgreSQL: name it with --database, or leave --workers out. "
            "SQLite has one writer, so more of them would only wait. Nothing is changed."
        )


def database_of(data: Path) -> str:
    """The address of the folder's PostgreSQL database; empty for SQLite in the folder."""
    named = os.environ.get(VARIABLE, "")
    return named or _remembered(data)


def choose_database(data: Path, asked: str | None) -> tuple[str, ...]:
    """Remember the database that was asked for; warnings, if it is another one than before.

    Raises: DatabaseUnusable, before anything is remembered.
    """
    if not asked:
        return ()
    postgres_url(asked)
    before = _remembered(data)
    remember(data, asked)
    if before == asked or not (before or (data / DATABASE).exists()):
        return ()
    earlier = _shown(before) if before else data / DATABASE
    warning = (
        f"The records are now kept in {_shown(asked)}. Those kept before, in {earlier}, stay "
        "there and are not shown. To bring them over, make a backup of the old place and restore "
        "it into the new one."
    )
    return (warning,)


def remember(data: Path, url: str) -> None:
    """Note the database in the folder, readable by its owner alone: it may hold a password."""
    data.mkdir(parents=True, exist_ok=True)
    descriptor = os.open(data / FILE, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
    with os.fdopen(descriptor, "w", encoding="utf-8") as file:
        json.dump({"url": url}, file)


def _remembered(data: Path) -> str:
    file = data / FILE
    if not file.exists():
        return ""
    return str(json.loads(file.read_text(encoding="utf-8"))["url"])


def _shown(url: str) -> str:
    return make_url(url).render_as_string(hide_password=True)
