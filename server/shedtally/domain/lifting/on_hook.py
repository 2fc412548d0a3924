"""What hangs on the hook: the item as its mass says, less what came off, plus what was not in it.

A part's mass is in that of the whole or apart from it (``mass_apart``). Nobody may have said so:
then a liquid counts as apart, anything else as in it, and the high value takes the worse case.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from shedtally.domain.aboard.named import name_of
from shedtally.domain.aboard.out import is_out
from shedtally.domain.boat import BoatRecords
from shedtally.domain.lifting.lists import OnHook
from shedtally.domain.lists import Spread
from shedtally.domain.masses.estimate import Estimate, difference, spread_of
from shedtally.domain.masses.weighing import in_order, refusal
from shedtally.domain.records import Item
from shedtally.domain.rulebook import Rules
from shedtally.domain.tanks.contents import of_tank


@dataclass(frozen=True, slots=True)
class Load:
    """A load, its parts, and what a person should still say. ``known`` False: weigh it first."""

    mass: Spread
    parts: tuple[OnHook, ...]
    asks: tuple[str, ...]
    known: bool


def load_of(item: Item, boat: BoatRecords, rules: Rules, estimates: Mapping[str, Estimate]) -> Load:
    """What hangs on the hook now when ``item`` is lifted, in kilograms with spread.

    Args: boat, estimates: as `contents.with_contents` makes them, what is still in tanks included.
    """
    parts = [_part(part, item, boat, rules, estimates) for part in _parts(item.key, boat)]
    on = [estimates[item.key], *(estimates[part.key] for part in parts if part.sign > 0)]
    hangs = difference(on, [estimates[part.key] for part in parts if part.sign < 0])
    worse = math.fsum(part.mass.high for part in parts if _unsaid(part, boat))
    return Load(
        Spread(
            max(0.0, hangs.low),
            max(0.0, hangs.likely),
            max(0.0, hangs.high) + worse,
            hangs.basis,
        ),
        tuple(parts),
        tuple(_asks(parts, item, boat, rules)),
        known=_known(item, rules),
    )


def _parts(key: str, boat: BoatRecords) -> Iterator[Item]:
    """What is bolted to an item, and to that; a ring is walked once."""
    seen, waiting = {key}, [key]
    while waiting:
        at = waiting.pop()
        for part in boat.items.values():
            if part.part_of == at and part.key not in seen:
                seen.add(part.key)
                waiting.append(part.key)
                yield part


def _known(item: Item, rules: Rules) -> bool:
    """True if more than a wide guess stands behind a mass."""
    if item.mass_kg is not None:
        return item.mass_kg > 0
    return item.kind in rules.kinds or item.form is not None


def apart(part: Item) -> bool:
    """True if the mass of what it is part of leaves it out; liquids are, unless somebody says."""
    if part.mass_apart is not None:
        return part.mass_apart
    return part.liquid is not None


def _part(
    part: Item, whole: Item, boat: BoatRecords, rules: Rules, estimates: Mapping[str, Estimate]
) -> OnHook:
    sign, why = _counts(part, whole, boat)
    name = name_of(part, rules.kinds.get(part.kind or ""))
    return OnHook(part.key, name, sign, spread_of(estimates[part.key]), why)


def _counts(part: Item, whole: Item, boat: BoatRecords) -> tuple[int, str]:
    holder = boat.items.get(part.part_of or "")
    # What is bolted to a part that came off went with it.
    off = is_out(part) or (holder is not None and holder.key != whole.key and is_out(holder))
    if of_tank(part.key) is not None:
        return 1, "still in it"
    if apart(part):
        return (0, "off, and never in its mass") if off else (1, "still on, and not in its mass")
    if not off:
        return 0, "still on, and in its mass"
    if _weighed_without(part, whole, boat):
        return 0, "off before it was weighed"
    return -1, "has come off"


def _weighed_without(part: Item, whole: Item, boat: BoatRecords) -> bool:
    """True if the whole was weighed for the last time after a part had come off."""
    of_whole = [
        row for row in boat.weighings.values() if row.of == f"item/{whole.key}" and not refusal(row)
    ]
    if not of_whole or part.out_at is None:
        return False
    on = in_order(of_whole)[-1].on
    return on is not None and part.out_at[:10] <= on[:10]


def _unsaid(part: OnHook, boat: BoatRecords) -> bool:
    """A solid part that is still on, of which nobody said whether its mass is in the whole."""
    item = boat.items[part.key]
    return item.mass_apart is None and item.liquid is None and not is_out(item) and part.sign == 0


def _asks(parts: list[OnHook], whole: Item, boat: BoatRecords, rules: Rules) -> Iterator[str]:
    name = name_of(whole, rules.kinds.get(whole.kind or ""))
    for part in parts:
        if _unsaid(part, boat):
            yield (
                f"Is {part.name} in the mass of {name}? Until somebody says so, the high value "
                "has it on top."
            )
