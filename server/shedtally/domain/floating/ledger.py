"""What came off a boat and what goes in, from where: masses and moments with their spread.

Against how she floated with everything aboard. *Now*: all that is out is off. *After*: what goes
back is back, what is to be sold, scrapped or thrown away is off, and what was never aboard and
goes in is on. What is to be renewed counts as it was; undecided things stay as they are.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from shedtally.domain.aboard.named import name_of
from shedtally.domain.aboard.out import is_out
from shedtally.domain.aboard.position import Position, position_of
from shedtally.domain.boat import BoatRecords
from shedtally.domain.floating.lists import Moved
from shedtally.domain.lifting.lists import Reach
from shedtally.domain.lifting.on_hook import apart
from shedtally.domain.masses.estimate import Estimate, difference, spread_of
from shedtally.domain.masses.weighing import Masses
from shedtally.domain.records import Item
from shedtally.domain.rulebook import Rules, Three

LEAVES = ("sell", "scrap", "waste")


@dataclass(frozen=True, slots=True)
class Entry:
    """One item that moves: ``sign`` -1 off, 1 on."""

    item: Item
    sign: int
    estimate: Estimate
    at: Position

    @property
    def kg(self) -> float:
        """Signed kilograms."""
        return self.sign * self.estimate[0]


def as_she_stands(boat: BoatRecords, masses: Masses) -> list[Entry]:
    """What is off her as she stands."""
    return list(_entries(_sign_now, boat, masses))


def after_the_work(boat: BoatRecords, masses: Masses) -> list[Entry]:
    """What is off and on once all that is decided has been done."""
    return list(_entries(_sign_after, boat, masses))


def _sign_now(item: Item) -> int:
    if item.never_aboard:
        return 0 if is_out(item) else 1
    return -1 if is_out(item) else 0


def _sign_after(item: Item) -> int:
    leaves = item.fate in LEAVES or item.whereabouts == "gone"
    if item.never_aboard:
        return 0 if leaves else 1
    if item.fate == "renew":
        return 0
    if leaves:
        return -1
    return -1 if is_out(item) and item.fate != "refit" else 0


def _entries(sign_of: Callable[[Item], int], boat: BoatRecords, masses: Masses) -> Iterator[Entry]:
    for item in boat.items.values():
        sign = sign_of(item)
        whole = boat.items.get(item.part_of or "")
        # The mass of a part that is in that of the whole moved with the whole.
        with_whole = whole and not apart(item) and sign_of(whole) == sign
        if sign and not with_whole:
            yield Entry(item, sign, masses.estimates[item.key], position_of(item, boat))


def mass_of_all(entries: Iterable[Entry]) -> Reach:
    """Signed kilograms: what goes on less what comes off."""
    rows = list(entries)
    found = difference(
        [entry.estimate for entry in rows if entry.sign > 0],
        [entry.estimate for entry in rows if entry.sign < 0],
    )
    return Reach(found.low, found.likely, found.high)


def moment_aft(entries: Iterable[Entry], about_m: Three) -> Reach:
    """Kilogram metres by the stern, about the centre of floating."""
    rows = list(entries)
    kg = math.fsum(row.kg for row in rows)
    # The centre further aft makes what lies aft of it weigh less.
    aside = _ends(-kg * (about_m.high - about_m.likely), kg * (about_m.likely - about_m.low))
    return _moment([(row, row.at.aft_m, about_m.likely) for row in rows], aside)


def moment_off(entries: Iterable[Entry]) -> Reach:
    """Kilogram metres to starboard, about the centreline."""
    return _moment([(row, row.at.off_m, 0.0) for row in entries], (0.0, 0.0))


def _moment(rows: list[tuple[Entry, Three, float]], aside: tuple[float, float]) -> Reach:
    """Shared causes of masses add straight, everything else in squares; each side by itself."""
    likely = math.fsum(row.kg * (at.likely - about) for row, at, about in rows)
    sides = [aside]
    less, more = defaultdict[str, float](float), defaultdict[str, float](float)
    for row, at, about in rows:
        arm = at.likely - about
        sides.append(_ends(row.kg * (at.low - at.likely), row.kg * (at.high - at.likely)))
        down, up = _own_kg(row.estimate)
        sides.append(_ends(-row.sign * down * arm, row.sign * up * arm))
        for cause in row.estimate[1].causes:
            less[cause.name] -= row.kg * arm * cause.down
            more[cause.name] += row.kg * arm * cause.up
    sides += [_ends(less[name], more[name]) for name in less]
    low = math.sqrt(math.fsum(down * down for down, _ in sides))
    high = math.sqrt(math.fsum(up * up for _, up in sides))
    return Reach(likely - low, likely, likely + high)


def _ends(one: float, other: float) -> tuple[float, float]:
    """How far below and above nothing two ends of a doubt reach."""
    return max(0.0, -one, -other), max(0.0, one, other)


def _own_kg(estimate: Estimate) -> tuple[float, float]:
    """What belongs to one item alone, in kilograms each way."""
    kg, origin = estimate
    if origin.part is not None:
        spread = spread_of(estimate)
        return kg - spread.low, spread.high - kg
    down, up = origin.own
    return math.hypot(kg * down, origin.own_kg), math.hypot(kg * up, origin.own_kg)


def lines(entries: Iterable[Entry], boat: BoatRecords, rules: Rules) -> tuple[Moved, ...]:
    """The ledger for people, the heaviest first."""
    return tuple(sorted(_lines(entries, boat, rules), key=lambda row: (-abs(row.kg), row.key)))


def _lines(entries: Iterable[Entry], boat: BoatRecords, rules: Rules) -> Iterator[Moved]:
    for entry in entries:
        mass = spread_of(entry.estimate)
        low, high = sorted((entry.sign * mass.low, entry.sign * mass.high))
        yield Moved(
            key=entry.item.key,
            name=name_of(entry.item, rules.kinds.get(entry.item.kind or "")),
            tags=boat.codes.get(f"item/{entry.item.key}", ()),
            kg=entry.kg,
            low_kg=low,
            high_kg=high,
            aft_m=entry.at.aft_m.likely,
            off_m=entry.at.off_m.likely,
            how=entry.at.how,
        )
