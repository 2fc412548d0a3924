"""Masses with what they are uncertain by, cause by cause, and the sum that respects it.

An estimate is a mass and its `Origin`. Everything that was got the same way shares one origin, so
a boat of a hundred thousand items has a few hundred of them, and a sum touches each item once.

What is wrong with one cause is wrong the same way wherever that cause comes in: one density, one
tape, one scale, the guess for one kind. Such parts add straight. What belongs to one item alone
adds in squares; so do the causes among each other. Each side of the likely value goes by itself.
"""

from __future__ import annotations

import functools
import math
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from operator import mul
from typing import NamedTuple, TypeAlias

from shedtally.domain.lists import Basis, Spread

NOTHING = Spread(0.0, 0.0, 0.0, "unknown")


class Cause(NamedTuple):
    """What may be wrong for many at once: its name, and the share of the mass each way."""

    name: str
    down: float
    up: float


class Slice(NamedTuple):
    """An item's part of what was weighed together: its estimate and its square each way."""

    crate: Crate
    kg: float
    down2: float
    up2: float


@dataclass(frozen=True, slots=True, eq=False)
class Crate:
    """One weighing that was shared out: ``net_kg`` of it, and the sums over all its slices."""

    net_kg: float
    kg: float
    down2: float
    up2: float


@dataclass(frozen=True, slots=True, eq=False)
class Origin:
    """How masses were got. ``own`` is the share each way that belongs to each item alone.

    ``own_kg`` is a fixed part each way (the division of a scale), ``sources`` are keys, ``refused``
    says why a better way could not be gone. Two origins are one only if they are the same object.
    """

    basis: Basis
    why: str
    causes: tuple[Cause, ...] = ()
    own: tuple[float, float] = (0.0, 0.0)
    own_kg: float = 0.0
    part: Slice | None = None
    sources: tuple[str, ...] = ()
    refused: str = ""


# A plain tuple, because a hundred thousand of them are made and added up for one list.
Estimate: TypeAlias = tuple[float, Origin]


def spread_of(estimate: Estimate) -> Spread:
    """One mass by itself, with low and high: the same as a sum of one, without its tables."""
    kg, origin = estimate
    if origin.part is not None:
        return sum_of((estimate,))
    down, up = _shares(origin)
    if origin.own_kg:
        low, high = math.hypot(kg * down, origin.own_kg), math.hypot(kg * up, origin.own_kg)
    else:
        low, high = kg * down, kg * up
    return Spread(max(0.0, kg - low), kg, kg + high, origin.basis)


@functools.lru_cache(maxsize=4096)
def _shares(origin: Origin) -> tuple[float, float]:
    """How far a mass of this origin may be off each way, as shares of it."""
    down = math.hypot(origin.own[0], *(cause.down for cause in origin.causes))
    return down, math.hypot(origin.own[1], *(cause.up for cause in origin.causes))


def sum_of(estimates: Iterable[Estimate]) -> Spread:
    """The sum of masses, each cause counted once; the order makes no difference, not even a bit.

    Returns: likely is the plain sum. The basis is the common one, ``mixed`` for several,
        ``unknown`` for an empty sum. Low is never under zero.

    >>> guess = Origin("guessed", "", (Cause("kind/winch", 0.5, 0.5),))
    >>> sum_of([(6.0, guess), (6.0, guess)])
    Spread(low=6.0, likely=12.0, high=18.0, basis='guessed')
    >>> eye = Origin("guessed", "", own=(0.5, 0.5))
    >>> round(sum_of([(6.0, eye), (6.0, eye)]).high, 2)
    16.24
    """
    return tally(estimates).spread()


def difference(plus: Iterable[Estimate], minus: Iterable[Estimate]) -> Spread:
    """What is on less what is off; a cause in both is off the same way in both, and cancels.

    Returns: may be under zero, low too. The basis is the common one, else ``mixed``.

    >>> tape = Origin("calculated", "", (Cause("tape", 0.1, 0.1),))
    >>> difference([(10.0, tape)], [(4.0, tape)])
    Spread(low=5.4, likely=6.0, high=6.6, basis='calculated')
    """
    on, off = tally(plus), tally(minus)
    likely = on.spread().likely - off.spread().likely
    (on_down, on_up), (off_down, off_up) = on.own_squares(), off.own_squares()
    down2, up2 = [on_down, off_up], [on_up, off_down]
    added, taken = on.causes(), off.causes()
    for name in added.keys() | taken.keys():
        (down, up), (less, more) = added.get(name, (0.0, 0.0)), taken.get(name, (0.0, 0.0))
        ends = (less - down, up - more)
        down2.append(max(0.0, -min(ends)) ** 2)
        up2.append(max(0.0, *ends) ** 2)
    bases = {part.basis for part in (on.spread(), off.spread())} - {"unknown"}
    basis: Basis = bases.pop() if len(bases) == 1 else "mixed"
    down, up = math.sqrt(math.fsum(down2)), math.sqrt(math.fsum(up2))
    return Spread(likely - down, likely, likely + up, basis)


def weighed_share(estimates: Iterable[Estimate]) -> float:
    """The share of the likely mass that somebody put on a scale, 0 to 1; 0 for no mass."""
    return tally(estimates).weighed_share()


class Tally:
    """Masses by origin: the sum, and what each cause has in it."""

    def __init__(self, by_origin: Mapping[Origin, list[float]]) -> None:
        self._kg = {origin: math.fsum(kgs) for origin, kgs in by_origin.items()}
        self._by_origin = by_origin

    def spread(self) -> Spread:
        """The sum; see `sum_of`."""
        if not self._kg:
            return NOTHING
        likely = math.fsum(self._kg.values())
        down, up = self._sides()
        bases = {origin.basis for origin in self._kg}
        basis: Basis = bases.pop() if len(bases) == 1 else "mixed"
        return Spread(max(0.0, likely - down), likely, likely + up, basis)

    def weighed_share(self) -> float:
        """The share of the likely mass that was weighed."""
        whole = math.fsum(self._kg.values())
        scale = math.fsum(kg for origin, kg in self._kg.items() if origin.basis == "weighed")
        return scale / whole if whole else 0.0

    def causes(self) -> dict[str, tuple[float, float]]:
        """Kilograms each way that every shared cause has in the sum, by its name."""
        down: defaultdict[str, list[float]] = defaultdict(list)
        up: defaultdict[str, list[float]] = defaultdict(list)
        for origin, kg in self._kg.items():
            for cause in origin.causes:
                down[cause.name].append(kg * cause.down)
                up[cause.name].append(kg * cause.up)
        return {name: (math.fsum(down[name]), math.fsum(up[name])) for name in down}

    def own_squares(self) -> tuple[float, float]:
        """The summed squares of what has no cause in common, each way."""
        down2, up2 = [], []
        for origin, kgs in self._by_origin.items():
            fixed = len(kgs) * origin.own_kg**2
            if fixed or origin.own != (0.0, 0.0):
                squares = math.fsum(map(mul, kgs, kgs))
                down2.append(squares * origin.own[0] ** 2 + fixed)
                up2.append(squares * origin.own[1] ** 2 + fixed)
        for crate, slices in self._slices().items():
            one, other = _divided(crate, slices)
            down2.append(one)
            up2.append(other)
        return math.fsum(down2), math.fsum(up2)

    def _sides(self) -> tuple[float, float]:
        causes = self.causes().values()
        down2, up2 = self.own_squares()
        down = math.fsum([down2, *(kg * kg for kg, _ in causes)])
        up = math.fsum([up2, *(kg * kg for _, kg in causes)])
        return math.sqrt(down), math.sqrt(up)

    def _slices(self) -> Mapping[Crate, list[Slice]]:
        found: defaultdict[Crate, list[Slice]] = defaultdict(list)
        for origin in self._by_origin:
            if origin.part is not None:
                found[origin.part.crate].append(origin.part)
        return found


def tally(estimates: Iterable[Estimate]) -> Tally:
    """Masses gathered by origin."""
    by_origin: defaultdict[Origin, list[float]] = defaultdict(list)
    for kg, origin in estimates:
        by_origin[origin].append(kg)
    return Tally(by_origin)


def _divided(crate: Crate, slices: list[Slice]) -> tuple[float, float]:
    """The square each way of how sure it is which part of a crate's mass these slices have.

    With S the estimates here and R those of the rest, the part is S / (S + R); its error is
    (R dS - S dR) / (S + R)^2. With everything here nothing is left of it: the scale knew the sum.
    No part is less than nothing or more than the whole.
    """
    here = math.fsum(part.kg for part in slices)
    rest = max(0.0, crate.kg - here)
    down2, up2 = math.fsum(part.down2 for part in slices), math.fsum(part.up2 for part in slices)
    rest_down2, rest_up2 = max(0.0, crate.down2 - down2), max(0.0, crate.up2 - up2)
    scale = (crate.net_kg / crate.kg**2) ** 2
    part_kg, rest_kg = (crate.net_kg * kg / crate.kg for kg in (here, rest))
    return (
        min(part_kg**2, scale * (rest**2 * down2 + here**2 * rest_up2)),
        min(rest_kg**2, scale * (rest**2 * up2 + here**2 * rest_down2)),
    )
