"""Patterns of one stock length and rounded plans: held to every choice of few pieces, by hand."""

import itertools
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shedtally.domain.cutting import knapsack
from shedtally.domain.cutting.knapsack import Knapsack, cheapest_left, near_patterns
from shedtally.domain.cutting.planner import Planner
from shedtally.domain.cutting.rounding import Rounding
from shedtally.domain.cutting.stock import Piece, Stock
from shedtally.domain.cutting.task import task_of

FEW = st.lists(st.tuples(st.integers(1, 40), st.integers(0, 30)), max_size=7)
ROOM = st.integers(0, 120)


def choices(count):
    places = range(count)
    return itertools.chain.from_iterable(
        itertools.combinations(places, many) for many in range(count + 1)
    )


def total(of, pattern):
    return sum(of[at] for at in pattern)


@given(FEW, ROOM)
def test_a_stock_length_is_worth_what_the_best_choice_of_pieces_is(pieces, room):
    lengths, worths = [one[0] for one in pieces], [one[1] for one in pieces]
    table = Knapsack(lengths, worths, room)
    for within in {room, room // 2}:
        fits = [one for one in choices(len(pieces)) if total(lengths, one) <= within]
        assert table.most(within) == max(total(worths, one) for one in fits)
        pattern = table.pattern(within)
        assert pattern in fits
        assert total(worths, pattern) == table.most(within)


@given(FEW, st.integers(-5, 200))
def test_what_is_left_out_is_long_enough_and_no_choice_costs_less(pieces, short):
    lengths, costs = [one[0] for one in pieces], [one[1] for one in pieces]
    left = cheapest_left(lengths, costs, short)
    enough = [one for one in choices(len(pieces)) if total(lengths, one) >= short]
    assert left is not None
    if not enough:
        assert left == ()
        return
    assert left == tuple(sorted(set(left)))
    assert total(lengths, left) >= short
    assert total(costs, left) == min(total(costs, one) for one in enough)


@given(
    st.lists(st.integers(1, 9), max_size=7).map(lambda one: sorted(one, reverse=True)),
    st.fixed_dictionaries({n: st.integers(0, 9) for n in range(1, 10)}),
    st.integers(0, 30),
    st.integers(0, 20),
    st.booleans(),
)
@settings(max_examples=300)
def test_all_patterns_near_to_the_best_are_listed_each_once(lengths, worth, room, least, whole):
    worths = [worth[length] for length in lengths]
    found, are_all = near_patterns(lengths, worths, room, least, whole=whole)
    assert are_all
    wanted = {
        tuple(lengths[at] for at in one)
        for one in choices(len(lengths))
        if total(lengths, one) <= room and total(worths, one) >= least
    }
    if whole:
        wanted = {one for one in wanted if not _takes_more(one, lengths, room)}
    assert len(found) == len(wanted)
    assert {tuple(lengths[at] for at in one) for one in found} == wanted


def _takes_more(held, lengths, room):
    rest = list(lengths)
    for length in held:
        rest.remove(length)
    return any(sum(held) + length <= room for length in rest)


@given(st.integers(1, 30))
def test_of_too_many_patterns_so_many_are_listed_and_it_is_said(most):
    lengths = list(range(60, 40, -1))
    found, are_all = near_patterns(lengths, lengths, 600, 0, most=most, whole=False)
    assert (len(found), are_all) == (most, False)


def test_of_a_table_too_large_no_pattern_is_listed(monkeypatch):
    assert near_patterns([9_000] * 300, [1] * 300, 50_000, 0) == ([], False)
    monkeypatch.setattr(knapsack, "_MOST_TAKEN", 4 * 50)
    assert cheapest_left([20, 30, 40, 50], [1, 2, 3, 4], 50) is not None
    assert cheapest_left([20, 30, 40, 50], [1, 2, 3, 4], 51) is None
    assert cheapest_left([20, 30, 40, 50], [1, 2, 3, 4], 139) == (0, 1, 2, 3)


def test_nearly_all_of_many_pieces_are_chosen_by_the_few_that_stay(monkeypatch):
    """1,000 pieces and one length in the shed took half a minute and 900 MB."""
    monkeypatch.setattr(knapsack, "_covering", None)
    lengths = [300 + 7 * n for n in range(1_000)]
    left = cheapest_left(lengths, lengths, sum(lengths) - 5_000)
    assert 4_700 < sum(lengths) - total(lengths, left) <= 5_000
    assert cheapest_left(lengths, lengths, sum(lengths)) == tuple(range(1_000))


MANY = st.lists(st.integers(1, 60).map(lambda n: 100 * n + 7), min_size=20, max_size=90)
SHED = st.lists(st.tuples(st.integers(500, 12_000), st.integers(1, 3)), max_size=3)


@st.composite
def tasks(draw):
    """Many pieces, reels and lengths in the shed, with and without the metre and a kerf."""
    reels = draw(st.lists(st.integers(6_100, 12_000), min_size=1, max_size=2))
    stocks = [Stock(f"reel {n}", length, length // 10) for n, length in enumerate(reels)]
    shed = enumerate(draw(SHED))
    stocks += [Stock(f"shed {n}", length, 0, count) for n, (length, count) in shed]
    pieces = [Piece(str(n), length) for n, length in enumerate(draw(MANY))]
    metre, kerf = draw(st.none() | st.integers(1, 400)), draw(st.integers(0, 3))
    return task_of(pieces, stocks, metre, kerf)[0]


@given(tasks(), st.integers(0, 20))
@settings(max_examples=60, deadline=None)
def test_each_piece_is_cut_bought_or_left_by_rounding_and_only_one_of_these(task, few):
    rounding = Rounding(task)
    rounding.until(few)
    cut = [at for _, pattern in rounding.used for at in pattern]
    assert sorted([*cut, *rounding.apart, *rounding.left]) == list(range(len(task.lengths)))
    assert cut or rounding.apart or len(task.lengths) <= few
    for stock, pattern in rounding.used:
        assert total(task.lengths, pattern) <= task.sizes[stock]
    used = [stock for stock, _ in rounding.used]
    for at, given_count in enumerate(task.given):
        if given_count:
            assert used.count(at) + rounding.given[at] == given_count
            assert rounding.given[at] >= 0


def test_of_patterns_that_are_all_used_by_half_some_are_cut_all_the_same():
    """Any two of the three fit, so the fractional plan is half of each pair."""
    pieces = [Piece(str(length), length) for length in (49, 50, 51)]
    rounding = Rounding(task_of(pieces, [Stock("a", 101, 10)], None, 0)[0])
    rounding.until(0)
    assert rounding.used


@pytest.mark.parametrize(
    ("seed", "count", "lengths", "stocks"),
    [
        # A reel dearer or more where the pieces are only filled in, never rounded.
        (0, 250, (300, 9_000), [Stock("a", 10_000, 100)]),
        (1, 150, (200, 4_000), [Stock("a", 6_000, 560), Stock("b", 4_000, 400)]),
    ],
)
def test_rounding_finds_the_plan_that_filling_misses(seed, count, lengths, stocks):
    chance = random.Random(seed)
    pieces = [Piece(str(n), chance.randrange(*lengths)) for n in range(count)]
    task, _ = task_of(pieces, stocks, None, 0)
    planner = Planner(task)
    bound = planner.planned()
    assert planner.found.is_within(bound)
