"""Writing many rows at once, past what the mapper does for each of them.

The statement is made for its dialect once, and rows go to the driver as they are: JSON as text that
is ready. For a batch of changes this halves the time in which other writers wait.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from functools import lru_cache
from typing import Any

from sqlalchemy import Dialect, Table
from sqlalchemy.dialects import postgresql, sqlite
from sqlalchemy.orm import Session

json_text = json.JSONEncoder(ensure_ascii=False, separators=(",", ":"), allow_nan=False).encode


def insert_rows(session: Session, table: Table, rows: Sequence[Sequence[Any]]) -> None:
    """Insert ``rows``, each with all columns of ``table`` in their order."""
    _run(session, table, rows, replacing=False)


def replace_rows(session: Session, table: Table, rows: Sequence[Sequence[Any]]) -> None:
    """The same; where the primary key is taken, the new row stands."""
    _run(session, table, rows, replacing=True)


def _run(session: Session, table: Table, rows: Sequence[Sequence[Any]], *, replacing: bool) -> None:
    if not rows:
        return
    connection = session.connection()
    sql, names = _statement(table, connection.dialect, replacing=replacing)
    if names is None:
        connection.exec_driver_sql(sql, [tuple(row) for row in rows])
    else:
        connection.exec_driver_sql(sql, [dict(zip(names, row, strict=True)) for row in rows])


@lru_cache(maxsize=16)
def _statement(
    table: Table, dialect: Dialect, *, replacing: bool
) -> tuple[str, tuple[str, ...] | None]:
    """The SQL, and the names of its parameters where the driver wants names."""
    statement: Any = (sqlite if dialect.name == "sqlite" else postgresql).insert(table)
    keys = {column.name for column in table.primary_key.columns}
    if replacing:
        changed = {
            column.name: statement.excluded[column.name]
            for column in table.columns
            if column.name not in keys
        }
        statement = statement.on_conflict_do_update(index_elements=sorted(keys), set_=changed)
    compiled: Any = statement.compile(dialect=dialect)
    names = tuple(column.name for column in table.columns)
    return str(compiled), None if compiled.positional else names
