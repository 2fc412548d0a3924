"""The order of work against published examples of the critical path method."""

from __future__ import annotations

import itertools
import math

import pytest

from shedtally.domain.crew import lower_bound, schedule
from shedtally.domain.forecast import pert
from shedtally.domain.network import arrange, longest_chain, times_of
from shedtally.domain.rulebook import Three

# B. W. Taylor, Introduction to Management Science, chapter 8, a solved problem; activity on arrow.
# arc: days, before it, ES, EF, LS, LF, slack as printed.
TAYLOR = {
    "1-2": (7, (), 0, 7, 2, 9, 2),
    "1-3": (10, (), 0, 10, 0, 10, 0),
    "2-4": (6, ("1-2",), 7, 13, 9, 15, 2),
    "3-4": (5, ("1-3",), 10, 15, 10, 15, 0),
    "3-5": (4, ("1-3",), 10, 14, 14, 18, 4),
    "4-5": (3, ("2-4", "3-4"), 15, 18, 15, 18, 0),
    "5-6": (2, ("3-5", "4-5"), 18, 20, 18, 20, 0),
}


@pytest.fixture
def taylor():
    orders = [(first, arc) for arc, row in TAYLOR.items() for first in row[1]]
    return arrange({arc: float(row[0]) for arc, row in TAYLOR.items()}, orders)


@pytest.mark.parametrize("arc", TAYLOR)
def test_starts_ends_and_slack_are_those_of_the_book(taylor, arc):
    days, _, early, early_end, late, late_end, slack = TAYLOR[arc]
    times, step = times_of(taylor), taylor.keys.index(arc)
    assert times.earliest[step] == early
    assert times.earliest[step] + days == early_end
    assert times.latest[step] == late
    assert times.latest[step] + days == late_end
    assert times.slack(step) == slack


def test_length_and_critical_path_are_those_of_the_book(taylor):
    assert times_of(taylor).length == 20
    chain = [taylor.keys[step] for step in longest_chain(taylor)]
    assert chain == ["1-3", "3-4", "4-5", "5-6"]


# The same arcs under a crew: each arc needs one hand. With enough hands nothing changes.
def test_with_enough_hands_the_schedule_is_as_short_as_the_critical_path(taylor):
    needs = [{"hands": 1.0}] * len(taylor.keys)
    assert schedule(taylor, needs, {"hands": 3.0}).length == 20
    # One hand does 37 days of work in 37 days.
    assert schedule(taylor, needs, {"hands": 1.0}).length == 37


# F. S. Hillier and G. J. Lieberman, Introduction to Operations Research, the house built by a
# contractor. The estimates FROM MEMORY; the published results are 44 weeks, variance 9 and a
# probability of 0.84 to be done in 47 weeks. activity: low, likely, high; before it.
HOUSE = {
    "A": ((1, 2, 3), ""),
    "B": ((2, 3.5, 8), "A"),
    "C": ((6, 9, 18), "B"),
    "D": ((4, 5.5, 10), "C"),
    "E": ((1, 4.5, 5), "C"),
    "F": ((4, 4, 10), "E"),
    "G": ((5, 6.5, 11), "D"),
    "H": ((5, 8, 17), "EG"),
    "I": ((3, 7.5, 9), "C"),
    "J": ((3, 9, 9), "FI"),
    "K": ((4, 4, 4), "J"),
    "L": ((1, 5.5, 7), "J"),
    "M": ((1, 2, 3), "H"),
    "N": ((5, 5.5, 9), "KL"),
}


def test_means_variance_and_length_of_the_house_are_those_of_the_book():
    estimates = {name: pert(Three(*map(float, row[0]))) for name, row in HOUSE.items()}
    means = [round(mean, 9) for mean, _ in estimates.values()]
    assert means == [2, 4, 10, 6, 4, 5, 7, 9, 7, 8, 4, 5, 2, 6]
    orders = [(first, name) for name, row in HOUSE.items() for first in row[1]]
    network = arrange({name: mean for name, (mean, _) in estimates.items()}, orders)
    times = times_of(network)
    chain = "".join(network.keys[step] for step in longest_chain(network, times))
    assert (chain, round(times.length, 9)) == ("ABCEFJLN", 44)
    variance = sum(estimates[name][1] for name in chain)
    assert variance == pytest.approx(9)
    chance = 0.5 * (1 + math.erf((47 - times.length) / math.sqrt(2 * variance)))
    assert chance == pytest.approx(0.8413, abs=5e-5)
    slack = {name: round(times.slack(step), 9) for step, name in enumerate(network.keys)}
    assert {name: value for name, value in slack.items() if value} == {
        "D": 4, "G": 4, "H": 4, "I": 2, "K": 1, "M": 4
    }  # fmt: skip


# H. Fisher and G. L. Thompson, 1963, the 6 jobs on 6 machines ("ft06"), as reprinted in the
# OR-Library of J. E. Beasley: pairs of machine and time. Best possible makespan: 55.
FT06 = """
2 1 0 3 1 6 3 7 5 3 4 6
1 8 2 5 4 10 5 10 0 10 3 4
2 5 3 4 5 8 0 9 1 1 4 7
1 5 0 5 2 5 3 3 4 8 5 9
2 9 1 3 4 5 5 4 0 3 3 1
1 3 3 3 5 9 0 10 4 4 2 1
"""
FT06_BEST = 55


def test_the_gap_to_the_best_makespan_of_a_known_instance_is_small(capsys):
    hours, orders, needs = {}, [], []
    for job, line in enumerate(FT06.strip().splitlines()):
        numbers = [int(text) for text in line.split()]
        for at, (machine, time) in enumerate(zip(numbers[::2], numbers[1::2], strict=True)):
            hours[f"{job}.{at}"] = float(time)
            needs.append({f"machine {machine}": 1.0})
            orders += [(f"{job}.{at - 1}", f"{job}.{at}")] if at else []
    network = arrange(hours, orders)
    limits = {f"machine {machine}": 1.0 for machine in range(6)}
    made = schedule(network, needs, limits)
    bound = lower_bound(network, needs, limits)
    gap = made.length / FT06_BEST - 1
    with capsys.disabled():
        print(f"\nft06: {made.length:g}, best {FT06_BEST}, gap {gap:.1%}, bound {bound:g}")
    assert bound <= FT06_BEST <= made.length
    assert gap <= 0.15
    assert not overlaps(network, needs, made)


def overlaps(network, needs, made):
    """Pairs of steps on one machine at one time, found the slow way."""
    spans = [
        (start, start + time, next(iter(need)))
        for start, time, need in zip(made.starts, network.hours, needs, strict=True)
    ]
    return [
        (a, b)
        for a, b in itertools.combinations(spans, 2)
        if a[2] == b[2] and a[0] < b[1] and b[0] < a[1]
    ]
