"""Cut plans against an exact solver: HiGHS, through SciPy, over all patterns that fit a reel.

Source: HiGHS (an independent solver of integer programmes); demands and patterns as in Gilmore and
Gomory's model of the cutting-stock problem.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp

from shedtally.domain.cutting import cut_plan
from shedtally.domain.cutting_stock import Piece, Stock

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
