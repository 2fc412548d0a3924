"""Where an item sits in the boat, in metres, with how far that may be off.

What a person wrote on the item stands. Otherwise its compartment says it: along the boat by
``from_m`` and ``to_m``, across by its side, up by its level; what a compartment leaves open is
taken from the one around it. What nobody wrote is taken from the size of the boat.

The height of a level above the keel is a habit of boats of this size and no measurement; it is
counted from the waterline, which lies a draught above the keel.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TypeVar

from shedtally.domain.boat import BoatRecords
from shedtally.domain.records import Compartment, Item
from shedtally.domain.records.words import Level, Side
from shedtally.domain.rulebook import Three

T = TypeVar("T")

WRITTEN_OFF_BY_M = 0.05
USUAL_LENGTH_M, USUAL_BEAM_PER_LENGTH, USUAL_DRAUGHT_PER_LENGTH = 10.0, 0.32, 0.14
# Common practice, no source: metres above the waterline in a boat of 8 to 14 m, shares of beam.
ABOVE_WATER_M: dict[Level, Three] = {
    "aloft": Three(2.0, 6.0, 12.0),
    "deck": Three(0.8, 1.3, 2.2),
    "cabin": Three(-0.3, 0.4, 1.2),
    "under sole": Three(-1.0, -0.4, 0.0),
}
ACROSS: dict[Side, Three] = {
    "port": Three(-0.48, -0.28, -0.05),
    "centre": Three(-0.12, 0.0, 0.12),
    "starboard": Three(0.05, 0.28, 0.48),
    "across": Three(-0.3, 0.0, 0.3),
}


@dataclass(frozen=True, slots=True)
class Position:
    """Metres aft of the stem, off the centreline (starboard up), above the keel; low to high.

    ``written`` names the ones that a person wrote on the item; the rest is from its compartment,
    or from the size of the boat where ``placed`` is False.
    """

    aft_m: Three
    off_m: Three
    up_m: Three
    written: tuple[str, ...]
    placed: bool

    @property
    def how(self) -> str:
        """Where it comes from, in a sentence."""
        if len(self.written) == 3:
            return "As written on the item."
        said = " and ".join(self.written)
        rest = "by its compartment" if self.placed else "by nothing but the size of the boat"
        return (
            f"{said.capitalize()} as written on the item, the rest {rest}."
            if said
            else (f"Taken {rest}.")
        )


def position_of(item: Item, boat: BoatRecords) -> Position:
    """The position of an item, all of it, as far as known.

    Returns: each coordinate as low, likely, high; about 95 % of cases lie inside.
    """
    written = {
        name: value
        for name, value in (("aft", item.aft_m), ("off", item.off_m), ("up", item.up_m))
        if value is not None
    }
    around = list(_compartments(item, boat))
    return Position(
        aft_m=_written(written.get("aft")) or _aft(around, boat),
        off_m=_written(written.get("off")) or _off(around, boat),
        up_m=_written(written.get("up")) or _up(around, boat),
        written=tuple(written),
        placed=bool(around),
    )


def _written(metres: float | None) -> Three | None:
    if metres is None:
        return None
    return Three(metres - WRITTEN_OFF_BY_M, metres, metres + WRITTEN_OFF_BY_M)


def _compartments(item: Item, boat: BoatRecords) -> Iterator[Compartment]:
    """The compartment of an item and those around it, from the inside out; a ring ends."""
    at, seen = item.compartment, set[str]()
    while at is not None and at not in seen and at in boat.compartments:
        seen.add(at)
        yield boat.compartments[at]
        at = boat.compartments[at].within


def _first(around: list[Compartment], said: Callable[[Compartment], T | None]) -> T | None:
    return next((value for row in around if (value := said(row)) is not None), None)


def _length_m(boat: BoatRecords) -> float:
    return boat.boat.length_m or USUAL_LENGTH_M


def _aft(around: list[Compartment], boat: BoatRecords) -> Three:
    found = _first(around, _along)
    low, high = found or (0.0, _length_m(boat))
    return Three(low, (low + high) / 2, high)


def _along(row: Compartment) -> tuple[float, float] | None:
    if row.from_m is None or row.to_m is None:
        return None
    return min(row.from_m, row.to_m), max(row.from_m, row.to_m)


def _off(around: list[Compartment], boat: BoatRecords) -> Three:
    beam = boat.boat.beam_m or _length_m(boat) * USUAL_BEAM_PER_LENGTH
    shares = ACROSS[_first(around, lambda row: row.side) or "across"]
    return Three(*(share * beam for share in shares))


def _up(around: list[Compartment], boat: BoatRecords) -> Three:
    draught = boat.boat.draught_m or _length_m(boat) * USUAL_DRAUGHT_PER_LENGTH
    above = ABOVE_WATER_M[_first(around, lambda row: row.level) or "cabin"]
    return Three(*(max(0.0, draught + metres) for metres in above))
