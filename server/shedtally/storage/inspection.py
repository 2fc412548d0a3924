"""Looking into a database from outside, without changing anything and whatever its state."""

from __future__ import annotations

from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from sqlalchemy import Connection, create_engine, func, inspect, select, text
from sqlalchemy.exc import DatabaseError
from sqlalchemy.pool import NullPool

from shedtally.storage import tables
from shedtally.storage.database import postgres_url, prepare
from shedtally.storage.folder import DATABASE


class Unreadable(Exception):
    """The database is damaged so far that it can't be asked."""


@dataclass(frozen=True)
class Found:
    """How much is there, the digests of photographs on record, and faults of structure.

    ``unnamed`` are those of the photographs that no change of any boat ever named.
    """

    boats: int
    changes: int
    photos: frozenset[str]
    problems: tuple[str, ...]
    unnamed: frozenset[str] = frozenset()


def look(data: Path, database_url: str) -> Found:
    """Read one state of the database. Args: database_url: empty for SQLite in ``data``.

    Raises: Unreadable; DatabaseUnusable if PostgreSQL does not answer.
    """
    url = f"sqlite:///{(data / DATABASE).as_uri()}?mode=ro&uri=true"
    if database_url:
        url = postgres_url(database_url)
    engine = create_engine(url, poolclass=NullPool)
    if database_url:
        prepare(engine)
    try:
        with engine.connect() as connection:
            return _found(connection)
    except DatabaseError as error:
        raise Unreadable(str(error.orig)) from error


def _found(connection: Connection) -> Found:
    problems: list[str] = []
    if connection.dialect.name == "sqlite":
        rows = connection.execute(text("PRAGMA integrity_check")).scalars()
        problems = [row for row in rows if row != "ok"]
    else:
        connection.execute(text("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ READ ONLY"))
    photos = frozenset(connection.execute(select(tables.photo.c.sha256)).scalars())
    return Found(
        _count(connection, "boat_counter"),
        _count(connection, "change"),
        photos,
        (*problems, *_logs_with_gaps(connection), *_changed_lists(connection)),
        photos - _named(connection),
    )


def _named(connection: Connection) -> set[str]:
    """Digests that any change ever gave to a photo record, also one that was binned since."""
    query = select(tables.change.c.body).where(tables.change.c.table_name == "photo")
    return {str(body["set"].get("sha256")) for body in connection.execute(query).scalars()}


def _count(connection: Connection, table: str) -> int:
    counted = select(func.count()).select_from(tables.db.metadata.tables[table])
    return connection.execute(counted).scalar_one()


def _logs_with_gaps(connection: Connection) -> list[str]:
    """Boats whose counter and log do not agree: cursors run from 1 on without a gap."""
    log, counter = tables.change, tables.boat_counter
    query = (
        select(counter.c.boat, counter.c.cursor, func.count(log.c.cursor), func.max(log.c.cursor))
        .outerjoin(log, log.c.boat == counter.c.boat)
        .group_by(counter.c.boat, counter.c.cursor)
    )
    return [
        f"boat {boat}: {count} changes are there, {cursor} were counted"
        for boat, cursor, count, highest in connection.execute(query)
        if not cursor == count == (highest or 0)
    ]


def _changed_lists(connection: Connection) -> list[str]:
    """Frozen lists of handovers whose text isn't the one that their digest was made of."""
    frozen = tables.frozen
    if not inspect(connection).has_table(frozen.name):
        return []  # a folder of an earlier version, not opened by this one yet
    query = select(frozen.c.boat, frozen.c.handover, frozen.c.digest, frozen.c.body)
    return [
        f"handover {handover} of boat {boat}: its frozen list is not the one that was handed over"
        for boat, handover, digest, body in connection.execute(query)
        if sha256(body.encode()).hexdigest() != digest
    ]
