"""Insert-or-update, which SQL dialects spell alike and SQLAlchemy keeps apart by dialect."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from sqlalchemy import Table
from sqlalchemy.dialects import postgresql, sqlite
from sqlalchemy.orm import Session


def insert_if_absent(session: Session, table: Table, row: Mapping[str, Any]) -> bool:
    """Insert ``row`` unless its primary key is taken; whether it was inserted."""
    statement = _insert(session, table).values(row).on_conflict_do_nothing()
    columns = list(table.primary_key.columns)
    return session.execute(statement.returning(*columns)).first() is not None


def insert_or_replace(session: Session, table: Table, rows: Sequence[Mapping[str, Any]]) -> None:
    """Insert ``rows``; where the primary key is taken, the new row stands."""
    if not rows:
        return
    statement = _insert(session, table)
    keys = {column.name for column in table.primary_key.columns}
    changed = {name: statement.excluded[name] for name in rows[0] if name not in keys}
    statement = statement.on_conflict_do_update(
        index_elements=sorted(keys),
        set_=changed,
    )
    session.execute(statement, list(rows))


def _insert(session: Session, table: Table) -> Any:  # noqa: ANN401
    # The two dialects' Insert share these methods but no base class that declares them.
    dialect = session.get_bind().dialect.name
    return sqlite.insert(table) if dialect == "sqlite" else postgresql.insert(table)
