"""Which few weighings would make a total surer, one after the other.

Each step takes the item whose weighing narrows the total most, given the ones before it. What an
item shares with others (one density, the guess for one kind) counts with all its weight: taking
the largest part out of a shared cause helps more than its own spread says. A weighing is taken to
find the likely mass; it leaves the scale's own error. It says nothing of others of the same kind:
the next one may be of another make, and what the app then shows is what is promised here.
"""

from __future__ import annotations

import heapq
import math
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from shedtally.domain.lists import Spread
from shedtally.domain.masses.estimate import Estimate, Origin, tally

SCALE = "scale"
WORTH_KG = 0.01


@dataclass(frozen=True, slots=True)
class Step:
    """An item to weigh next, and the total as it then stands."""

    key: str
    after: Spread
    narrower_kg: float


class _Doubt:
    """What a total is uncertain by, ready to have single items taken out of it."""

    def __init__(self, masses: Iterable[Estimate], scale: float) -> None:
        found = tally(masses)
        self.likely = found.spread().likely
        self.scale = scale
        self.causes = {SCALE: (0.0, 0.0), **found.causes()}
        self.own2 = found.own_squares()
        self._squares()

    def spread(self) -> Spread:
        low, high = math.sqrt(max(0.0, self.low2)), math.sqrt(max(0.0, self.high2))
        return Spread(max(0.0, self.likely - low), self.likely, self.likely + high, "mixed")

    def without(self, kg: float, origin: Origin) -> float:
        """How far low and high are apart once this mass has been weighed.

        Only what the item touches is reckoned anew: this is asked of every candidate.
        """
        low2, high2 = self.low2, self.high2
        for name, (down, up) in self._changed(kg, origin).items():
            old_down, old_up = self.causes[name]
            low2 += down * down - old_down * old_down
            high2 += up * up - old_up * old_up
        own_down2, own_up2 = _own2(kg, origin)
        low = math.sqrt(max(0.0, low2 - own_down2))
        return min(low, self.likely) + math.sqrt(max(0.0, high2 - own_up2))

    def weigh(self, kg: float, origin: Origin) -> None:
        """The total after this mass has been weighed."""
        self.causes.update(self._changed(kg, origin))
        own_down2, own_up2 = _own2(kg, origin)
        self.own2 = (self.own2[0] - own_down2, self.own2[1] - own_up2)
        self._squares()

    def _squares(self) -> None:
        causes = self.causes.values()
        self.low2 = math.fsum([self.own2[0], *(down * down for down, _ in causes)])
        self.high2 = math.fsum([self.own2[1], *(up * up for _, up in causes)])

    def _changed(self, kg: float, origin: Origin) -> dict[str, tuple[float, float]]:
        """The causes that a weighing changes: the item's own go, the scale's comes."""
        found: dict[str, tuple[float, float]] = {}
        for cause in origin.causes:
            down, up = self.causes[cause.name]
            found[cause.name] = (down - kg * cause.down, up - kg * cause.up)
        down, up = found.get(SCALE) or self.causes[SCALE]
        found[SCALE] = (down + kg * self.scale, up + kg * self.scale)
        return found


def _own2(kg: float, origin: Origin) -> tuple[float, float]:
    fixed = origin.own_kg**2
    return (kg * origin.own[0]) ** 2 + fixed, (kg * origin.own[1]) ** 2 + fixed


def weigh_next(masses: Mapping[str, Estimate], scale: float, most: int = 5) -> tuple[Step, ...]:
    """Up to ``most`` weighings, the most useful first; fewer where the rest would change nothing.

    Args: masses: by key of the item; scale: share by which a scale may be off.
    """
    doubt = _Doubt(masses.values(), scale)
    left = _candidates(masses, most)
    steps: list[Step] = []
    before = doubt.spread()
    while left and len(steps) < most:
        width, key = min((doubt.without(*left[key]), key) for key in left)
        narrower = (before.high - before.low) - width
        if narrower < WORTH_KG:
            break
        doubt.weigh(*left.pop(key))
        before = doubt.spread()
        steps.append(Step(key, before, narrower))
    return tuple(steps)


def _candidates(masses: Mapping[str, Estimate], most: int) -> dict[str, Estimate]:
    """The heaviest of each origin: of masses got one way the heavier takes more doubt with it."""
    by_origin: defaultdict[Origin, list[tuple[float, str]]] = defaultdict(list)
    for key, (kg, origin) in masses.items():
        if origin.basis != "weighed" and kg > 0:
            by_origin[origin].append((kg, key))
    heaviest = (heapq.nlargest(most, rows) for rows in by_origin.values())
    return {key: masses[key] for rows in heaviest for _, key in rows}
