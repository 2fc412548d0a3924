"""Cut plans of any pieces and stock, and the way of a run from the boat to its cut."""

import itertools

from hypothesis import given, settings
from hypothesis import strategies as st

from shedtally.domain.boat import from_values
from shedtally.domain.buying.order import order_list
from shedtally.domain.cutting import cut_plan
from shedtally.domain.cutting.stock import Piece, Stock
from shedtally.domain.renewals.lines import renewals
from shedtally.rules.load import load

RULES = load()
PIECES = st.lists(st.integers(1, 120), min_size=1, max_size=6)
REELS = st.lists(st.tuples(st.integers(40, 150), st.integers(1, 90)), max_size=2)
LEFT = st.lists(st.integers(20, 120), max_size=1)


def pieces_of(lengths):
    return [Piece(str(n), length) for n, length in enumerate(lengths)]


def stock_of(reels, left):
    return [
        *(Stock(f"reel {n}", length, price) for n, (length, price) in enumerate(reels)),
        *(Stock(f"shed {n}", length, 0, 1) for n, length in enumerate(left)),
    ]


def cheapest(lengths, reels, left, metre, kerf):
    """The least cost over every way of dividing the pieces into groups: by hand, nothing shared.

    None where some piece finds nothing.
    """

    def alone(group):
        need = sum(lengths[at] for at in group) + kerf * (len(group) - 1)
        return min((price for long, price in reels if long >= need), default=None), need

    def least(at, groups):
        if at < len(lengths):
            ways = [least(at + 1, [*groups, [at]])]
            for n, group in enumerate(groups):
                ways.append(least(at + 1, [*groups[:n], [*group, at], *groups[n + 1 :]]))
            return min((way for way in ways if way is not None), default=None)
        found = []
        for free in [None, *range(len(groups))] if left else [None]:
            cost = 0.0
            for n, group in enumerate(groups):
                price, need = alone(group)
                ways = [] if price is None else [float(price)]
                if metre is not None:
                    ways.append(sum(lengths[at] for at in group) * metre / 1000)
                if n == free and left[0] >= need:
                    ways.append(0.0)
                if not ways:
                    break
                cost += min(ways)
            else:
                found.append(cost)
        return min(found, default=None)

    return least(0, [])


@given(PIECES, REELS, LEFT, st.none() | st.integers(50, 3000), st.integers(0, 2))
@settings(max_examples=120, deadline=None)
def test_a_proven_plan_is_the_cheapest_of_all_ways_and_no_bound_is_above_it(
    lengths, reels, left, metre, kerf
):
    plan = cut_plan(pieces_of(lengths), stock_of(reels, left), metre, kerf)
    best = cheapest(lengths, reels, left, metre, kerf)
    if best is None:
        assert plan.too_long
        return
    assert not plan.too_long
    assert plan.bound <= best + 1e-6
    assert plan.cost >= best - 1e-6
    if plan.proven:
        assert plan.cost < best + 1  # less than the smallest coin


@given(PIECES, REELS, LEFT, st.none() | st.integers(50, 3000), st.integers(0, 2))
@settings(max_examples=80, deadline=None)
def test_every_piece_is_cut_once_and_the_cost_is_what_is_bought(lengths, reels, left, metre, kerf):
    stocks = stock_of(reels, left)
    assert_whole(cut_plan(pieces_of(lengths), stocks, metre, kerf), lengths, stocks, metre, kerf)


# Lengths in a ratio that few patterns fill to the end, and more pieces than are planned at once.
MANY = st.lists(st.integers(1, 120), min_size=121, max_size=400)
SHED = st.lists(st.integers(20, 120), max_size=12)


@given(MANY, REELS, SHED, st.none() | st.integers(50, 3000), st.integers(0, 2))
@settings(max_examples=25, deadline=None)
def test_of_many_pieces_too_every_one_is_cut_once(lengths, reels, left, metre, kerf):
    stocks = stock_of(reels, left)
    plan = cut_plan(pieces_of(lengths), stocks, metre, kerf)
    assert_whole(plan, lengths, stocks, metre, kerf)


def assert_whole(plan, lengths, offered, metre, kerf):
    """Every piece once and within its stock, no leftover twice, and the cost that of the stock."""
    stocks = {one.key: one for one in offered}
    cut = [piece for one in plan.cut for piece in one.pieces]
    keys = sorted(piece.key for piece in (*cut, *plan.by_metre, *plan.too_long))
    assert keys == sorted(str(n) for n in range(len(lengths)))
    for one in plan.cut:
        used = sum(piece.length_mm for piece in one.pieces) + kerf * (len(one.pieces) - 1)
        assert used <= one.length_mm == stocks[one.stock].length_mm
    for _, group in itertools.groupby(sorted(one.stock for one in plan.cut)):
        key, *more = group
        assert stocks[key].count is None or len(more) < stocks[key].count
    bought = sum(stocks[one.stock].price for one in plan.cut)
    bought += (metre or 0) * sum(piece.length_mm for piece in plan.by_metre) / 1000
    assert abs(plan.cost - bought) < 1e-6
    assert plan.bound <= plan.cost + 1e-9


RUNS = st.lists(
    st.tuples(st.sampled_from(("19 mm", "25 mm", "")), st.integers(50, 30_000), st.integers(1, 3)),
    min_size=1,
    max_size=12,
)


@given(RUNS, st.lists(st.integers(1_000, 20_000), max_size=2))
@settings(max_examples=40, deadline=None)
def test_no_length_is_lost_on_the_way_from_the_runs_to_their_cuts(runs, reels):
    rows = [("boat", "b", {"name": "B"})]
    for n, (size, length, count) in enumerate(runs):
        values = {"kind": "hose-raw-water", "size": size, "length_mm": float(length)}
        rows.append(("item", f"r{n}", {**values, "count": count, "fate": "renew"}))
    for n, length in enumerate(reels):
        for size in ("19 mm", "25 mm"):
            line = next(
                (x.id for x in renewals(from_values("b", rows), RULES).lines if size in x.size), ""
            )
            rows.append(
                ("price", f"p{n}{size}", {
                    "spec": line, "amount": 10.0 + n, "currency": "EUR", "per": "reel",
                    "length_mm": float(length),
                })
            )  # fmt: skip
    boat = from_values("b", rows)
    listed = [run for line in renewals(boat, RULES).lines for run in line.runs]
    assert sorted(run.item for run in listed) == sorted(f"r{n}" for n in range(len(runs)))
    for run in listed:
        _, length, count = runs[int(run.item[1:])]
        assert (run.length_mm, run.count) == (length, count)
        assert run.cut_mm >= length
    for line in order_list(boat, RULES).lines:
        if line.cut is None:
            continue
        cut = [piece for one in line.cut.stock for piece in one.pieces]
        cut += [*line.cut.by_metre, *line.cut.too_long]
        wanted = [run for run in listed if run.item in line.items for _ in range(run.count)]
        assert sorted(piece.item for piece in cut) == sorted(run.item for run in wanted)
        whole = sum(run.cut_mm for run in wanted)
        assert whole - 1e-3 <= sum(piece.length_mm for piece in cut) <= whole + len(cut)
