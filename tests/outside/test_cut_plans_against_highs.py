"""Cut plans against exact solutions of other formulations.

Plans are found with HiGHS too, so it is asked otherwise here: over all patterns that fit a reel
(Gilmore and Gomory's model), and over arcs from mark to mark along each stock (the model of Valerio
de Carvalho, doi.org/10.1023/A:1018952112615), with leftovers and the metre in it. Without a solver,
`tests/properties/test_cut_plans.py` goes through every way of cutting up to six pieces.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp

from shedtally.domain.cutting import cut_plan
from shedtally.domain.cutting.stock import Piece, Stock

SIZES = 9


def patterns(sizes: list[int], length: int) -> Iterator[tuple[int, ...]]:
    """How many of each size can be cut from one reel, every way."""
    if not sizes:
        yield ()
        return
    first, *rest = sizes
    for count in range(length // first + 1):
        for more in patterns(rest, length - count * first):
            yield (count, *more)


def least_cost(lengths: list[int], reels: dict[int, int]) -> float:
    """The fewest cost that HiGHS proves; ``reels`` is price by length."""
    wanted = Counter(lengths)
    sizes = sorted(wanted)
    ways = [(way, price) for long, price in reels.items() for way in patterns(sizes, long)]
    found = milp(
        [price for _, price in ways],
        integrality=np.ones(len(ways)),
        bounds=Bounds(0, np.inf),
        constraints=LinearConstraint(
            np.array([way for way, _ in ways]).T, [wanted[size] for size in sizes], np.inf
        ),
        options={"mip_rel_gap": 0.0},
    )
    assert found.status == 0, found.message
    return float(found.fun)


@pytest.mark.parametrize("reels", [{150: 1}, {150: 10, 100: 7}, {150: 10, 90: 7, 60: 5}])
@pytest.mark.parametrize("seed", range(6))
def test_the_bound_is_never_above_the_optimum_and_what_is_proven_is_it(
    reels: dict[int, int], seed: int
) -> None:
    chance = random.Random(seed)
    sizes = chance.sample(range(20, 60), SIZES)
    lengths = [chance.choice(sizes) for _ in range(36)]
    plan = cut_plan(
        [Piece(str(n), length) for n, length in enumerate(lengths)],
        [Stock(str(long), long, price, None) for long, price in reels.items()],
    )
    best = least_cost(lengths, reels)
    print(f"cost {plan.cost}, bound {plan.bound:.2f}, HiGHS {best:.2f}")
    assert plan.bound <= best + 1e-6
    assert plan.cost >= best - 1e-6
    assert plan.cost <= best + max(reels.values()), "more than one reel above the optimum"
    if plan.proven:
        assert plan.cost == pytest.approx(best)


def least_by_arcs(
    lengths: list[int], reels: dict[int, int], left: list[int], metre: int | None
) -> float:
    """The fewest cost as a flow from mark to mark; arcs are pieces, rests and whole stocks."""
    wanted = Counter(lengths)
    sizes = sorted(wanted)
    top = max([*reels, *left])
    arcs = [(at, at + size, size) for size in sizes for at in range(top - size + 1)]
    rests = [(at, at + 1, 0) for at in range(top)]
    ends = [*reels, *left]
    count = len(arcs) + len(rests) + len(ends) + len(sizes)
    flow = np.zeros((top + 1, count))
    cover = np.zeros((len(sizes), count))
    for n, (start, stop, size) in enumerate([*arcs, *rests]):
        flow[start, n] -= 1
        flow[stop, n] += 1
        if size:
            cover[sizes.index(size), n] = 1
    first = len(arcs) + len(rests)
    for n, end in enumerate(ends):  # a stock is an arc from its end back to the beginning
        flow[end, first + n] -= 1
        flow[0, first + n] += 1
    cost = np.zeros(count)
    cost[first : first + len(ends)] = [*reels.values(), *([0] * len(left))]
    most = np.full(count, np.inf)
    most[first + len(reels) : first + len(ends)] = 1
    for n, size in enumerate(sizes):
        cover[n, first + len(ends) + n] = 1
        cost[first + len(ends) + n] = (metre or 0) * size / 1000
        most[first + len(ends) + n] = np.inf if metre is not None else 0
    found = milp(
        cost,
        integrality=np.ones(count),
        bounds=Bounds(0, most),
        constraints=[
            LinearConstraint(flow, 0, 0),
            LinearConstraint(cover, [wanted[size] for size in sizes], np.inf),
        ],
        options={"mip_rel_gap": 0.0},
    )
    assert found.status == 0, found.message
    return float(found.fun)


@pytest.mark.parametrize("metre", [None, 90])
@pytest.mark.parametrize("seed", range(4))
def test_plans_with_leftovers_and_the_metre_cost_what_a_flow_of_arcs_costs(
    seed: int, metre: int | None
) -> None:
    chance = random.Random(seed)
    lengths = [chance.randrange(4, 20) for _ in range(9)]
    reels, left = {30: 5, 22: 4}, [chance.randrange(8, 20) for _ in range(2)]
    stocks = [Stock(str(long), long, price) for long, price in reels.items()]
    stocks += [Stock(f"shed {n}", long, 0, 1) for n, long in enumerate(left)]
    plan = cut_plan([Piece(str(n), length) for n, length in enumerate(lengths)], stocks, metre)
    best = least_by_arcs(lengths, reels, left, metre)
    print(f"cost {plan.cost}, bound {plan.bound:.2f}, arcs {best:.2f}")
    assert plan.proven
    assert best - 1e-6 <= plan.cost < best + 1
