"""Each container as it stands: what is in it, how full it is, what may not lie there, what is odd.

What can't be right is said and kept: an entry is never changed or left out by a check.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from shedtally.domain.boat import BoatRecords
from shedtally.domain.masses.estimate import sum_of
from shedtally.domain.waste.box import Box
from shedtally.domain.waste.box_faults import faults_of_box
from shedtally.domain.waste.by_stream import Case
from shedtally.domain.waste.container_lists import BoxLine, BoxList, BoxView
from shedtally.domain.waste.mixed import Asked, bans_in, inside_of
from shedtally.domain.waste.stream import Row


def box_list(case: Case, rows: Sequence[Row]) -> BoxList:
    """Every container; those that stand here first, then by stream and name.

    Args: rows: all lines of the boat, as `by_stream.waste_rows` makes them.
    """
    inside, asked = inside_of(rows), Asked(case.rules, case.law.law)
    found = [_view(case, asked, box, inside.get(key, ())) for key, box in case.boxes.items()]
    place = {stream: n for n, stream in enumerate(case.rules.streams)}
    last = len(place)
    return BoxList(
        tuple(sorted(found, key=lambda one: (one.gone, place.get(one.stream, last), one.name)))
    )


def _view(case: Case, asked: Asked, box: Box, rows: Sequence[Row]) -> BoxView:
    record, stream = case.boat.containers[box.key], case.rules.streams.get(box.stream)
    lines = tuple(_line(case.boat, row) for row in rows if row.line.key != box.key)
    mass = box.net or sum_of([row.mass for row in rows if row.line.key != box.key])
    known = [line.volume_l for line in lines if line.volume_l is not None]
    litres = sum(known)
    full = _Full(record.capacity_l, record.filled_percent, litres, bool(known))
    limit = record.limit_kg
    return BoxView(
        key=box.key,
        name=box.name,
        sort=record.sort or "",
        tags=box.tags,
        stream=box.stream,
        stream_name=stream.name if stream else "",
        place=box.listed.place,
        capacity_l=record.capacity_l,
        limit_kg=limit,
        tare_kg=record.tare_kg,
        inside=mass,
        litres=litres,
        without_litres=len(lines) - len(known),
        filled=full.share(),
        loaded=mass.likely / limit if limit else None,
        loaded_high=mass.high / limit if limit else None,
        opened=box.listed.opened,
        closed=box.listed.closed,
        gone=box.gone,
        handover=record.handover or "",
        lines=lines,
        bans=tuple(bans_in(case.boat, asked, box, rows)),
        faults=tuple(faults_of_box(case, box, rows, mass, litres)),
        cautions=stream.cautions if stream else (),
        keep_in=stream.keep_in if stream else "",
    )


@dataclass(frozen=True, slots=True)
class _Full:
    """What is known of how full a container is by volume."""

    capacity_l: float | None
    seen_percent: float | None
    litres: float
    any_known: bool

    def share(self) -> float | None:
        """What somebody saw, or the litres that are known, whichever is more."""
        shares = [] if self.seen_percent is None else [self.seen_percent / 100]
        if self.capacity_l and self.any_known:
            shares.append(self.litres / self.capacity_l)
        return max(shares, default=None)


def _line(boat: BoatRecords, row: Row) -> BoxLine:
    item = boat.items[row.line.key]
    return BoxLine(
        key=item.key,
        name=row.line.name,
        tags=row.line.tags,
        count=row.line.count,
        mass=row.line.mass,
        stream=row.stream,
        volume_l=item.volume_l,
        since=(item.boxed_at or item.out_at or "")[:10],
    )
