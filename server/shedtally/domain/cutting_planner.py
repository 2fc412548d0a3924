"""Working out a cut plan: the cheapest purchase that nothing excludes is tried, then the next.

A purchase is filled. Where that doesn't reach the least it can cost, the worths of the pieces in
its fractional plan make a new inequality, or all patterns that could do better are put together
by HiGHS, which finds the plan or excludes the purchase. What is left open by both ends the proof,
not the plan.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from shedtally.domain.cutting_cuts import (
    Cut,
    Purchase,
    cuts_of,
    dear_for,
    left_out,
    purchases,
    with_dear,
)
from shedtally.domain.cutting_fill import Shaken, fill, fill_apart, squeeze
from shedtally.domain.cutting_found import Found, Used
from shedtally.domain.cutting_knapsack import MOST_PATTERNS, Pattern, cheapest_left, near_patterns
from shedtally.domain.cutting_programme import Offer, Programme, chosen_patterns
from shedtally.domain.cutting_task import Task

# Above so many lengths the fractional plan takes too long: only the inequalities are used.
MOST_SOLVED = 120
MOST_CELLS = 12_000_000
_SHAKES = 24
_SQUEEZED = 120
_EASES = (0.0, 1.0, 2.0, 0.0, 4.0)
_SHARES = (0.6, 0.75, 0.4, 0.5, 0.9, 0.3)
_MOST_PURCHASES = 60
_MOST_UNSETTLED = 3
# Other inequalities that a pattern must satisfy too; more would cost more than they save.
_MOST_SIEVES = 6


class Planner:
    """One plan in the making: what was found, and what is known of any other."""

    def __init__(self, task: Task) -> None:
        self.task = task
        self.found = Found(task)
        longest_first = sorted(set(task.lengths), reverse=True)
        self.kinds = {length: at for at, length in enumerate(longest_first)}
        kinds = len(self.kinds)
        self.few = len(task.lengths) <= MOST_SOLVED
        self.solved = kinds <= MOST_SOLVED and kinds * max(task.sizes, default=0) <= MOST_CELLS
        self.instead = [float((task.metre or 1) * piece.length_mm) for piece in task.pieces]
        self.cuts: list[Cut] = []
        self.excluded: set[tuple[int, ...]] = set()
        self.known: dict[tuple[int, ...], float] = {}
        self.unsettled: list[float] = []
        self.tried: dict[tuple[int, Pattern], None] = {}

    def planned(self) -> float:
        """Look for the plan; what no plan costs less than."""
        task = self.task
        self.cuts = [self._dear(cut) for cut in cuts_of(task.lengths, task.sizes)]
        bound = 0.0
        rooted = not self.solved
        for _ in range(2 * _MOST_PURCHASES):
            purchase = self._cheapest()
            bound = purchase.cost
            if self.found.is_within(bound) or not purchase.complete:
                break
            if purchase.counts not in self.known:
                self.known[purchase.counts] = self._least_of(purchase)
                continue
            self._fill(purchase)
            if self.found.is_within(bound):
                break
            if not rooted:
                rooted = True
                self._at_root()
            elif not self._looked_into(purchase):
                break
        if self.found.cost is None:
            self._fill(Purchase((0,) * len(task.stocks), 0.0, complete=False))
        return self.unsettled[0] if self.unsettled else bound

    def _cheapest(self) -> Purchase:
        task = self.task
        ways = purchases(self.cuts, task.prices, task.given, task.bought)
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
        """What a purchase costs at least, with whole pieces by the metre for what it lacks."""
        places = self.task.places(purchase.counts)
        apart = self._apart(places, 0)
        return self.task.spent(places) + sum(self.instead[at] for at in apart)

    def _dear(self, cut: Cut) -> Cut:
        return cut if self.task.metre is None else with_dear(cut, self.instead)

    def _at_root(self) -> None:
        """The inequality of the fractional optimum with all that is on offer."""
        task = self.task
        offers = [
            Offer(size, 0.0 if given else float(price), given or None)
            for size, price, given in zip(task.sizes, task.prices, task.given, strict=True)
        ]
        instead = self.instead
        if task.metre is None:
            each = [(task.sizes[at], float(task.prices[at])) for at in task.bought]
            worst = sum(task.prices) + 1.0
            instead = [
                min((price for size, price in each if size >= length), default=worst)
                for length in task.lengths
            ]
        cut = self._programme(offers, instead).worth_cut(task.sizes)
        if cut is not None:
            self.cuts.append(self._dear(cut))

    def _programme(self, offers: Sequence[Offer], instead: Sequence[float]) -> Programme:
        """A programme that begins with the patterns of the best plan so far."""
        programme = Programme(self.task.lengths, offers, instead)
        for at, pattern in self.found.cut:
            for other, offer in enumerate(offers):
                if offer.count != 0 and offer.length >= self.task.sizes[at]:
                    programme.add(other, pattern)
        return programme

    def _fill(self, purchase: Purchase) -> None:
        places = self.task.places(purchase.counts)
        for seed in range(_SHAKES if self.few else len(_EASES)):
            self._fill_once(places, seed)
            if self.found.is_within(purchase.cost):
                return

    def _fill_once(self, places: Sequence[int], seed: int) -> None:
        task = self.task
        apart = self._apart(places, seed)
        inside = [at for at in range(len(task.lengths)) if at not in apart]
        lengths = [task.lengths[at] for at in inside]
        sizes = [task.sizes[at] for at in places]
        over: Sequence[int] = ()
        patterns: Sequence[Pattern] | None = None
        if seed % 3 == 2:
            patterns = squeeze(lengths, sizes, _SQUEEZED)
        if patterns is None:
            ease = _EASES[seed % len(_EASES)]
            filled = (
                fill_apart(lengths, sizes, seed, _SHARES[seed // 3 % len(_SHARES)])
                if seed % 3 == 1
                else fill(lengths, sizes, seed * self.few, ease)
            )
            patterns, over = filled.patterns, filled.over
        used: Used = [
            (at, tuple(inside[n] for n in pattern))
            for at, pattern in zip(places, patterns, strict=True)
        ]
        if self.solved and len(self.tried) < MOST_PATTERNS:
            self.tried.update(dict.fromkeys((at, self._kinds(p)) for at, p in used if p))
        self.found.take(used, [*apart, *(inside[n] for n in over)])

    def _apart(self, places: Sequence[int], seed: int) -> set[int]:
        """What to buy by the metre, so that the rest may fill all stock to the brim."""
        task = self.task
        if task.metre is None:
            return set()
        whole = self.cuts[0]
        short = whole.need - sum(whole.yields[at] for at in places)
        if short <= 0:
            return set()
        shaken = Shaken(seed)
        among = [at for at in range(len(task.lengths)) if not seed or shaken.below(100) < 75]
        costs = [int(self.instead[at]) for at in among]
        left = cheapest_left([task.lengths[at] for at in among], costs, short)
        return {among[n] for n in left}

    def _looked_into(self, purchase: Purchase) -> bool:
        """Learn why a purchase has no plan at its cost, or find it; False: enough was tried."""
        if self.solved:
            cut = self._sharpened(purchase)
            if cut is not None:
                self.cuts.append(cut)
                return True
            if self._put_together(purchase):
                self.excluded.add(purchase.counts)
                return True
            if self.found.is_within(purchase.cost):
                return False
        self.excluded.add(purchase.counts)
        self.unsettled.append(purchase.cost)
        return len(self.unsettled) < _MOST_UNSETTLED

    def _sharpened(self, purchase: Purchase) -> Cut | None:
        """An inequality that says that this purchase is too little, or costs more."""
        task = self.task
        amounts = [n + m for n, m in zip(purchase.counts, task.given, strict=True)]
        offers = [Offer(size, 0.0, n) for size, n in zip(task.sizes, amounts, strict=True)]
        programme = self._programme(offers, self.instead)
        cut = programme.worth_cut(task.sizes)
        if cut is not None:
            cut = self._dear(cut)
            short = cut.need - sum(n * y for n, y in zip(amounts, cut.yields, strict=True))
            if short > 0 and cut.dear is None:
                return cut
            spent = task.spent(task.places(purchase.counts))
            if short > 0 and spent + dear_for(cut, short) > purchase.cost + task.coin / 10:
                return cut
        # Patterns of whole plans go together better than those of a fractional one alone.
        self._choose(purchase, list({**programme.columns, **self.tried}))
        return None

    def _put_together(self, purchase: Purchase) -> bool:
        """Whether all patterns that could do better were tried, and the best plan of them taken."""
        task = self.task
        if self.found.is_within(purchase.cost):
            return True
        places = task.places(purchase.counts)
        most = self._most_apart(places)
        if most is not None and most < 0:
            return True
        sieves = sorted((self._sieve(cut, places, most) for cut in self.cuts), key=_tightness)
        (cut, slack), others = sieves[0], sieves[1:_MOST_SIEVES]
        if slack < 0:
            return True
        columns: list[tuple[int, Pattern]] = []
        for at in sorted(set(places)):
            patterns, all_of_them = near_patterns(
                task.lengths, cut.weights, task.sizes[at], max(0, cut.yields[at] - slack)
            )
            if not all_of_them or len(columns) + len(patterns) > MOST_PATTERNS:
                return False
            columns += [
                (at, pattern)
                for pattern in patterns
                if all(
                    sum(other.weights[n] for n in pattern) + room >= other.yields[at]
                    for other, room in others
                )
            ]
        return self._choose(purchase, [(at, self._kinds(pattern)) for at, pattern in columns])

    def _sieve(self, cut: Cut, places: Sequence[int], most: float | None) -> tuple[Cut, int]:
        """How much weight all patterns of a better plan may miss together."""
        have = sum(cut.yields[at] for at in places)
        return cut, have - cut.need + (0 if most is None else left_out(cut, most))

    def _kinds(self, pattern: Pattern) -> Pattern:
        return tuple(self.kinds[self.task.lengths[n]] for n in pattern)

    def _most_apart(self, places: Sequence[int]) -> float | None:
        """How much may be paid by the metre if a plan is to be cheaper than the best so far."""
        if self.task.metre is None or self.found.cost is None:
            return None
        return self.found.cost - self.task.coin - self.task.spent(places)

    def _choose(self, purchase: Purchase, columns: Sequence[tuple[int, Pattern]]) -> bool:
        """Let HiGHS choose among patterns; whether no better choice among them exists."""
        task = self.task
        amounts = [n + m for n, m in zip(purchase.counts, task.given, strict=True)]
        most = self._most_apart(task.places(purchase.counts))
        picked, certain = chosen_patterns(task.lengths, columns, amounts, self.instead, most)
        if picked is not None:
            held = {n for _, pattern in picked for n in pattern}
            self.found.take(picked, [n for n in range(len(task.lengths)) if n not in held])
        return certain


def _tightness(sieve: tuple[Cut, int]) -> float:
    cut, slack = sieve
    return slack / max(1, cut.need)
