"""Filling a purchase in many ways, one after the other, until one costs no more than it must."""

from __future__ import annotations

from collections.abc import Sequence

from shedtally.domain.cutting.fill import Shaken, brim, fill, fill_apart, squeeze
from shedtally.domain.cutting.found import Found, Used
from shedtally.domain.cutting.knapsack import MOST_PATTERNS, Pattern, cheapest_left
from shedtally.domain.cutting.task import Task

# Up to so many pieces a plan is looked for with all that there is.
FEW_PIECES = 120
_SHAKES = 48
_SQUEEZED = 120
_EASES = (0.0, 1.0, 2.0, 0.0, 4.0)
_SHARES = (0.6, 0.75, 0.4, 0.5, 0.9, 0.3)


class Tries:
    """Ways to fill stock; ``patterns`` are those that came up, for HiGHS to put together anew.

    ``yields``: the longest sum of pieces within each stock.
    """

    def __init__(self, task: Task, found: Found, yields: Sequence[int]) -> None:
        self.task, self.found, self.yields = task, found, yields
        self.few = len(task.lengths) <= FEW_PIECES
        self.patterns: dict[tuple[int, Pattern], None] = {}

    def until(self, places: Sequence[int], bound: float) -> None:
        """Fill these in one way after the other until a plan is within the bound."""
        for seed in range(_SHAKES if self.few else len(_EASES)):
            self._once(places, seed)
            if self.found.is_within(bound):
                return

    def apart(
        self, pieces: Sequence[int], places: Sequence[int], seed: int = 0, more: int = 0
    ) -> set[int]:
        """What to buy by the metre, so that the rest may fill all stock to the brim.

        Args: more: mm that may be wasted after all.
        """
        short = self._short(pieces, places)
        if short <= 0:
            return set()
        shaken = Shaken(seed)
        among = [at for at in pieces if not seed or shaken.below(100) < 75]
        left = self._cheapest(among, short + more)
        return left if left is not None else self._shortest(among, short + more)

    def least_apart(self, places: Sequence[int]) -> set[int] | None:
        """The pieces to buy by the metre that cost least of any plan with this stock.

        None where that would take too long to say.
        """
        pieces = range(len(self.task.lengths))
        short = self._short(pieces, places)
        return self._cheapest(pieces, short) if short > 0 else set()

    def _short(self, pieces: Sequence[int], places: Sequence[int]) -> int:
        """What the stock lacks for these, mm; 0 where nobody sells by the metre."""
        if self.task.metre is None:
            return 0
        room = sum(self.yields[at] for at in places)
        return sum(self.task.lengths[at] for at in pieces) - room

    def _cheapest(self, pieces: Sequence[int], short: int) -> set[int] | None:
        costs = [int(self.task.instead[at]) for at in pieces]
        left = cheapest_left([self.task.lengths[at] for at in pieces], costs, short)
        return None if left is None else {pieces[n] for n in left}

    def _shortest(self, pieces: Sequence[int], short: int) -> set[int]:
        """Enough pieces, the shortest first: of a metre of them the cuts take most."""
        left = set[int]()
        for at in reversed(pieces):
            if short <= 0:
                break
            left.add(at)
            short -= self.task.lengths[at]
        return left

    def split(self, pieces: Sequence[int], places: Sequence[int]) -> Used:
        """Stock so long that nearly any pieces fill it, with these; what finds no room is left."""
        ways = (self._filled(places, pieces, seed) for seed in range(1, _SHAKES))
        best = next(ways)
        for way in ways:
            if not best[1]:
                break
            best = min(best, way, key=lambda one: sum(self.task.lengths[at] for at in one[1]))
        return best[0]

    def _once(self, places: Sequence[int], seed: int) -> None:
        """Fill all stock, and choose what is bought by the metre, before or in between.

        With an odd seed the short stock comes first: what it wastes is known then, and what is
        bought by the metre makes up for it.
        """
        task = self.task
        rest = list(range(len(task.lengths)))
        later = sorted(places, key=lambda at: task.sizes[at])
        used: Used = []
        apart: set[int] = set()
        if task.metre is not None and seed % 2:
            short = sum(not task.is_long(at) for at in later)
            first = min(short, max(0, len(later) - 1 - seed // 2 % 2))
            if seed % 4 == 3:
                apart = self.apart(rest, later, seed // 4, seed // 4 % 3)
                rest = [at for at in rest if at not in apart]
            used, rest = self._filled(later[:first], rest, seed)
            later = later[first:]
        apart |= self.apart(rest, later, seed // 4)
        more, rest = self._filled(later, [at for at in rest if at not in apart], seed)
        used += more
        if len(self.patterns) < MOST_PATTERNS:
            self.patterns.update(dict.fromkeys((at, task.kinds(p)) for at, p in used if p))
        self.found.take(used, [*apart, *rest])

    def _filled(
        self, places: Sequence[int], pieces: Sequence[int], seed: int
    ) -> tuple[Used, list[int]]:
        """Stock filled in the way that the seed says, and the pieces that found no room."""
        task = self.task
        lengths = [task.lengths[at] for at in pieces]
        sizes = [task.sizes[at] for at in places]
        by_metre = task.metre is not None
        tight = seed % 2 == 1 if by_metre else seed % 3 == 2
        whole = squeeze(lengths, sizes, _SQUEEZED) if tight else None
        over: Sequence[int] = ()
        if whole is not None:
            patterns: Sequence[Pattern] = whole
        else:
            if by_metre and tight:
                filled = brim(lengths, sizes, seed // 2)
            elif seed % 3 == 1:
                filled = fill_apart(lengths, sizes, seed, _SHARES[seed // 3 % len(_SHARES)])
            else:
                filled = fill(lengths, sizes, seed * self.few, _EASES[seed % len(_EASES)])
            patterns, over = filled.patterns, filled.over
        return [
            (at, tuple(pieces[n] for n in pattern))
            for at, pattern in zip(places, patterns, strict=True)
        ], [pieces[n] for n in over]
