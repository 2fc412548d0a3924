"""The best weights for an inequality: what each piece is worth in the fractional plan.

Columns are made as they are needed [GilmoreGomory1961]: a linear programme over the patterns that
are known gives each length a worth, and the fullest pattern by worth is the next column, until
none pays. The worths become whole numbers and what a stock can yield of them is worked out anew,
so that no rounding error of the programme gets into a bound.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from shedtally.domain.cutting_cuts import Cut

_FINE = 20_000
_MOST_ROUNDS = 250
_MOST_NODES = 4_000
_TINY = 1e-7
_ALMOST_NONE = 0.05
# What is used at least so much of once is taken whole.
_NEARLY = 0.35


@dataclass(frozen=True, slots=True)
class Offer:
    """A stock length, kerf included, at a cost; ``count`` None: without limit."""

    length: int
    cost: float
    count: int | None


def worth_cut(
    lengths: Sequence[int], offers: Sequence[Offer], instead: Sequence[float], sizes: Sequence[int]
) -> tuple[float, Cut | None]:
    """The fractional optimum, and the inequality that its worths make.

    Args: lengths: longest first. instead: what each piece costs outside of any stock, for example
        by the metre. sizes: the stock lengths that the inequality is to speak of.
    Returns: the cost (as good as floating numbers are; not a bound by itself) and the cut, None
        if nothing is worth anything.
    """
    kinds = sorted(set(lengths), reverse=True)
    place = {length: at for at, length in enumerate(kinds)}
    demand = [0] * len(kinds)
    dear = [0.0] * len(kinds)
    for length, cost in zip(lengths, instead, strict=True):
        demand[place[length]] += 1
        dear[place[length]] = cost
    value, worth = _Programme(kinds, demand, dear, offers).solved()
    top = max(worth, default=0.0)
    if top <= _TINY:
        return value, None
    whole = [max(0, int(each / top * _FINE)) for each in worth]
    weights = tuple(whole[place[length]] for length in lengths)
    need = sum(weights)
    yields = tuple(_most(kinds, demand, whole, size)[0] for size in sizes)
    return value, Cut(weights, need, yields, None)


def dive(
    lengths: Sequence[int], offers: Sequence[Offer], instead: Sequence[float]
) -> list[tuple[int, tuple[int, ...]]]:
    """A whole plan from the fractional one: what it uses most is taken, the rest planned anew.

    Returns: offer and the places of its pieces; pieces in none are bought in the other way.
    """
    left: dict[int, list[int]] = {}
    dear: dict[int, float] = {}
    for at, (length, cost) in enumerate(zip(lengths, instead, strict=True)):
        left.setdefault(length, []).append(at)
        dear[length] = cost
    counts = [offer.count for offer in offers]
    done: list[tuple[int, tuple[int, ...]]] = []
    while any(left.values()):
        kinds = [length for length in sorted(left, reverse=True) if left[length]]
        now = [
            Offer(offer.length, offer.cost, count)
            for offer, count in zip(offers, counts, strict=True)
        ]
        programme = _Programme(
            kinds, [len(left[kind]) for kind in kinds], [dear[kind] for kind in kinds], now
        )
        programme.solved()
        taken = programme.most_used()
        if not taken:
            break
        for at, pattern in taken:
            if counts[at] == 0 or any(len(left[kinds[n]]) < many for n, many in pattern):
                continue  # what was taken just before has used it up
            pieces = [left[kinds[n]].pop() for n, many in pattern for _ in range(many)]
            if pieces:
                done.append((at, tuple(sorted(pieces))))
                held = counts[at]
                counts[at] = None if held is None else held - 1
    return done


class _Programme:
    """Cheapest fractional patterns that cover the demand; the revised simplex method."""

    def __init__(
        self,
        kinds: Sequence[int],
        demand: Sequence[int],
        dear: Sequence[float],
        offers: Sequence[Offer],
    ) -> None:
        self.kinds, self.demand, self.offers = kinds, demand, offers
        self.limited = [at for at, offer in enumerate(offers) if offer.count is not None]
        size = len(kinds) + len(self.limited)
        self.inverse = [[float(n == m) for m in range(size)] for n in range(size)]
        self.amount = [float(n) for n in demand]
        self.amount += [float(offers[at].count or 0) for at in self.limited]
        self.cost = [*dear, *([0.0] * len(self.limited))]
        self.basis: list[tuple[int, tuple[tuple[int, int], ...]] | None]
        self.basis = [None] * size
        self.offered: tuple[int, tuple[tuple[int, int], ...]] | None = None

    def solved(self) -> tuple[float, list[float]]:
        """The cost, and the worth of each kind."""
        for _ in range(_MOST_ROUNDS):
            worth = self._worths()
            if not self._improve(worth):
                break
        worth = self._worths()
        value = sum(c * x for c, x in zip(self.cost, self.amount, strict=True))
        return value, [max(0.0, each) for each in worth[: len(self.kinds)]]

    def most_used(self) -> list[tuple[int, tuple[tuple[int, int], ...]]]:
        """Patterns with their offers: as often as they are used whole, or else the one used most.

        Empty if all that is left is bought in the other way.
        """
        used = [
            (amount, pattern)
            for amount, pattern in zip(self.amount, self.basis, strict=True)
            if pattern is not None and amount > _ALMOST_NONE
        ]
        whole = [pattern for amount, pattern in used for _ in range(int(amount + _NEARLY))]
        if whole or not used:
            return whole
        apart = max(
            (
                amount
                for amount, pattern in zip(self.amount, self.basis, strict=True)
                if pattern is None
            ),
            default=0.0,
        )
        best = max(used, key=lambda pair: pair[0])
        return [] if best[0] < 0.3 and apart > 1 else [best[1]]

    def _worths(self) -> list[float]:
        size = len(self.inverse)
        total = [0.0] * size
        for cost, row in zip(self.cost, self.inverse, strict=True):
            if cost:
                total = [t + cost * each for t, each in zip(total, row, strict=True)]
        return total

    def _improve(self, worth: Sequence[float]) -> bool:
        """Bring in the column that pays most for each stock; False if none pays."""
        rows = len(self.kinds)
        for at in range(rows):  # more than the demand may be cut
            if worth[at] < -_TINY:
                column = [0.0] * len(self.inverse)
                column[at] = -1.0
                return self._pivot(column, 0.0)
        for n in range(len(self.limited)):
            if worth[rows + n] > _TINY:  # not all of what lies in the shed must be used
                column = [0.0] * len(self.inverse)
                column[rows + n] = 1.0
                return self._pivot(column, 0.0)
        self.offered = None
        best: tuple[float, list[float], float] | None = None
        gains = [max(0.0, each) for each in worth[:rows]]
        top = max(gains, default=0.0) or 1.0
        scaled = [int(each / top * _FINE * 50) for each in gains]
        for at, offer in enumerate(self.offers):
            _, pattern = _most(self.kinds, self.demand, scaled, offer.length)
            gain = sum(gains[n] * many for n, many in pattern) - offer.cost
            limit = self.limited.index(at) if at in self.limited else None
            if limit is not None:
                gain += worth[rows + limit]
            if gain > _TINY * max(1.0, top) and (best is None or gain > best[0]):
                column = [0.0] * len(self.inverse)
                for n, many in pattern:
                    column[n] = float(many)
                if limit is not None:
                    column[rows + limit] = 1.0
                best = (gain, column, offer.cost)
                self.offered = (at, tuple(pattern))
        return best is not None and self._pivot(best[1], best[2])

    def _pivot(self, column: Sequence[float], cost: float) -> bool:
        used = [(n, each) for n, each in enumerate(column) if each]
        step = [sum(row[n] * each for n, each in used) for row in self.inverse]
        leaves, least = -1, float("inf")
        for n, each in enumerate(step):
            if each > 1e-9 and self.amount[n] / each < least:
                leaves, least = n, self.amount[n] / each
        if leaves < 0:
            return False
        pivot = step[leaves]
        row = [each / pivot for each in self.inverse[leaves]]
        self.inverse[leaves] = row
        for n, each in enumerate(step):
            if n != leaves and each:
                self.amount[n] = max(0.0, self.amount[n] - each * least)
                self.inverse[n] = [a - each * b for a, b in zip(self.inverse[n], row, strict=True)]
        self.amount[leaves] = least
        self.cost[leaves] = cost
        self.basis[leaves], self.offered = self.offered, None
        return True


def _most(
    kinds: Sequence[int], demand: Sequence[int], worth: Sequence[int], room: int
) -> tuple[int, list[tuple[int, int]]]:
    """The most worth within ``room`` and a pattern: kind and how many.

    Depth first, the best worth for its length first. The first figure is never too small; where
    the search is cut short it may be too large.
    """
    order = sorted(
        (n for n in range(len(kinds)) if worth[n] and kinds[n] <= room),
        key=lambda n: -worth[n] / kinds[n],
    )
    if not order:
        return 0, []
    sizes = [kinds[n] for n in order]
    gains = [worth[n] for n in order]
    many = [demand[n] for n in order]
    last = len(order)
    least = [0] * (last + 1)
    least[last] = room + 1
    for n in range(last - 1, -1, -1):
        least[n] = min(least[n + 1], sizes[n])
    best, taken = -1, []
    ceiling = 0
    nodes = 0
    stack: list[tuple[int, int, int, tuple[tuple[int, int], ...]]] = [(0, room, 0, ())]
    while stack:
        at, spare, got, chosen = stack.pop()
        if got > best:
            best, taken = got, list(chosen)
        if at == last or spare < least[at]:
            continue
        bound = got + _at_most(sizes, gains, many, at, spare)
        if bound <= best:
            continue
        nodes += 1
        if nodes > _MOST_NODES:
            ceiling = max(ceiling, bound)
            continue
        fit = min(many[at], spare // sizes[at])
        for count in range(fit + 1):  # the largest count is looked at first
            grown = (*chosen, (order[at], count)) if count else chosen
            stack.append((at + 1, spare - count * sizes[at], got + count * gains[at], grown))
    return max(best, ceiling), taken


def _at_most(
    sizes: Sequence[int], gains: Sequence[int], many: Sequence[int], start: int, spare: int
) -> int:
    """What could be had if the last kind could be cut anywhere; whole, never too small."""
    total = 0
    for at in range(start, len(sizes)):
        whole = sizes[at] * many[at]
        if whole > spare:
            fit = spare // sizes[at]
            rest = spare - fit * sizes[at]
            return total + fit * gains[at] + rest * gains[at] // sizes[at]
        total += gains[at] * many[at]
        spare -= whole
    return total
