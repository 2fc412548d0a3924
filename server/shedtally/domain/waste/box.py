"""The containers of a boat's waste as a list needs them: weighed or not, gone or not."""

from __future__ import annotations

import datetime
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from shedtally.domain.boat import BoatRecords
from shedtally.domain.lists import Spread, WasteContainer
from shedtally.domain.masses.spread import around
from shedtally.domain.masses.weighing import in_order, net_kg
from shedtally.domain.records import Container, Weighing
from shedtally.domain.rulebook import Rules


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
    scales = weighings_of_boxes(boat)
    return {
        key: _box(boat, row, scales.get(key, ()), rules) for key, row in boat.containers.items()
    }


def weighings_of_boxes(boat: BoatRecords) -> Mapping[str, Sequence[Weighing]]:
    """The weighings of each container that can be a mass, from the first to the latest."""
    found: defaultdict[str, list[Weighing]] = defaultdict(list)
    for row in in_order(boat.weighings.values()):
        table, _, key = (row.of or "").partition("/")
        if table == "container" and net_kg(row) is not None:
            found[key].append(row)
    return found


def _box(boat: BoatRecords, row: Container, scales: Sequence[Weighing], rules: Rules) -> Box:
    handover = boat.handovers.get(row.handover or "")
    listed = _listed(boat, row, _net(row, scales, rules))
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


def _net(row: Container, scales: Sequence[Weighing], rules: Rules) -> Spread | None:
    """Gross less tare of the latest weighing; None until both are known, or can't both be right.

    A weighing that leaves the empty mass out takes the container's own.
    """
    if scales:
        last = scales[-1]
        tare = last.tare_kg if last.tare_kg is not None else row.tare_kg
        row = replace(row, gross_kg=last.gross_kg, tare_kg=tare)
    if row.gross_kg is None or row.tare_kg is None or row.gross_kg < row.tare_kg:
        return None
    return around(row.gross_kg - row.tare_kg, rules.trust["weighed"], "weighed")


def day_of(moment: str | None) -> datetime.date | None:
    """The calendar day of a stored moment, as its author's clock had it."""
    return datetime.datetime.fromisoformat(moment).date() if moment else None


def is_later(moment: str, than: str | None) -> bool:
    """Whether a stored moment lies after another; never, where there is no other."""
    return than is not None and _instant(moment) > _instant(than)


def _instant(moment: str) -> datetime.datetime:
    at = datetime.datetime.fromisoformat(moment)
    return at if at.tzinfo else at.replace(tzinfo=datetime.UTC)
