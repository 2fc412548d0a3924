"""What of the boat can be drawn: its measures, and the compartments that have a place in it.

The same choice of cells as on the phone (pwa/src/screens/common/drawn.ts).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from shedtally.domain.boat import BoatRecords
from shedtally.domain.lists import LeftList
from shedtally.domain.records import Compartment

# Beam and draught of a boat of this length where they are not given; a guess for a drawing only.
BEAM_SHARE = 0.31
DRAUGHT_SHARE = 0.14
# A compartment that holds others is drawn as their middle, unless it is most of the boat.
TOO_LONG_SHARE = 0.5
# Cells that stand out; more of them and none would.
STAND_OUT = 3


@dataclass(frozen=True, slots=True)
class DrawnPlace:
    """A cell: where it lies (metres aft of the stem) and its pieces; ``waits``: some can't yet."""

    key: str
    name: str
    side: str
    level: str
    from_m: float
    to_m: float
    out: int
    left: int
    waits: bool

    @property
    def share(self) -> float:
        """Share of its pieces that is out, 0 to 1."""
        return self.out / (self.out + self.left) if self.out + self.left else 0.0


@dataclass(frozen=True, slots=True)
class DrawnBoat:
    """Measures in metres (None: the length is not known), cells, and what is left outside them."""

    length_m: float | None
    beam_m: float
    draught_m: float
    places: tuple[DrawnPlace, ...]
    left_elsewhere: int


def most_left(places: Sequence[DrawnPlace]) -> tuple[DrawnPlace, ...]:
    """The places with most left, at most `STAND_OUT`, the fullest first, equal ones by key."""
    left = [place for place in places if place.left]
    return tuple(sorted(left, key=lambda place: (-place.left, place.key))[:STAND_OUT])


def drawn_boat(boat: BoatRecords, left: LeftList) -> DrawnBoat:
    """The boat with what is left in each compartment that can be drawn."""
    length = boat.boat.length_m or None
    cells = _cells(boat, length or 0.0)
    out: Counter[str] = Counter()
    aboard: Counter[str] = Counter()
    waits: set[str] = set()
    elsewhere = 0
    for group in left.by_compartment:
        cell = _cell_of(boat, cells, group.key)
        if cell is None:
            elsewhere += group.left
            continue
        out[cell] += group.out
        aboard[cell] += group.left
        if any(not item.ready for item in group.items):
            waits.add(cell)
    places = tuple(
        DrawnPlace(
            key, row.name or "unnamed", row.side or "across", row.level or "cabin",
            row.from_m or 0.0, row.to_m or 0.0, out[key], aboard[key], key in waits,
        )
        for key, row in cells.items()
    )  # fmt: skip
    beam = boat.boat.beam_m or (length or 0.0) * BEAM_SHARE
    draught = boat.boat.draught_m or (length or 0.0) * DRAUGHT_SHARE
    return DrawnBoat(length, beam, draught, places, elsewhere)


def _cells(boat: BoatRecords, length_m: float) -> dict[str, Compartment]:
    stations = {
        key: row
        for key, row in boat.compartments.items()
        if row.from_m is not None and row.to_m is not None
    }
    parents = {row.within for row in stations.values()}
    return {
        key: row
        for key, row in stations.items()
        if key not in parents or (row.to_m or 0.0) - (row.from_m or 0.0) < length_m * TOO_LONG_SHARE
    }


def _cell_of(boat: BoatRecords, cells: dict[str, Compartment], key: str) -> str | None:
    """The compartment itself if it is drawn, else the nearest around it that is."""
    seen: set[str] = set()
    at: str | None = key or None
    while at is not None and at not in seen:
        if at in cells:
            return at
        seen.add(at)
        row = boat.compartments.get(at)
        at = row.within if row else None
    return None
