"""`IN` for long lists: one parameter however many values, so the statement is prepared once."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from typing import Any

from sqlalchemy import JSON, ColumnElement, bindparam, cast, func, select
from sqlalchemy.orm import Session


def among(
    session: Session, column: ColumnElement[Any], values: Collection[str | int]
) -> ColumnElement[bool]:
    """Whether ``column`` holds one of ``values``."""
    given = bindparam(None, list(values), JSON)
    if session.get_bind().dialect.name == "sqlite":
        listed = func.json_each(given).table_valued("value").c.value
    else:
        listed = func.json_array_elements_text(given).column_valued("value")
    return column.in_(select(cast(listed, column.type)))


def by_first(pairs: Iterable[tuple[str, Any]]) -> Mapping[str, list[Any]]:
    """The second halves of ``pairs`` by their first, for one query for each first."""
    found: dict[str, list[Any]] = {}
    for first, second in pairs:
        found.setdefault(first, []).append(second)
    return found
