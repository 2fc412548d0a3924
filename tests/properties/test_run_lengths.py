"""Lengths from where two ends sit: against a sum over many points, and in order."""

from __future__ import annotations

import math

from hypothesis import given
from hypothesis import strategies as st

from shedtally.domain.aboard.position import Position
from shedtally.domain.aboard.run_length import between, mean_distance
from shedtally.domain.rulebook import Three

metres = st.floats(-8, 8, allow_nan=False).map(lambda value: round(value, 3))
stretches = st.tuples(metres, metres).map(lambda pair: (min(pair), max(pair)))
POINTS = 60


def by_points(one: tuple[float, float], other: tuple[float, float]) -> float:
    """The mean over a grid: the middle of each of many equal parts of both stretches."""
    first, second = (
        [low + (high - low) * (n + 0.5) / POINTS for n in range(POINTS)]
        for low, high in (one, other)
    )
    return math.fsum(abs(a - b) for a in first for b in second) / POINTS**2


@given(one=stretches, other=stretches)
def test_the_mean_distance_is_that_of_many_points(one, other) -> None:
    widest = max(one[1] - one[0], other[1] - other[0])
    assert abs(mean_distance(one, other) - by_points(one, other)) <= 0.001 + widest / POINTS**2


@given(one=stretches, other=stretches)
def test_it_makes_no_difference_which_end_is_the_first(one, other) -> None:
    assert math.isclose(mean_distance(one, other), mean_distance(other, one), abs_tol=1e-9)


def test_two_points_in_one_stretch_lie_a_third_of_it_apart() -> None:
    # The mean distance of two uniform points of a line of length L is L / 3 (a textbook result).
    assert math.isclose(mean_distance((0.0, 6.0), (0.0, 6.0)), 2.0)


@st.composite
def places(draw) -> Position:
    axes = [sorted(draw(st.tuples(metres, metres))) for _ in range(3)]
    threes = [Three(low, (low + high) / 2, high) for low, high in axes]
    return Position(*threes, ("aft", "off", "up"), placed=True)


@given(one=places(), other=places())
def test_low_likely_and_high_are_in_order_and_whole_centimetres(one, other) -> None:
    found = between(one, other)
    assert 100 <= found.low <= found.likely <= found.high
    assert all(value % 10 == 0 for value in found)


@given(one=st.tuples(metres, metres, metres), other=st.tuples(metres, metres, metres))
def test_between_two_points_it_is_straight_at_least_and_along_across_and_up_at_most(
    one, other
) -> None:
    ends = (
        Position(*(Three(at, at, at) for at in axes), ("aft", "off", "up"), placed=True)
        for axes in (one, other)
    )
    found = between(*ends)
    straight, around = (
        math.dist(one, other) * 1000,
        math.fsum(map(abs, map(float.__sub__, one, other))),
    )
    assert max(100, straight) - 0.01 <= found.low <= max(100, straight) + 10
    assert max(100, around * 1000) - 0.01 <= found.likely <= max(100, around * 1000) + 10
