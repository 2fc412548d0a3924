"""The best plan of one purchase: all patterns that could do better, put together by HiGHS.

Few patterns come near to the least that a purchase can cost, so plans are looked for within a
little of it first, then within more. Of stock so long that nearly any pieces fill it only the sum
counts, and what is bought by the metre is a pattern like the others: a few pieces whose sum is
what the stock lacks.
"""

from __future__ import annotations

from collections.abc import Sequence

from shedtally.domain.cutting.choice import Choice, chosen_patterns
from shedtally.domain.cutting.found import Found
from shedtally.domain.cutting.inequalities import Inequality, Purchase, left_out
from shedtally.domain.cutting.knapsack import Pattern, near_patterns
from shedtally.domain.cutting.task import COIN, Task
from shedtally.domain.cutting.tries import Tries

# How far above the least cost a plan is looked for, in coins.
_WINDOWS = (1, 4, 12, 40, 200, 1000)
# Other inequalities that a pattern must satisfy too; more would cost more than they save.
_MOST_SIEVES = 6
# Above so many near patterns only the sum of a long stock counts.
_POOLED = 300
# With more, HiGHS may take half a minute to save some coins; people wait for the list.
_MOST_COLUMNS = 1_000
_MOST_APART = 2_000
_INFINITE = float("inf")


class Together:
    """Plans of one purchase after the other; the best ones go to ``found``."""

    def __init__(self, task: Task, found: Found, tries: Tries) -> None:
        self.task, self.found, self.tries = task, found, tries

    def least(self, purchase: Purchase, inequalities: Sequence[Inequality]) -> float:
        """What no plan of this purchase costs less than; the best one is taken if it is found."""
        task = self.task
        places = task.places(purchase.counts)
        spent = task.spent(places)
        known = purchase.cost
        for window in _WINDOWS if task.metre is not None else (0,):
            most = None
            if task.metre is not None:
                most = min(self._better() - spent, purchase.cost - spent + window * COIN)
                if most < 0:
                    break
            choice = self._within(inequalities, places, most)
            if choice is None:
                choice = Choice(list(self.tries.patterns), self._amounts(places))
                choice.most = None if most is None else self._better() - spent
                self._choose(choice)
                break
            least = _INFINITE if choice.none else self._choose(choice)
            # Nothing within the window: a thousandth more than it holds.
            known = max(known, spent + (least if most is None else min(least, most + 1)))
            if least < _INFINITE or self.found.is_within(known):
                break
        return known

    def _better(self) -> float:
        """What a plan costs at most if it is cheaper than the best so far."""
        return _INFINITE if self.found.cost is None else self.found.cost - self.task.coin

    def _amounts(self, places: Sequence[int]) -> list[int]:
        return [places.count(at) for at in range(len(self.task.sizes))]

    def _within(
        self, inequalities: Sequence[Inequality], places: Sequence[int], most: float | None
    ) -> Choice | None:
        """All patterns of plans that buy by the metre for ``most``; None: they are too many."""
        task = self.task
        sieves = sorted((_sieve(one, places, most) for one in inequalities), key=_tightness)
        (one, slack), others = sieves[0], sieves[1:_MOST_SIEVES]
        choice = Choice([], self._amounts(places), most=most)
        choice.aparts = self._aparts(one, places, most)
        if slack < 0 or choice.aparts == []:
            choice.none = True
            return choice
        for at in sorted(set(places)):
            patterns, all_of_them = near_patterns(
                task.lengths, one.weights, task.sizes[at], max(0, one.yields[at] - slack)
            )
            if task.is_long(at) and (not all_of_them or len(patterns) > _POOLED):
                choice.pooled.append(at)
                choice.pool += choice.counts[at] * self.tries.yields[at]
                continue
            if not all_of_them or len(choice.columns) + len(patterns) > _MOST_COLUMNS:
                return None
            choice.columns += [
                (at, task.kinds(pattern))
                for pattern in patterns
                if all(
                    sum(other.weights[n] for n in pattern) + room >= other.yields[at]
                    for other, room in others
                )
            ]
        return choice

    def _aparts(
        self, one: Inequality, places: Sequence[int], most: float | None
    ) -> list[Pattern] | None:
        """All ways to buy by the metre what the stock lacks; None if they are too many."""
        task = self.task
        if most is None or not task.metre:
            return None
        lengths = [piece.length_mm for piece in task.pieces]
        short = one.need - sum(one.yields[at] for at in places)
        patterns, all_of_them = near_patterns(
            lengths, one.weights, int(most // task.metre), short, most=_MOST_APART, whole=False
        )
        return [task.kinds(pattern) for pattern in patterns] if all_of_them else None

    def _choose(self, choice: Choice) -> float:
        """Let HiGHS choose; what no choice costs less than by the metre."""
        task = self.task
        chosen = chosen_patterns(task.lengths, choice, task.instead, task.coin / 2)
        if chosen.picked is not None:
            places = [at for at in choice.pooled for _ in range(choice.counts[at])]
            used = [*chosen.picked, *self.tries.split(chosen.in_pool, places)]
            held = {n for _, pattern in used for n in pattern}
            self.found.take(used, [n for n in range(len(task.lengths)) if n not in held])
        return chosen.least


def _sieve(one: Inequality, places: Sequence[int], most: float | None) -> tuple[Inequality, int]:
    """How much weight all patterns of a plan may miss together."""
    have = sum(one.yields[at] for at in places)
    return one, have - one.need + (0 if most is None else left_out(one, most))


def _tightness(sieve: tuple[Inequality, int]) -> float:
    one, slack = sieve
    return slack / max(1, one.need)
