"""Many pieces: the fractional plan of a part of them, its whole patterns kept, and so on.

The fractional plan is nearly as cheap as the best whole one, and most of its patterns are used
whole or half. What is left at last is few enough to be planned by itself.
"""

from __future__ import annotations

from collections.abc import Sequence

from shedtally.domain.cutting.fill import fill
from shedtally.domain.cutting.found import Used
from shedtally.domain.cutting.knapsack import Pattern
from shedtally.domain.cutting.programme import Programme
from shedtally.domain.cutting.task import Task

# Pieces of one part: with fewer the parts do not go together, with more they take long.
_PART = 300
_ROUNDS = 20
# So much of each part is kept at least, of patterns that are used by more than ``_HALF``.
_SHARE = 0.3
_HALF = 0.3
_SEEDS = (0, 1, 3, 4)


class Rounding:
    """Patterns for most pieces; ``left`` and ``given`` are what they leave for a plan."""

    def __init__(self, task: Task) -> None:
        self.task = task
        self.given = list(task.given)
        self.left = list(range(len(task.lengths)))
        self.used: Used = []
        self.apart: list[int] = []
        self.columns: dict[tuple[int, Pattern], None] = {}

    def until(self, few: int) -> None:
        """Round until no more pieces are left than these, or nothing can be kept whole."""
        before = len(self.left) + 1
        while few < len(self.left) < before:
            before = len(self.left)
            parts = -(-before // _PART)
            self.left = sorted(
                at for n in range(parts) for at in self._rest_of(self.left[n::parts])
            )

    def _rest_of(self, part: Sequence[int]) -> list[int]:
        """Keep the whole patterns of a part's fractional plan; what they leave of it."""
        task = self.task
        programme = self._solved(part)
        pieces: dict[int, list[int]] = {}
        for at in part:
            pieces.setdefault(task.lengths[at], []).append(at)
        own = [pieces[length] for length in programme.kinds]
        first = [kind[0] for kind in own]
        kept = 0
        used = [pair for pair in programme.amounts() if pair[0] > 0]
        for _, (stock, held) in used:
            self.columns[stock, task.kinds(tuple(first[kind] for kind in held))] = None
        for amount, (stock, held) in used:
            times = int(amount + 1e-6)
            if not times and (kept >= len(part) * _SHARE or amount < _HALF):
                break
            for _ in range(max(1, times)):
                kept += self._keep(stock, held, own)
        if task.metre is not None:
            for kind, amount in zip(own, programme.outside(), strict=True):
                self.apart += [kind.pop() for _ in range(min(len(kind), int(amount + 1e-6)))]
        return [at for kind in own for at in kind]

    def _solved(self, part: Sequence[int]) -> Programme:
        task = self.task
        lengths = [task.lengths[at] for at in part]
        instead = [task.root_instead[at] for at in part]
        programme = Programme(lengths, task.offers(self.given), instead)
        for at in task.bought:
            size = task.sizes[at]
            enough = min(len(part), 2 * sum(lengths) // size + 2)
            for seed in _SEEDS:
                for pattern in fill(lengths, [size] * enough, seed).patterns:
                    programme.add(at, pattern)
        programme.solve(_ROUNDS)
        return programme

    def _keep(self, stock: int, held: Pattern, own: Sequence[list[int]]) -> int:
        """Cut a pattern if its pieces and stock are still there; how many pieces that makes."""
        if self.task.given[stock] and not self.given[stock]:
            return 0
        if any(len(own[kind]) < held.count(kind) for kind in held):
            return 0
        if self.task.given[stock]:
            self.given[stock] -= 1
        self.used.append((stock, tuple(own[kind].pop() for kind in held)))
        return len(held)
