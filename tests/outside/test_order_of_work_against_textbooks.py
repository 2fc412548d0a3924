"""The order of work against published examples of the critical path method."""

from __future__ import annotations

import pytest

from shedtally.domain.network import arrange, longest_chain, times_of

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
