"""The order of work against published examples of the critical path method."""

from __future__ import annotations

import itertools
import math

import pytest

from shedtally.domain.rulebook import Three
from shedtally.domain.work.crew import lower_bound, schedule
from shedtally.domain.work.forecast import pert
from shedtally.domain.work.network import arrange, longest_chain, times_of

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


# Jobs on machines: a line a job, pairs of machine and time in the order of the job, and the best
# possible makespan. The first two from H. Fisher and G. L. Thompson, 1963, la01 from S. Lawrence,
# Resource constrained project scheduling, Carnegie-Mellon University, 1984; as reprinted in the
# OR-Library of J. E. Beasley (jobshop1.txt). Best makespans as listed with the instances there.
SHOPS = {
    "ft06": (55, """
2 1 0 3 1 6 3 7 5 3 4 6
1 8 2 5 4 10 5 10 0 10 3 4
2 5 3 4 5 8 0 9 1 1 4 7
1 5 0 5 2 5 3 3 4 8 5 9
2 9 1 3 4 5 5 4 0 3 3 1
1 3 3 3 5 9 0 10 4 4 2 1
"""),
    "ft10": (930, """
0 29 1 78 2 9 3 36 4 49 5 11 6 62 7 56 8 44 9 21
0 43 2 90 4 75 9 11 3 69 1 28 6 46 5 46 7 72 8 30
1 91 0 85 3 39 2 74 8 90 5 10 7 12 6 89 9 45 4 33
1 81 2 95 0 71 4 99 6 9 8 52 7 85 3 98 9 22 5 43
2 14 0 6 1 22 5 61 3 26 4 69 8 21 7 49 9 72 6 53
2 84 1 2 5 52 3 95 8 48 9 72 0 47 6 65 4 6 7 25
1 46 0 37 3 61 2 13 6 32 5 21 9 32 8 89 7 30 4 55
2 31 0 86 1 46 5 74 4 32 6 88 8 19 9 48 7 36 3 79
0 76 1 69 3 76 5 51 2 85 9 11 6 40 7 89 4 26 8 74
1 85 0 13 2 61 6 7 8 64 9 76 5 47 3 52 4 90 7 45
"""),
    "la01": (666, """
1 21 0 53 4 95 3 55 2 34
0 21 3 52 4 16 2 26 1 71
3 39 4 98 1 42 2 31 0 12
1 77 0 55 4 79 2 66 3 77
0 83 3 34 2 64 1 19 4 37
1 54 2 43 4 79 0 92 3 62
3 69 4 77 1 87 2 87 0 93
2 38 0 60 1 41 3 24 4 83
3 17 1 49 4 25 0 44 2 98
4 77 3 79 2 43 1 75 0 96
"""),
}  # fmt: skip


@pytest.mark.parametrize("name", SHOPS)
def test_the_gap_to_the_best_makespan_of_a_known_shop_is_small(name, capsys):
    best, text = SHOPS[name]
    hours, orders, needs = {}, [], []
    for job, line in enumerate(text.strip().splitlines()):
        numbers = [int(number) for number in line.split()]
        for at, (machine, time) in enumerate(zip(numbers[::2], numbers[1::2], strict=True)):
            hours[f"{job}.{at}"] = float(time)
            needs.append({f"machine {machine}": 1.0})
            orders += [(f"{job}.{at - 1}", f"{job}.{at}")] if at else []
    network = arrange(hours, orders)
    limits = {resource: 1.0 for need in needs for resource in need}
    made = schedule(network, needs, limits)
    report(capsys, name, made, best, lower_bound(network, needs, limits))
    # ft10 withstood exact solvers for a quarter of a century.
    assert made.length / best - 1 <= (0.12 if name == "ft10" else 0.05)
    keeps_orders(network, made)
    assert not overlaps(network, needs, made)


# R. Kolisch and A. Sprecher, PSPLIB, 1996, set j30, instance j301_1: 30 activities between a first
# and a last that take no time, four resources. Numbers as the example of the solver toulbar2 has
# them (rcpsp.py), counted from 0; best makespan 43 as in the list of optima of the set.
J301_1_BEST = 43
J301_1_LIMITS = (12, 13, 4, 12)
J301_1_TIMES = (
    0, 8, 4, 6, 3, 8, 5, 9, 2, 7, 9, 2, 6, 3, 9, 10, 6, 5, 3, 7, 2, 7, 2, 3, 3, 7, 8, 3, 7, 2, 2, 0
)  # fmt: skip
J301_1_AFTER = (
    (1, 2, 3), (5, 10, 14), (6, 7, 12), (4, 8, 9), (19,), (29,), (26,), (11, 18, 26), (13,),
    (15, 24), (19, 25), (13,), (16, 17), (16,), (24,), (20, 21), (21,), (19, 21), (23, 28),
    (22, 24), (27,), (22,), (23,), (29,), (29,), (30,), (27,), (30,), (31,), (31,), (31,), (),
)  # fmt: skip
# Each activity needs one resource at most: which one, and how much of it.
J301_1_NEEDS = (
    (0, 0), (0, 4), (0, 10), (3, 3), (0, 3), (3, 8), (0, 4), (1, 1), (0, 6), (3, 1), (1, 5),
    (1, 7), (0, 4), (1, 8), (0, 3), (3, 5), (3, 8), (3, 7), (1, 1), (1, 10), (3, 6), (0, 2),
    (0, 3), (1, 9), (0, 4), (2, 4), (3, 7), (1, 8), (1, 7), (1, 7), (2, 2), (0, 0),
)  # fmt: skip


def test_the_gap_to_the_best_makespan_of_a_known_project_is_small(capsys):
    hours = {str(at): float(time) for at, time in enumerate(J301_1_TIMES)}
    orders = [(str(at), str(then)) for at, thens in enumerate(J301_1_AFTER) for then in thens]
    needs = [{f"r{which}": float(amount)} for which, amount in J301_1_NEEDS]
    limits = {f"r{which}": float(limit) for which, limit in enumerate(J301_1_LIMITS)}
    network = arrange(hours, orders)
    made = schedule(network, needs, limits)
    report(capsys, "j301_1", made, J301_1_BEST, lower_bound(network, needs, limits))
    assert made.length / J301_1_BEST - 1 <= 0.05
    keeps_orders(network, made)
    for moment in made.starts:
        for which, limit in limits.items():
            used = [
                need.get(which, 0)
                for start, time, need in zip(made.starts, network.hours, needs, strict=True)
                if start <= moment < start + time
            ]
            assert sum(used) <= limit


def report(capsys, name, made, best, bound):
    """Print the gap; nothing beats the best, and no bound lies above it."""
    gap = made.length / best - 1
    with capsys.disabled():
        print(f"\n{name}: {made.length:g}, best {best}, gap {gap:.1%}, bound {bound:g}")
    assert bound <= best <= made.length


def keeps_orders(network, made):
    for step, thens in enumerate(network.after):
        end = made.starts[step] + network.hours[step]
        assert all(end <= made.starts[then] for then in thens)


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
