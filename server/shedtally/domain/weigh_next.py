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
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from shedtally.domain.estimate import Estimate, Origin, tally
from shedtally.domain.lists import Spread

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
        self.causes = {name: list(sides) for name, sides in found.causes().items()}
        self.causes.setdefault(SCALE, [0.0, 0.0])
        self.own2 = list(found.own_squares())

    def spread(self) -> Spread:
        low, high = self._sides(self.causes, self.own2)
        return Spread(max(0.0, self.likely - low), self.likely, self.likely + high, "mixed")

    def without(self, kg: float, origin: Origin) -> float:
        """How far low and high are apart once this mass has been weighed."""
        low, high = self._sides(*self._less(kg, origin))
        return min(low, self.likely) + high

    def weigh(self, kg: float, origin: Origin) -> None:
        self.causes, self.own2 = self._less(kg, origin)

    def _less(self, kg: float, origin: Origin) -> tuple[dict[str, list[float]], list[float]]:
        causes = dict(self.causes)
        for cause in origin.causes:
            down, up = causes[cause.name]
            causes[cause.name] = [down - kg * cause.down, up - kg * cause.up]
        down, up = causes[SCALE]
        causes[SCALE] = [down + kg * self.scale, up + kg * self.scale]
        own2 = [
            max(0.0, left - (kg * share) ** 2 - origin.own_kg**2)
            for left, share in zip(self.own2, origin.own, strict=True)
        ]
        return causes, own2

    @staticmethod
    def _sides(causes: Mapping[str, Sequence[float]], own2: Sequence[float]) -> tuple[float, float]:
        low = math.fsum([own2[0], *(down * down for down, _ in causes.values())])
        high = math.fsum([own2[1], *(up * up for _, up in causes.values())])
        return math.sqrt(max(0.0, low)), math.sqrt(max(0.0, high))


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
