"""All rows from one database into another, whichever of the two kinds each is."""

from __future__ import annotations

from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Connection, Engine, create_engine, func, insert, select, text
from sqlalchemy.pool import NullPool

from shedtally.storage import tables
from shedtally.storage.database import DatabaseUnusable, engine_options, postgres_url, prepare
from shedtally.storage.migrate import MIGRATIONS, bring_up_to_date

ROWS_AT_ONCE = 1000


class OtherVersion(DatabaseUnusable):
    """The database has the tables of another version of this program."""

    def __init__(self) -> None:
        super().__init__(
            "The database was made by another version of Shedtally. Nothing is changed. Start "
            "shedtally serve once with this version, then try again."
        )


class DatabaseInUse(DatabaseUnusable):
    """The database to restore into holds something."""

    def __init__(self) -> None:
        super().__init__(
            "The database is not empty, and nothing in it was touched. Make a new one and name "
            "that; keep the old one until this one is proved good."
        )


def opened(url: str) -> Engine:
    """The engine of a PostgreSQL address. Raises: DatabaseUnusable."""
    spelt = postgres_url(url)
    options = {**engine_options(spelt)}
    engine = create_engine(spelt, poolclass=NullPool, connect_args=options["connect_args"])
    prepare(engine)
    return engine


def opened_file(file: str) -> Engine:
    """The engine of a SQLite file, with the safeguards of the server's own."""
    engine = create_engine(f"sqlite:///{file}", poolclass=NullPool)
    prepare(engine)
    return engine


def copy_rows(source: Engine, target: Engine) -> None:
    """Copy one state of ``source``, also while others write to it, into the empty ``target``.

    Raises: OtherVersion, DatabaseInUse; the target holds nothing then that it had not held before.
    """
    with source.connect() as reading, target.begin() as writing:
        if source.dialect.name == "postgresql":
            reading.execute(text("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ READ ONLY"))
        _ensure_current(reading)
        bring_up_to_date(writing)
        if any(_rows_in(writing)):
            raise DatabaseInUse
        for table in tables.db.metadata.sorted_tables:
            rows = reading.execution_options(yield_per=ROWS_AT_ONCE).execute(select(table))
            for part in rows.mappings().partitions():
                writing.execute(insert(table), [dict(row) for row in part])
        if target.dialect.name == "postgresql":
            _count_on(writing)


def _ensure_current(connection: Connection) -> None:
    here = MigrationContext.configure(connection).get_current_revision()
    if here != ScriptDirectory(str(MIGRATIONS)).get_current_head():
        raise OtherVersion


def _rows_in(connection: Connection) -> list[int]:
    return [
        connection.execute(select(func.count()).select_from(table)).scalar_one()
        for table in tables.db.metadata.sorted_tables
    ]


def _count_on(connection: Connection) -> None:
    """Let PostgreSQL number new rows after those that were copied with their numbers."""
    for table in tables.db.metadata.sorted_tables:
        number = table.autoincrement_column
        if number is None:
            continue
        highest = select(func.coalesce(func.max(number), 0) + 1).scalar_subquery()
        sequence = func.pg_get_serial_sequence(table.name, number.name)
        connection.execute(select(func.setval(sequence, highest, False)))
