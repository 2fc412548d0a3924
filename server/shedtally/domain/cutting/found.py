"""The cheapest plan found so far, and how it is told."""

from __future__ import annotations

from collections.abc import Sequence

from shedtally.domain.cutting.fill import fill
from shedtally.domain.cutting.knapsack import Pattern
from shedtally.domain.cutting.stock import CutPlan, CutStock, Piece
from shedtally.domain.cutting.task import COIN, Task

Used = list[tuple[int, Pattern]]


class Found:
    """The cheapest way so far: stock with its pieces by place, and what is bought by the metre."""

    def __init__(self, task: Task) -> None:
        self.task = task
        self.cost: int | None = None
        self.cut: Used = []
        self.over: list[int] = []

    def take(self, used: Used, over: Sequence[int]) -> None:
        """Keep a plan if it is the cheapest so far; what found no room is bought besides."""
        task = self.task
        cut = [(at, pattern) for at, pattern in used if pattern]
        left = sorted(over)
        if left:
            more, left = self._besides(left)
            cut += more
        cost = task.spent([at for at, _ in cut])
        if task.metre is not None:
            cost += sum(task.metre * task.pieces[at].length_mm for at in left)
        elif left and self.cost is not None and len(left) >= len(self.over):
            return
        if self.cost is None or cost < self.cost or len(left) < len(self.over) == 0:
            self.cost, self.cut, self.over = cost, cut, left

    def is_within(self, bound: float) -> bool:
        """Whether nothing cheaper than the plan can exist, if nothing can cost less than this."""
        return self.cost is not None and self.cost < bound + self.task.coin

    def _besides(self, left: list[int]) -> tuple[Used, list[int]]:
        """More stock for what found no room: the stock that is cheapest for what it holds."""
        task = self.task
        cut: Used = []
        while left:
            lengths = [task.lengths[at] for at in left]
            ways = []
            for at in task.bought:
                filled = fill(lengths, [task.sizes[at]])
                held = filled.patterns[0]
                if held:
                    worth = sum(lengths[n] for n in held) if filled.over else 1
                    ways.append((bool(filled.over), task.prices[at] / worth, at, held))
            if not ways:
                break
            _, _, at, held = min(ways)
            metres = sum(task.pieces[left[n]].length_mm for n in held)
            if task.metre is not None and task.metre * metres <= task.prices[at]:
                break
            cut.append((at, tuple(left[n] for n in held)))
            taken = set(cut[-1][1])
            left = [n for n in left if n not in taken]
        return cut, left

    def plan(self, bound: float, too_long: Sequence[Piece]) -> CutPlan:
        """What to buy and cut, and what is proven of it."""
        task = self.task
        cost = self.cost or 0
        over = tuple(task.pieces[at] for at in self.over)
        by_metre: tuple[Piece, ...] = ()
        unheld = tuple(too_long)
        apart = 0
        if task.metre is None:
            unheld += over
        else:
            by_metre, unheld = (*unheld, *over), ()
            apart = task.metre * sum(piece.length_mm for piece in too_long)
        done = [self._stock(at, pattern) for at, pattern in self.cut]
        done.sort(key=lambda one: (-one.length_mm, one.stock, -one.pieces[0].length_mm))
        return CutPlan(
            cut=tuple(done),
            by_metre=by_metre,
            too_long=unheld,
            cost=(cost + apart) / COIN,
            bound=(min(bound, cost) + apart) / COIN,
            proven=cost < bound + task.coin,
        )

    def _stock(self, at: int, pattern: Sequence[int]) -> CutStock:
        task, stock = self.task, self.task.stocks[at]
        pieces = [task.pieces[n] for n in sorted(pattern)]
        used = sum(piece.length_mm for piece in pieces)
        left = max(0, stock.length_mm - used - task.kerf * len(pieces))
        return CutStock(
            stock=stock.key,
            length_mm=stock.length_mm,
            pieces=tuple(pieces),
            kerf_mm=stock.length_mm - used - left,
            left_mm=left,
        )
