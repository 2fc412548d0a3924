"""Inequalities that every way of cutting satisfies, and the cheapest reels that satisfy them all.

Give each piece a weight that is zero or more. No stock length can yield more weight than its
fullest pattern, so the yields of what is bought add up to at least the weight of all pieces. Each
choice of weights says something else; the cheapest purchase that satisfies every one of them costs
no more than the cheapest plan. That is the bound which is shown. The weights are those of dual
feasible functions: steps of a stock length [FeketeSchepers2001], whole lengths in which what is
nearly as long as a stock counts as one [MartelloToth1990].
"""

from __future__ import annotations

import heapq
import math
from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

_MOST_STEPS = 24
_MOST_LIMITS = 40

# Most ways of buying that are looked at; beyond it the bound is what has been reached.
_MOST_POPPED = 20_000


@dataclass(frozen=True, slots=True)
class Inequality:
    """Weights of the pieces, and what each stock length can yield of them.

    ``need``: the weight of all pieces; ``dear``: weight and cost of the pieces bought by the
    metre, summed up from the cheapest by weight on; None where nobody sells by the metre.
    """

    weights: tuple[int, ...]
    need: int
    yields: tuple[int, ...]
    dear: tuple[tuple[int, float], ...] | None = None


def inequalities_of(lengths: Sequence[int], stocks: Sequence[int]) -> tuple[Inequality, ...]:
    """The inequalities for pieces and stock of these lengths, mm with the kerf in both.

    Args: lengths: longest first.
    """
    found: dict[tuple[tuple[int, ...], int, tuple[int, ...]], Inequality] = {}
    for weights, yields in _families(lengths, stocks):
        need = sum(weights)
        if not need:
            continue
        one = Inequality(tuple(weights), need, tuple(yields))
        found[one.weights, need, one.yields] = one
    return tuple(found.values())


def with_dear(one: Inequality, instead: Sequence[float]) -> Inequality:
    """The inequality with what each piece costs by the metre."""
    rows = sorted(
        (cost / weight, weight, cost)
        for weight, cost in zip(one.weights, instead, strict=True)
        if weight
    )
    sums, weights, costs = [(0, 0.0)], 0, 0.0
    for _, weight, cost in rows:
        weights, costs = weights + weight, costs + cost
        sums.append((weights, costs))
    return replace(one, dear=tuple(sums))


def dear_for(one: Inequality, short: int) -> float:
    """The least that pieces of so much weight cost by the metre, the last one cut anywhere."""
    sums = one.dear or ()
    at = bisect_left(sums, short, key=lambda pair: pair[0])
    if at in (0, len(sums)):
        return 0.0 if at == 0 else float("inf")
    (low, cheap), (high, dear) = sums[at - 1], sums[at]
    return cheap + (dear - cheap) * (short - low) / (high - low)


def left_out(one: Inequality, cost: float) -> int:
    """The most weight that so much money buys by the metre, rounded up."""
    sums = one.dear or ()
    at = bisect_right(sums, cost, key=lambda pair: pair[1])
    if at in (0, len(sums)):
        return one.need if at else 0
    (low, cheap), (high, dear) = sums[at - 1], sums[at]
    return low + math.ceil((high - low) * (cost - cheap) / (dear - cheap))


def _families(
    lengths: Sequence[int], stocks: Sequence[int]
) -> Iterator[tuple[list[int], list[int]]]:
    yield list(lengths), [_fullest(lengths, stock) for stock in stocks]
    distinct = sorted(set(lengths))
    for whole in sorted(set(stocks)):
        for step in range(1, _MOST_STEPS + 1):
            weights = [max(0, -(-length * (step + 1) // whole) - 1) for length in lengths]
            yield weights, _most_of(weights, lengths, stocks)
        for limit in _limits(distinct, whole):
            yield (
                [_nearly(length, limit, whole) for length in lengths],
                [_most_nearly(lengths, limit, whole, stock) for stock in stocks],
            )


def _limits(distinct: Sequence[int], whole: int) -> list[int]:
    """Lengths up to half the stock, all if they are few, else spread over them."""
    halves = distinct[: bisect_right(distinct, whole // 2)]
    every = max(1, len(halves) // _MOST_LIMITS)
    return [length for length in halves[::every] if length > 0]


def _nearly(length: int, limit: int, whole: int) -> int:
    """A piece beside which not even ``limit`` fits counts as the whole stock; a short one as 0."""
    if length > whole - limit:
        return max(whole, length)
    return length if length >= limit else 0


def _most_nearly(lengths: Sequence[int], limit: int, whole: int, stock: int) -> int:
    """The most that ``stock`` yields of these weights: so many near-whole ones, the rest in mm."""
    near = sorted(length for length in lengths if length > whole - limit)
    best, used, worth = stock, 0, 0
    for length in near:
        used += length
        worth += max(whole, length)
        if used > stock:
            break
        rest = stock - used
        best = max(best, worth + (rest if rest >= limit else 0))
    return best


def _most_of(weights: Sequence[int], lengths: Sequence[int], stocks: Sequence[int]) -> list[int]:
    """The most weight within each stock: least length for each sum of weights, piece by piece."""
    top = max(stocks)
    by_weight: dict[int, list[int]] = {}
    for weight, length in zip(weights, lengths, strict=True):
        if weight:
            by_weight.setdefault(weight, []).append(length)
    least: dict[int, int] = {0: 0}
    for weight, group in by_weight.items():
        group.sort()
        sums = [0]
        for length in group:
            if sums[-1] + length > top:
                break
            sums.append(sums[-1] + length)
        merged: dict[int, int] = {}
        for at, used in least.items():
            for count, more in enumerate(sums):
                total = used + more
                if total > top:
                    break
                worth = at + count * weight
                if total < merged.get(worth, top + 1):
                    merged[worth] = total
        least = merged
    return [max(worth for worth, used in least.items() if used <= stock) for stock in stocks]


def _fullest(lengths: Sequence[int], stock: int) -> int:
    """The longest sum of pieces that fits."""
    mask = (1 << (stock + 1)) - 1
    reached = 1
    for length in lengths:
        reached |= (reached << length) & mask
        if reached >> stock:
            return stock
    return reached.bit_length() - 1


@dataclass(frozen=True, slots=True)
class Purchase:
    """So many of each stock, and what no plan that buys exactly these costs less than."""

    counts: tuple[int, ...]
    cost: float
    complete: bool


def purchases(
    inequalities: Sequence[Inequality],
    prices: Sequence[int],
    given: Sequence[int],
    bought: Sequence[int],
) -> Iterator[Purchase]:
    """Ways of buying in the order of the least they can cost, cheapest first.

    Args: prices: of each stock, with those in ``given`` (how many lie in the shed) free; only the
        places in ``bought`` can be had without limit.
    Yields: purchases that no inequality excludes. ``complete`` is False for the last one if the
        search ended early: nothing cheaper than its cost exists, that is all it says.
    """
    held = [
        sum(n * y for n, y in zip(given, one.yields, strict=True)) - one.need
        for one in inequalities
    ]
    order = sorted(bought, key=lambda at: prices[at])
    ahead = _ahead(inequalities, prices, order)
    first = (ahead(held, 0), 0, (0,) * len(order), tuple(held), 0, 0)
    heap = [(first[0], 1, *first[2:])]
    popped = 0
    while heap:
        bound, open_end, counts, deficits, spent, last = heapq.heappop(heap)
        popped += 1
        if not open_end or popped > _MOST_POPPED:
            yield Purchase(_spread(counts, order, len(prices)), bound, not open_end)
            if open_end:
                return
            continue
        closed = _closed(inequalities, deficits)
        if closed is not None:
            heapq.heappush(heap, (spent + closed, 0, counts, deficits, spent, last))
        for at in range(last, len(order)):
            more = tuple(
                have + one.yields[order[at]]
                for have, one in zip(deficits, inequalities, strict=True)
            )
            cost = spent + prices[order[at]]
            grown = tuple(n + (place == at) for place, n in enumerate(counts))
            heapq.heappush(heap, (cost + ahead(more, at), 1, grown, more, cost, at))


def _spread(counts: Sequence[int], order: Sequence[int], places: int) -> tuple[int, ...]:
    whole = [0] * places
    for at, count in zip(order, counts, strict=True):
        whole[at] = count
    return tuple(whole)


def _closed(inequalities: Sequence[Inequality], have: Sequence[int]) -> float | None:
    """What is still to be paid by the metre if no more stock is bought; None: it can't be."""
    worst = 0.0
    for one, amount in zip(inequalities, have, strict=True):
        if amount < 0:
            if one.dear is None:
                return None
            worst = max(worst, dear_for(one, -amount))
    return worst


def _ahead(
    inequalities: Sequence[Inequality], prices: Sequence[int], order: Sequence[int]
) -> Callable[[Sequence[int], int], float]:
    """The least that what is missing can cost, if only stock from a place on may be added."""
    rates: list[list[float]] = []
    for last in range(len(order)):
        row = []
        for one in inequalities:
            ways = [prices[at] / one.yields[at] for at in order[last:] if one.yields[at]]
            if one.dear is not None:
                weight, cost = one.dear[1]
                ways.append(cost / weight)
            row.append(min(ways, default=float("inf")))
        rates.append(row)

    def ahead(have: Sequence[int], last: int) -> float:
        if not rates:
            return _closed(inequalities, have) or 0.0
        row = rates[last]
        return max(
            (-amount * rate for amount, rate in zip(have, row, strict=True) if amount < 0),
            default=0.0,
        )

    return ahead
