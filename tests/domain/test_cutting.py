"""Cut plans: every piece once, nothing longer than its stock, and a bound that holds."""

import random
import subprocess
import sys

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shedtally.domain.cutting import cut_plan
from shedtally.domain.cutting.stock import Piece, Stock


def pieces(*lengths):
    return [Piece(str(n), length) for n, length in enumerate(lengths)]


def reel(length, price, count=None):
    return Stock(f"{length}-{count}", length, price, count)


@given(
    st.lists(st.integers(1, 400), max_size=14),
    st.lists(st.tuples(st.integers(20, 300), st.integers(1, 500)), max_size=3),
    st.lists(st.integers(20, 300), max_size=2),
    st.none() | st.integers(1, 5000),
    st.integers(0, 3),
)
@settings(max_examples=60, deadline=None)
def test_every_piece_is_cut_once_and_stock_is_pieces_kerf_and_leftover(
    lengths, reels, left, metre, kerf
):
    stocks = [reel(*one) for one in reels]
    stocks += [Stock(f"shed {n}", length, 0, 1) for n, length in enumerate(left)]
    wanted = pieces(*lengths)
    plan = cut_plan(wanted, stocks, metre, kerf)
    cut = [piece for one in plan.cut for piece in one.pieces]
    assert sorted(piece.key for piece in (*cut, *plan.by_metre, *plan.too_long)) == sorted(
        piece.key for piece in wanted
    )
    for one in plan.cut:
        used = sum(piece.length_mm for piece in one.pieces)
        assert used <= one.length_mm
        assert used + one.kerf_mm + one.left_mm == one.length_mm
        assert one.kerf_mm >= kerf * (len(one.pieces) - 1)
    assert plan.bound <= plan.cost + 1e-6


def test_a_leftover_is_used_before_a_reel_is_bought_and_never_twice():
    plan = cut_plan(pieces(500, 500), [reel(1000, 10), Stock("shed", 600, 0, 1)])
    assert (plan.cost, plan.proven) == (10, True)
    assert [one.stock for one in plan.cut].count("shed") <= 1


def test_what_is_longer_than_any_reel_is_left_out_and_named():
    plan = cut_plan(pieces(1500, 400), [reel(1000, 10)])
    assert [piece.length_mm for piece in plan.too_long] == [1500]
    assert plan.cost == 10


def test_the_metre_is_taken_where_a_reel_would_cost_more():
    plan = cut_plan(pieces(400), [reel(1000, 100)], metre_price=150)
    assert (plan.cost, plan.cut, len(plan.by_metre)) == (60, (), 1)


def test_a_purchase_that_fits_without_the_kerf_and_not_with_it_takes_one_more():
    halves = pieces(500, 501)
    assert cut_plan(halves, [reel(1001, 10)]).cost == 10
    assert cut_plan(halves, [reel(1001, 10)], kerf_mm=2).cost == 20


@pytest.mark.parametrize("seed", range(4))
def test_runs_of_a_boat_on_reels_of_three_lengths_are_cut_at_the_proven_least(seed):
    chance = random.Random(seed)
    wanted = pieces(*(chance.randrange(300, 9000) for _ in range(60)))
    stocks = [reel(10_000, 3100), reel(25_000, 5500), reel(50_000, 9800)]
    plan = cut_plan(wanted, stocks)
    assert plan.proven
    assert plan.cost == plan.bound


def test_two_thousand_pieces_are_at_most_one_reel_above_the_bound():
    chance = random.Random(1)
    wanted = pieces(*(chance.randrange(300, 9000) for _ in range(2000)))
    plan = cut_plan(wanted, [reel(30_000, 100)])
    assert plan.cost - plan.bound <= 100


@pytest.mark.parametrize("seed", range(3))
def test_five_hundred_pieces_on_one_short_reel_are_at_most_one_reel_above_the_bound(seed):
    chance = random.Random(seed)
    wanted = pieces(*(chance.randrange(300, 9000) for _ in range(500)))
    plan = cut_plan(wanted, [reel(10_000, 100)])
    assert plan.cost - plan.bound <= 100


def left_and_metre(count, seed):
    chance = random.Random(seed)
    wanted = pieces(*(chance.randrange(300, 9000) for _ in range(count)))
    left = [Stock(f"shed {n}", chance.randrange(1000, 12_000), 0, 2) for n in range(3)]
    return wanted, [reel(25_000, 5500), reel(50_000, 9800), *left]


@pytest.mark.parametrize(("count", "seed"), [(20, 0), (20, 1), (60, 0), (60, 1), (60, 2)])
def test_leftovers_beside_reels_and_the_metre_are_cut_at_the_proven_least(count, seed):
    plan = cut_plan(*left_and_metre(count, seed), metre_price=330, kerf_mm=2)
    assert plan.proven


def test_many_pieces_with_leftovers_and_the_metre_are_all_cut_near_the_bound():
    wanted, stocks = left_and_metre(300, 5)
    plan = cut_plan(wanted, stocks, metre_price=330, kerf_mm=2)
    cut = [piece.key for one in plan.cut for piece in one.pieces]
    assert sorted(cut + [piece.key for piece in plan.by_metre]) == sorted(p.key for p in wanted)
    assert plan.cost - plan.bound <= 9800
    assert [one.stock for one in plan.cut].count("shed 0") <= 2


def test_bars_of_two_lengths_by_the_hundred_are_rounded_to_within_a_bar_of_the_bound():
    chance = random.Random(3)
    wanted = pieces(*(chance.randrange(200, 4000) for _ in range(200)))
    shed = [Stock(f"shed {n}", chance.randrange(500, 5500), 0, 1) for n in range(4)]
    plan = cut_plan(wanted, [reel(6000, 560), reel(4000, 400), *shed], kerf_mm=3)
    assert plan.cost - plan.bound <= 560
    assert len({one.stock for one in plan.cut if one.stock.startswith("shed")}) <= 4


def test_a_plan_by_the_solver_prints_nothing():
    code = """
from shedtally.domain.cutting import cut_plan
from shedtally.domain.cutting.stock import Piece, Stock
pieces = [Piece(str(n), 1000 + 37 * n) for n in range(20)]
stocks = [Stock("a", 6000, 560), Stock("b", 4000, 400), Stock("shed", 3100, 0, 1)]
plan = cut_plan(pieces, stocks, 120, 3)
assert "highspy" in __import__("sys").modules and plan.by_metre
"""
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout, done.stderr) == (0, "", "")
