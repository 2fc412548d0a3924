"""What the owners of the demo boat were quoted, bought and got for the lines of the renewals list.

The source names an item that is on the line, or kind and size; the line's id is worked out when the
demo is loaded, so that it stays right when the way in which ids are made changes.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from shedtally.domain import records
from shedtally.domain.records.shape import JsonValue, fields_of
from shedtally.domain.renewals.clamp import CLAMP
from shedtally.domain.renewals.parts import PartsReader
from shedtally.domain.renewals.spec_id import counted_id, line_id
from shedtally.domain.rulebook import Rules
from shedtally.usecases.demo_source import Row, Source

STEPS = ("bought", "arrived", "fitted")


class Step(NamedTuple):
    """One step of buying: on which day, by whom, of which line, and how the line reads."""

    on: dt.date
    by: str
    line: str
    field: str
    row: Row


def line_of(source: Source, rules: Rules, told_for: Row) -> str:
    """The id of the line of the renewals list that a row is about.

    A row names an item on the line, or kind and size of what is counted from hoses and cables.
    """
    if "for" not in told_for:
        of = line_id if told_for["kind"] == CLAMP else counted_id
        return of(told_for["kind"], told_for["size"])
    name = told_for["for"]
    row = source.items[name]
    values = {
        field: row[field]
        for field in fields_of(records.Item)
        if field in row and field not in {"place", "container", "handover", "compartment"}
    }
    return PartsReader(rules).wanted(records.Item(key=name, **values)).parts.id


def quoted(offers: Iterable[Row]) -> Iterator[tuple[str, Row]]:
    """Each price of each offer with a name of its own, as a price that stands alone."""
    for offer in offers:
        for row in offer["rows"]:
            shared = {
                name: offer[name] for name in ("supplier", "currency", "heard") if name in offer
            }
            of = row.get("for") or f"{row['kind']} {row['size']}"
            per = row.get("per", "each")
            yield f"{offer['supplier']}: {of}, {per}", {"per": per, **shared, **row}


def steps(source: Source, rules: Rules) -> Iterator[Step]:
    """Every step of every purchase, each on its own day."""
    for row in source.purchases:
        line = line_of(source, rules, row)
        for step in STEPS:
            if step in row:
                yield Step(row[step], row["by"], line, f"{step}_at", row)


def new_part(row: Row, old: Row, keys: dict[str, JsonValue]) -> dict[str, JsonValue]:
    """The record of a new part; ``keys`` are those of the old item and of where it is."""
    same = {name: old[name] for name in ("kind", "system", "count", "size") if name in old}
    told: dict[str, JsonValue] = {"name": row["name"], "never_aboard": True, "fate": "refit"}
    return {**told, **same, **keys, "whereabouts": "ashore"}


def told(row: Row) -> dict[str, JsonValue]:
    """What is written when a line is bought, besides the day."""
    return {name: row[name] for name in ("line", "count", "supplier", "note") if name in row}
