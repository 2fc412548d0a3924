"""The containers of a boat's waste as a list needs them: weighed or not, gone or not."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import dataclass

from shedtally.domain.boat import BoatRecords
from shedtally.domain.lists import Spread
from shedtally.domain.records import Container
from shedtally.domain.rulebook import Rules
from shedtally.domain.spread import around


@dataclass(frozen=True, slots=True)
class Box:
    """A drum, can or bin: its stream, its weighed content (None: not weighed), and whether gone.

    ``gone_on`` is the day of its handover; a handover without a day leaves it None.
    """

    key: str
    name: str
    tags: tuple[str, ...]
    stream: str
    net: Spread | None
    gone: bool
    gone_on: datetime.date | None


def boxes_of(boat: BoatRecords, rules: Rules) -> Mapping[str, Box]:
    """Every container of a boat by its key."""
    return {key: _box(boat, row, rules) for key, row in boat.containers.items()}


def _box(boat: BoatRecords, row: Container, rules: Rules) -> Box:
    handover = boat.handovers.get(row.handover or "")
    return Box(
        key=row.key,
        name=row.name or "Container without a name",
        tags=boat.codes.get(f"container/{row.key}", ()),
        stream=row.stream or "",
        net=_net(row, rules),
        gone=row.handover is not None,
        gone_on=day_of(handover.on) if handover else None,
    )


def _net(row: Container, rules: Rules) -> Spread | None:
    """Gross less tare; None until both are weighed, or where they can't both be right."""
    if row.gross_kg is None or row.tare_kg is None or row.gross_kg < row.tare_kg:
        return None
    return around(row.gross_kg - row.tare_kg, rules.trust["weighed"], "weighed")


def day_of(moment: str | None) -> datetime.date | None:
    """The calendar day of a stored moment, as its author's clock had it."""
    return datetime.datetime.fromisoformat(moment).date() if moment else None
