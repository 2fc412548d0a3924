"""Opening the database so that nothing acknowledged can be lost.

SQLite: every writing transaction starts with BEGIN IMMEDIATE. With the driver's own deferred
start, two writers may both read, then write, and one update vanishes without an error. Reading
transactions are marked by `READING` and start deferred, so that a long list blocks no phone.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from typing import Any

from sqlalchemy import Connection, Engine, event

READING = "shedtally_reading"

# WAL can corrupt a database when its file is reset, before these versions.
# Source: https://www.sqlite.org/wal.html#walresetbug
WAL_FIXED = (3, 51, 3)
WAL_FIXED_BRANCHES = {(3, 50): 7, (3, 44): 6}


def journal_mode(version: tuple[int, ...] = sqlite3.sqlite_version_info) -> str:
    """WAL where the library's WAL is sound, else DELETE, which is slower and safe.

    >>> journal_mode((3, 40, 1)), journal_mode((3, 50, 7)), journal_mode((3, 51, 3))
    ('DELETE', 'WAL', 'WAL')
    """
    patched = WAL_FIXED_BRANCHES.get((version[0], version[1]))
    if version >= WAL_FIXED or (patched is not None and version[2] >= patched):
        return "WAL"
    return "DELETE"


def prepare(engine: Engine) -> None:
    """Set up ``engine``; does nothing unless it is SQLite."""
    if engine.dialect.name == "sqlite":
        event.listen(engine, "connect", _on_connect(journal_mode()))
        event.listen(engine, "begin", _on_begin)


def engine_options(url: str) -> dict[str, object]:
    """Options for the engine of ``url``: enough connections for all threads of one process."""
    if url.startswith("sqlite"):
        # Seconds that a writer waits for another before it is told that the server is busy.
        return {"connect_args": {"timeout": 20}, "pool_size": 20}
    return {"pool_size": 20, "pool_pre_ping": True}


def _on_connect(mode: str) -> Callable[[sqlite3.Connection, object], None]:
    def set_up(connection: sqlite3.Connection, _record: object) -> None:
        connection.isolation_level = None  # the driver must not begin transactions by itself
        connection.execute(f"PRAGMA journal_mode={mode}")
        # FULL also in WAL: NORMAL may lose the last commits when the power fails.
        connection.execute("PRAGMA synchronous=FULL")
        connection.execute("PRAGMA foreign_keys=ON")

    return set_up


def _on_begin(connection: Connection) -> None:
    options: Any = connection.get_execution_options()
    connection.exec_driver_sql("BEGIN" if options.get(READING) else "BEGIN IMMEDIATE")
