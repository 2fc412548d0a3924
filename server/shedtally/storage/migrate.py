"""Bringing the database to this version's tables, at every start."""

from __future__ import annotations

import fcntl
from pathlib import Path

from alembic import command
from alembic.config import Config
from sqlalchemy import Connection, Engine

MIGRATIONS = Path(__file__).parent / "migrations"


def migrate(engine: Engine, lock_file: Path) -> None:
    """Run the migrations that are missing, one process at a time.

    Raises: alembic.util.CommandError if the database is from a newer version than this one.
    """
    with lock_file.open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        with engine.begin() as connection:
            command.upgrade(configuration(connection), "head")


def configuration(connection: Connection) -> Config:
    """Alembic's configuration for ``connection``; there is no alembic.ini."""
    config = Config()
    config.set_main_option("script_location", str(MIGRATIONS))
    config.attributes["connection"] = connection
    return config
