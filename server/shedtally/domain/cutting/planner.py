"""Working out a cut plan: the cheapest purchase that nothing excludes is tried, then the next.

A purchase is filled. Where that doesn't reach the least it can cost, the worths of the pieces in
its fractional plan make a new inequality, or all patterns that could do better are put together
by HiGHS, which finds the plan or excludes the purchase. What is left open by both ends the proof,
not the plan. Many pieces are planned by rounding, against the worths of one fractional plan.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from shedtally.domain.cutting.found import Found
from shedtally.domain.cutting.inequalities import (
    Inequality,
    Purchase,
    dear_for,
    inequalities_of,
    purchases,
    with_dear,
)
from shedtally.domain.cutting.programme import Offer, Programme
from shedtally.domain.cutting.rounding import Rounding
from shedtally.domain.cutting.task import Task
from shedtally.domain.cutting.together import Together
from shedtally.domain.cutting.tries import FEW_PIECES, Tries

# Above so many lengths, and mm of stock for each, the fractional plan of all takes too long.
_MOST_SOLVED = 120
_MOST_CELLS = 12_000_000
_MANY_CELLS = 60_000_000
_MOST_ROUNDS = 120
# So many for what rounding leaves: there is no proof to be had of it.
_FEW_ROUNDS = 8
_MOST_UNSETTLED = 3
# What rounding leaves for a plan by itself.
_ROUNDED_TO = 80
# Rounds for the worths of many pieces: so many lengths and rounds together.
_LENGTHS_AND_ROUNDS = 20_000


class Planner:
    """One plan in the making: what was found, and what is known of any other."""

    def __init__(self, task: Task) -> None:
        self.task = task
        self.found = Found(task)
        self.inequalities = [self._dear(one) for one in inequalities_of(task.lengths, task.sizes)]
        kinds = len(set(task.lengths))
        self.cells = kinds * max(task.sizes, default=0)
        self.rounds = min(60, _LENGTHS_AND_ROUNDS // kinds)
        self.solved = kinds <= _MOST_SOLVED and self.cells <= _MOST_CELLS
        self.tries = Tries(task, self.found, self.inequalities[0].yields)
        self.together = Together(task, self.found, self.tries)
        self.rooted = False
        self.filled: set[tuple[int, ...]] = set()
        self.sharpened: set[tuple[int, ...]] = set()
        self.excluded: set[tuple[int, ...]] = set()
        self.known: dict[tuple[int, ...], float] = {}
        self.unsettled: list[float] = []

    def planned(self, rounding: bool = True) -> float:
        """Look for the plan; what no plan costs less than.

        Args: rounding: False for what rounding has left.
        """
        task = self.task
        bound = 0.0
        for _ in range(_MOST_ROUNDS if rounding else _FEW_ROUNDS):
            purchase = self._cheapest()
            bound = purchase.cost
            if self.found.is_within(bound) or not purchase.complete:
                break
            if purchase.counts not in self.known:
                self.known[purchase.counts] = self._least_of(purchase)
                continue
            if not self._tried(purchase, rounding):
                break
        if self.found.cost is None:
            self.tries.until(task.places((0,) * len(task.stocks)), 0.0)
        return min([bound, *self.unsettled])

    def _tried(self, purchase: Purchase, rounding: bool) -> bool:
        """Fill a purchase, or look into why it can't be filled; False: that is enough."""
        if self.rooted and not self.solved:
            return False
        if purchase.counts not in self.filled:
            self.filled.add(purchase.counts)
            self.tries.until(self.task.places(purchase.counts), purchase.cost)
            if self.found.is_within(purchase.cost):
                return False
        if self.rooted:
            return self._looked_into(purchase)
        self.rooted = True
        if rounding and len(self.task.pieces) > FEW_PIECES:
            self._round()
        if self._needs_root(purchase.cost):
            self._at_root()
        return True

    def _cheapest(self) -> Purchase:
        task = self.task
        ways = purchases(self.inequalities, task.prices, task.given, task.bought)
        # Where nothing can be bought, what lies in the shed may not be enough for all pieces.
        none = Purchase((0,) * len(task.stocks), float("inf"), complete=False)
        best = none
        for way in ways:
            if way.cost >= best.cost:
                break
            if not way.complete or way.counts not in self.excluded:
                least = max(way.cost, self.known.get(way.counts, 0.0))
                if least < best.cost:
                    best = replace(way, cost=least)
        return best

    def _least_of(self, purchase: Purchase) -> float:
        """What a purchase costs at least, with whole pieces by the metre for what it lacks.

        Of very many pieces no more than the inequalities say.
        """
        places = self.task.places(purchase.counts)
        apart = self.tries.least_apart(places)
        if apart is None:
            return purchase.cost
        return self.task.spent(places) + sum(self.task.instead[at] for at in apart)

    def _dear(self, one: Inequality) -> Inequality:
        return one if self.task.metre is None else with_dear(one, self.task.instead)

    def _round(self) -> None:
        """A plan by rounding, and what that leaves planned by itself."""
        task = self.task
        rounding = Rounding(task)
        rounding.until(_ROUNDED_TO)
        self.tries.patterns.update(rounding.columns)
        left, used, over = rounding.left, rounding.used, rounding.apart
        if left:
            rest = Planner(task.part(left, rounding.given))
            rest.planned(rounding=False)
            used += [(at, tuple(left[n] for n in pattern)) for at, pattern in rest.found.cut]
            over += [left[n] for n in rest.found.over]
        self.found.take(used, over)

    def _needs_root(self, bound: float) -> bool:
        """Whether the worths of all pieces are worked out; of very many, if the gap is a reel."""
        if self.cells <= _MOST_CELLS:
            return not self.found.is_within(bound)
        reel = max((self.task.prices[at] for at in self.task.bought), default=0)
        return self.cells <= _MANY_CELLS and not self.found.is_within(bound + reel)

    def _at_root(self) -> None:
        """The inequality of the fractional optimum with all that is on offer."""
        task = self.task
        programme = self._programme(task.offers(task.given), task.root_instead)
        for at, pattern in self.tries.patterns:
            programme.add_kinds(at, pattern)
        one = programme.worth_inequality(task.sizes, self.rounds)
        if one is not None:
            self.inequalities.append(self._dear(one))

    def _programme(self, offers: Sequence[Offer], instead: Sequence[float]) -> Programme:
        """A programme that begins with the patterns of the best plan so far."""
        programme = Programme(self.task.lengths, offers, instead)
        for at, pattern in self.found.cut:
            for other, offer in enumerate(offers):
                if offer.count != 0 and offer.length >= self.task.sizes[at]:
                    programme.add(other, pattern)
        return programme

    def _looked_into(self, purchase: Purchase) -> bool:
        """Learn why a purchase has no plan at its cost, or find it; False: enough was tried."""
        if purchase.counts not in self.sharpened:
            self.sharpened.add(purchase.counts)
            one = self._sharpened(purchase)
            if one is not None:
                self.inequalities.append(one)
                return True
        least = self.together.least(purchase, self.inequalities)
        self.known[purchase.counts] = least
        if least > purchase.cost or self.found.is_within(least):
            return True
        self.excluded.add(purchase.counts)
        self.unsettled.append(least)
        return len(self.unsettled) < _MOST_UNSETTLED

    def _sharpened(self, purchase: Purchase) -> Inequality | None:
        """An inequality that says that this purchase is too little, or costs more."""
        task = self.task
        places = task.places(purchase.counts)
        amounts = [places.count(at) for at in range(len(task.sizes))]
        offers = [Offer(size, 0.0, n) for size, n in zip(task.sizes, amounts, strict=True)]
        programme = self._programme(offers, task.instead)
        one = programme.worth_inequality(task.sizes)
        self.tries.patterns.update(programme.columns)
        if one is None:
            return None
        one = self._dear(one)
        short = one.need - sum(n * y for n, y in zip(amounts, one.yields, strict=True))
        if short > 0 and one.dear is None:
            return one
        costs = task.spent(places) + dear_for(one, short) if short > 0 else 0.0
        return one if costs > purchase.cost + task.coin / 10 else None
