"""Which items stand for what is in a tank, and which hold what was drawn from it.

An item that says ``drawn_from`` holds what came out of that tank. One of the liquid's kinds that
lies in the tank's compartment and says nothing stands for what is in the tank while it is aboard;
once it is out it counts as drawn from it, which the list says, for a litre must not count twice.
``part_of`` names the tank where a compartment has several; without it items are dealt to them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Literal, TypeAlias

from shedtally.domain.aboard.out import is_out
from shedtally.domain.boat import BoatRecords
from shedtally.domain.records import Item, Tank
from shedtally.domain.records.moments import seconds_of
from shedtally.domain.rulebook import Rules

Part: TypeAlias = Literal["liquid", "sludge"]
PARTS: tuple[Part, ...] = ("liquid", "sludge")


@dataclass(frozen=True, slots=True)
class Claims:
    """Items of one tank: ``cans`` filled from it, ``assumed`` to be, and what ``stands`` for it."""

    cans: list[Item] = field(default_factory=list)
    assumed: list[Item] = field(default_factory=list)
    stands: dict[Part, list[Item]] = field(default_factory=lambda: {"liquid": [], "sludge": []})


def claims_of(boat: BoatRecords, rules: Rules) -> Mapping[str, Claims]:
    """What every counted tank's liquid is recorded as otherwise, by the tank's key."""
    tanks = counted(boat)
    found = {tank.key: Claims() for tank in tanks.values()}
    if not tanks:
        return found
    kinds = {kind for row in rules.liquids.values() for kind in (*row.kinds, *row.sludge_kinds)}
    for item in sorted(boat.items.values(), key=lambda row: row.key):
        if item.drawn_from and item.drawn_from in tanks and item.drawn_from != item.key:
            found[tanks[item.drawn_from].key].cans.append(item)
        elif item.drawn_from is None and item.kind in kinds:
            _claim(item, boat, rules, tanks, found)
    return found


def counted(boat: BoatRecords) -> Mapping[str, Tank]:
    """Tanks by their item, one an item: of a tank described twice the one that was sounded last."""
    last: dict[str, float] = {}
    for row in boat.soundings.values():
        last[row.tank or ""] = max(last.get(row.tank or "", seconds_of(None)), seconds_of(row.on))
    found: dict[str, Tank] = {}
    for key, tank in sorted(boat.tanks.items()):
        if not tank.of or tank.of not in boat.items:
            continue
        known = found.get(tank.of)
        if known is None or _sounded(last, known.key) < _sounded(last, key):
            found[tank.of] = tank
    return found


def _sounded(last: Mapping[str, float], key: str) -> tuple[bool, float]:
    return key in last, last.get(key, 0.0)


def _claim(
    item: Item, boat: BoatRecords, rules: Rules, tanks: Mapping[str, Tank],
    found: Mapping[str, Claims],
) -> None:  # fmt: skip
    fitting = list(_fitting(item, boat, rules, tanks))
    if not fitting:
        return
    free = [at for at in fitting if not found[at[0].key].stands[at[1]]]
    tank, part = (free or fitting)[0]
    claims = found[tank.key]
    if is_out(item):
        claims.assumed.append(item)
    else:
        claims.stands[part].append(item)


def _fitting(
    item: Item, boat: BoatRecords, rules: Rules, tanks: Mapping[str, Tank]
) -> Iterator[tuple[Tank, Part]]:
    """The tanks that an item may stand for, and whether as liquid or as sludge."""
    for of, tank in tanks.items():
        liquid, holder = rules.liquids.get(tank.liquid or ""), boat.items[of]
        if liquid is None or of == item.key or holder.whereabouts == "gone":
            continue
        if item.part_of and item.part_of != of:
            continue
        if item.part_of != of and (not item.compartment or item.compartment != holder.compartment):
            continue
        if item.kind in liquid.kinds:
            yield tank, "liquid"
        elif item.kind in liquid.sludge_kinds:
            yield tank, "sludge"
