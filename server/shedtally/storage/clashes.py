"""Clashes of a boat, until somebody has settled them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict
from typing import Any

from sqlalchemy import insert, select, update
from sqlalchemy.orm import Session

from shedtally.domain.sync.clash import Clash, Side
from shedtally.domain.sync.merge import Version
from shedtally.storage import tables

_clash = tables.clash


class Clashes:
    """The clashes of one boat."""

    def __init__(self, session: Session, boat: str) -> None:
        self._session = session
        self._boat = boat

    def add(self, found: Iterable[Clash]) -> None:
        """List these clashes as open."""
        rows = [
            {
                "boat": self._boat,
                "table_name": clash.table,
                "key": clash.key,
                "field": clash.field,
                "kept": asdict(clash.kept),
                "lost": asdict(clash.lost),
                "cursor": clash.cursor,
            }
            for clash in found
        ]
        if rows:
            self._session.execute(insert(_clash), rows)

    def settle(self, table: str, key: str, fields: Iterable[str], seen: int, cursor: int) -> None:
        """Close what a change at ``cursor`` settles: clashes that its author had seen."""
        statement = update(_clash).where(
            _clash.c.boat == self._boat,
            _clash.c.table_name == table,
            _clash.c.key == key,
            _clash.c.field.in_(list(fields)),
            _clash.c.cursor <= seen,
            _clash.c.settled_cursor.is_(None),
        )
        self._session.execute(statement.values(settled_cursor=cursor))

    def open_records(self) -> set[tuple[str, str]]:
        """The records that have open clashes, as (table, key)."""
        query = select(_clash.c.table_name, _clash.c.key).where(*self._open()).distinct()
        return {(table, key) for table, key in self._session.execute(query)}

    def open(self) -> list[Clash]:
        """All open clashes in the order in which they were found."""
        query = select(_clash).where(*self._open()).order_by(_clash.c.id)
        return [
            Clash(
                row["table_name"],
                row["key"],
                row["field"],
                _side(row["kept"]),
                _side(row["lost"]),
                row["cursor"],
            )
            for row in self._session.execute(query).mappings()
        ]

    def _open(self) -> tuple[Any, ...]:
        return _clash.c.boat == self._boat, _clash.c.settled_cursor.is_(None)


def _side(stored: dict[str, Any]) -> Side:
    return Side(stored["value"], Version(**stored["version"]))
