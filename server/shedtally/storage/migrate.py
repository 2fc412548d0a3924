"""Bringing the database to this version's tables, at every start."""

from __future__ import annotations

import fcntl
from pathlib import Path

from alembic import command
from alembic.config import Config
from sqlalchemy import Connection, Engine

from shedtally.storage.database import Turn, one_at_a_time

MIGRATIONS = Path(__file__).parent / "migrations"


def migrate(engine: Engine, lock_file: Path) -> None:
    """Run the migrations that are missing, one process at a time.

    Raises: alembic.util.CommandError if the database is from a newer version than this one.
    """
    with lock_file.open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        with engine.begin() as connection:
            bring_up_to_date(connection)


def bring_up_to_date(connection: Connection) -> None:
    """Run what is missing in the connection's transaction; it waits for others who do the same."""
    # The lock of the file does not reach a server on another machine.
    one_at_a_time(connection, Turn.MIGRATE)
    command.upgrade(configuration(connection), "head")


def configuration(connection: Connection) -> Config:
    """Alembic's configuration for ``connection``; there is no alembic.ini."""
    config = Config()
    config.set_main_option("script_location", str(MIGRATIONS))
    config.attributes["connection"] = connection
    return config
