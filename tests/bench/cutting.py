"""Cut plans of 20 to 2,000 pieces of all kinds: time, proof and gap, beside HiGHS alone.

Run it by hand: ``python tests/bench/cutting.py [pieces ...]``. The aims: proven within a second up
to 60 pieces, and at most one reel above the bound up to 2,000. Times are of the processor, so that
a busy machine doesn't count. The yardstick is HiGHS on the plain formulation (which piece lies in
which reel) for the first instances of each row, stopped after some seconds: how many times as long
it takes, and what our plan costs as a share of its own. Bars of six and four metres are harder
than reels by the metre, and stand apart from the aims.
"""

from __future__ import annotations

import random
import statistics
import sys
import time
from collections.abc import Sequence

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp

from shedtally.domain.cutting import cut_plan
from shedtally.domain.cutting.stock import CutPlan, Piece, Stock

SIZES = (20, 60, 200, 500, 2_000)
RUNS = {20: 20, 60: 20, 200: 8, 500: 5, 2_000: 3}
YARDSTICK_UP_TO = 60
YARDSTICK_S = 10.0
YARDSTICK_RUNS = 2

REELS = ((10_000, 3_100), (25_000, 5_500), (50_000, 9_800))
KINDS = (
    "one short reel",
    "one reel",
    "one long reel",
    "mixed reels",
    "leftovers",
    "metre",
    "leftovers and metre",
    "bars",
    "bars and metre",
)

Instance = tuple[list[Piece], list[Stock], int | None, int]


def instance(kind: str, count: int, seed: int) -> Instance:
    """Runs of 0.3 to 9 m at random, on reels as they are sold."""
    chance = random.Random(f"{kind} {count} {seed}")
    pieces = [Piece(str(n), chance.randrange(300, 9_000)) for n in range(count)]
    one = {"one short reel": 10_000, "one reel": 30_000, "one long reel": 100_000}
    if kind in one:
        return pieces, [Stock("reel", one[kind], 100)], None, 0
    if "bars" in kind:
        pieces = [Piece(str(n), chance.randrange(200, 4_000)) for n in range(count)]
        stocks = [Stock("6", 6_000, 560), Stock("4", 4_000, 400)]
        return pieces, stocks, 120 if "metre" in kind else None, 3
    stocks = [Stock(f"{length}", length, price) for length, price in REELS]
    if "leftovers" in kind:
        stocks += [
            Stock(f"shed {n}", chance.randrange(1_000, 12_000), 0, chance.choice((1, 1, 2)))
            for n in range(3)
        ]
    return pieces, stocks, 330 if "metre" in kind else None, chance.choice((0, 2))


def plain(found: Instance) -> tuple[float, float]:
    """Seconds that HiGHS takes, or as long as it was let; and the cost of its plan."""
    pieces, stocks, metre, kerf = found
    bins = [
        stock
        for stock in stocks
        for _ in range(stock.count or -(-2 * sum(p.length_mm for p in pieces) // stock.length_mm))
    ]
    n, m = len(pieces), len(bins)
    cost = np.concatenate(
        [
            np.zeros(n * m),
            [0 if b.count else b.price for b in bins],
            [(metre or 0) * p.length_mm / 1000 for p in pieces],
        ]
    )
    rows = np.zeros((n + m, n * m + m + n))
    for at in range(n):
        rows[at, at * m : (at + 1) * m] = 1
        rows[at, n * m + m + at] = 1
    for b, stock in enumerate(bins):
        for at, piece in enumerate(pieces):
            rows[n + b, at * m + b] = piece.length_mm + kerf
        rows[n + b, n * m + b] = -(stock.length_mm + kerf)
    top = np.ones(n * m + m + n)
    if metre is None:
        top[n * m + m :] = 0
    low = np.concatenate([np.ones(n), np.full(m, -np.inf)])
    start = time.process_time()
    answer = milp(
        cost,
        integrality=np.ones_like(cost),
        bounds=Bounds(0, top),
        constraints=LinearConstraint(rows, low, np.concatenate([np.ones(n), np.zeros(m)])),
        options={"time_limit": YARDSTICK_S, "mip_rel_gap": 0.0},
    )
    return time.process_time() - start, float("inf") if answer.x is None else float(answer.fun)


def gap_in_reels(plan: CutPlan, stocks: Sequence[Stock]) -> float:
    """By how many of the dearest reel the plan stands above the bound."""
    return (plan.cost - plan.bound) / max(stock.price for stock in stocks)


def beside(found: Instance, seconds: float, plan: CutPlan) -> tuple[float, float]:
    """How many times as long HiGHS takes alone, and our cost as a share of its own."""
    alone, cost = plain(found)
    return alone / max(seconds, 0.001), plan.cost / cost if cost else 1.0


def main() -> None:
    """Print a line for each kind and number of pieces."""
    sizes = [int(each) for each in sys.argv[1:]] or SIZES
    print(f"{'pieces':>6}  {'kind':20} {'median':>8} {'worst':>8} {'proven':>7} {'gap, reels':>10}"
          f"  HiGHS alone: time x, our cost")  # fmt: skip
    for count in sizes:
        for kind in KINDS:
            times, proven, gaps, alone = [], 0, [], []
            runs = RUNS.get(count, 5)
            for seed in range(runs):
                found = instance(kind, count, seed)
                start = time.process_time()
                plan = cut_plan(*found)
                times.append(time.process_time() - start)
                proven += plan.proven
                gaps.append(gap_in_reels(plan, found[1]))
                if count <= YARDSTICK_UP_TO and seed < YARDSTICK_RUNS:
                    alone.append(beside(found, times[-1], plan))
            ratio = ""
            if alone:
                longer, dearer = (statistics.median(column) for column in zip(*alone, strict=True))
                ratio = f"{longer:8.0f} x {dearer:6.3f}"
            print(f"{count:6}  {kind:20} {statistics.median(times):6.2f} s {max(times):6.2f} s"
                  f" {proven:3}/{runs:<3} {max(gaps):10.3f} {ratio}", flush=True)  # fmt: skip


if __name__ == "__main__":
    main()
