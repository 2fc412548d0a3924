"""The containers of a boat's waste as a list needs them: weighed or not, gone or not."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import dataclass

from shedtally.domain.boat import BoatRecords
from shedtally.domain.lists import Spread, WasteContainer
from shedtally.domain.records import Container
from shedtally.domain.rulebook import Rules
from shedtally.domain.spread import around


@dataclass(frozen=True, slots=True)
class Box:
    """A drum, can or bin: its stream, its weighed content (None: not weighed), and whether gone.

    ``gone_on`` is the day of its handover; a handover without a day leaves it None. ``listed`` is
    the container as the list shows it.
    """

    key: str
    name: str
    tags: tuple[str, ...]
    stream: str
    net: Spread | None
    gone: bool
    gone_on: datetime.date | None
    listed: WasteContainer


def boxes_of(boat: BoatRecords, rules: Rules) -> Mapping[str, Box]:
    """Every container of a boat by its key."""
    return {key: _box(boat, row, rules) for key, row in boat.containers.items()}


def _box(boat: BoatRecords, row: Container, rules: Rules) -> Box:
    handover = boat.handovers.get(row.handover or "")
    listed = _listed(boat, row, _net(row, rules))
    return Box(
        key=row.key,
        name=listed.name,
        tags=listed.tags,
        stream=listed.stream,
        net=listed.net,
        gone=listed.gone,
        gone_on=day_of(handover.on) if handover else None,
        listed=listed,
    )


def _listed(boat: BoatRecords, row: Container, net: Spread | None) -> WasteContainer:
    place = boat.places.get(row.place or "")
    opened, closed = day_of(row.opened_at), day_of(row.closed_at)
    return WasteContainer(
        key=row.key,
        name=row.name or "Container without a name",
        tags=boat.codes.get(f"container/{row.key}", ()),
        stream=row.stream or "",
        place=(place.name or "") if place else "",
        capacity_l=row.capacity_l,
        tare_kg=row.tare_kg,
        gross_kg=row.gross_kg,
        net=net,
        opened=opened.isoformat() if opened else "",
        closed=closed.isoformat() if closed else "",
        gone=row.handover is not None,
    )


def _net(row: Container, rules: Rules) -> Spread | None:
    """Gross less tare; None until both are weighed, or where they can't both be right."""
    if row.gross_kg is None or row.tare_kg is None or row.gross_kg < row.tare_kg:
        return None
    return around(row.gross_kg - row.tare_kg, rules.trust["weighed"], "weighed")


def day_of(moment: str | None) -> datetime.date | None:
    """The calendar day of a stored moment, as its author's clock had it."""
    return datetime.datetime.fromisoformat(moment).date() if moment else None
