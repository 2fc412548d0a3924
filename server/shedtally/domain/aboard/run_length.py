"""How long a run is: as measured, else worked out from where its two ends sit.

Hoses and cables follow the hull, so a run is taken as long as its stretches along, across and up
together. Where an end sits is known as far as its compartment; of two places somewhere in two
stretches the mean distance is exact, and stands as the likely value.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from shedtally.domain.aboard.position import Position, position_of
from shedtally.domain.aboard.run_ends import Joint
from shedtally.domain.boat import BoatRecords
from shedtally.domain.lists import RunHow
from shedtally.domain.records import Item
from shedtally.domain.rulebook import Three

LEAST_MM = 100.0
ROUND_MM = 10.0


class Length(NamedTuple):
    """A length in mm as low, likely and high, and how it was got; None where nothing is known."""

    mm: Three | None
    how: RunHow


NOT_KNOWN = Length(None, "not known")


def length_of(boat: BoatRecords, run: Item, found: Sequence[Joint]) -> Length:
    """The length of one run, ``found`` being what its ends are joined to.

    Not known where it wasn't measured and an end, or where it sits, isn't known either.
    """
    if run.length_mm:
        return Length(Three(run.length_mm, run.length_mm, run.length_mm), "measured")
    if len(found) != 2:
        return NOT_KNOWN
    one, other = (_place(boat, run, joint) for joint in found)
    if one is None or other is None:
        return NOT_KNOWN
    return Length(between(one, other), "worked out from the compartments")


def between(one: Position, other: Position) -> Three:
    """The length of a run between two places, in mm.

    Returns: low: straight, with both as near as they can be, 100 mm at least; likely: the mean of
        along, across and up together; high: these together with both as far apart as they can be.
    """
    axes = (
        (one.aft_m, other.aft_m),
        (one.off_m, other.off_m),
        (one.up_m, other.up_m),
    )
    near = math.hypot(*(_gap(a, b) for a, b in axes))
    likely = math.fsum(mean_distance((a.low, a.high), (b.low, b.high)) for a, b in axes)
    far = math.fsum(max(a.high - b.low, b.high - a.low) for a, b in axes)
    low = max(LEAST_MM, near * 1000)
    likely = max(low, likely * 1000)
    return Three(_rounded(low), _rounded(likely), _rounded(max(likely, far * 1000)))


def mean_distance(one: tuple[float, float], other: tuple[float, float]) -> float:
    """The mean distance of two points that lie anywhere in two stretches of a line.

    >>> round(mean_distance((0.0, 3.0), (0.0, 3.0)), 6), mean_distance((1.0, 1.0), (4.0, 4.0))
    (1.0, 3.0)
    """
    (a, b), (c, d) = one, other
    if b - a < 1e-6 or d - c < 1e-6:
        return _mean_from((c + d) / 2, a, b) if b - a > d - c else _mean_from((a + b) / 2, c, d)
    third = _cube(b - c) - _cube(a - c) - _cube(b - d) + _cube(a - d)
    return third / ((b - a) * (d - c))


def _mean_from(point: float, low: float, high: float) -> float:
    """The mean distance from a point to a stretch."""
    if high - low < 1e-6 or not low < point < high:
        return abs(point - (low + high) / 2)
    return ((point - low) ** 2 + (high - point) ** 2) / (2 * (high - low))


def _cube(value: float) -> float:
    return abs(value) ** 3 / 6


def _gap(one: Three, other: Three) -> float:
    return max(0.0, one.low - other.high, other.low - one.high)


def _rounded(mm: float) -> float:
    return math.ceil(mm / ROUND_MM - 1e-6) * ROUND_MM


def _place(boat: BoatRecords, run: Item, joint: Joint) -> Position | None:
    """Where an end sits: what it leads to, or the run's own compartment for a named point."""
    item = joint.to or (run if joint.point else None)
    if item is None:
        return None
    found = position_of(item, boat)
    return found if found.placed or len(found.written) == 3 else None
