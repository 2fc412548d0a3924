"""Cut plans as a linear programme, by HiGHS: worths of the pieces, and plans from patterns.

Columns are made as they are needed [GilmoreGomory1961]: the programme over the patterns that are
known gives each length a worth, and the fullest pattern by worth is the next column, until none
pays. The worths become whole numbers and what a stock yields of them is worked out anew, so that
no rounding error of the programme gets into a bound. Nothing goes by the clock: the same input
gives the same plan.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import highspy
import numpy as np

from shedtally.domain.cutting.inequalities import Inequality
from shedtally.domain.cutting.knapsack import Knapsack, Pattern

_FINE = 100_000
_MOST_ROUNDS = 60
# Steps of the simplex for each length.
_MOST_STEPS = 10
_PAYS = 1e-7
# Columns that one round brings, beside the best of each stock: so many, or a share of the lengths.
_MORE_COLUMNS = 24
_SHARE_COLUMNS = 0.6


@dataclass(frozen=True, slots=True)
class Offer:
    """A stock length, kerf included, at a cost; ``count`` None: without limit."""

    length: int
    cost: float
    count: int | None


class Programme:
    """The cheapest fractional plan for pieces of these lengths, longest first, kerf included.

    ``instead`` is what each piece costs outside of any stock.
    """

    def __init__(
        self, lengths: Sequence[int], offers: Sequence[Offer], instead: Sequence[float]
    ) -> None:
        self.lengths, self.offers, self.instead = lengths, offers, instead
        self.kinds = sorted(set(lengths), reverse=True)
        self.place = {length: at for at, length in enumerate(self.kinds)}
        self.first = [lengths.index(kind) for kind in self.kinds]
        demand = [0] * len(self.kinds)
        for length in lengths:
            demand[self.place[length]] += 1
        room = max((offer.length for offer in offers), default=0)
        # No more of a length than a stock holds: a table needs no others.
        self.useful = [
            first + n
            for first, kind, many in zip(self.first, self.kinds, demand, strict=True)
            for n in range(min(many, room // kind))
        ]
        self.columns: dict[tuple[int, Pattern], None] = {}
        self._solver = quiet()
        # The simplex may go round in circles; worths from before that are as good.
        self._solver.setOptionValue("simplex_iteration_limit", _MOST_STEPS * len(demand) + 500)
        for many in demand:
            row(self._solver, many, highspy.kHighsInf)
        for offer in offers:
            row(self._solver, -highspy.kHighsInf, _limit(offer.count))
        for at, first in enumerate(self.first):
            column(self._solver, instead[first], [(at, 1.0)])

    def add(self, offer: int, pattern: Iterable[int]) -> None:
        """A column: places of pieces in a stock length of an offer."""
        self.add_kinds(offer, sorted(self.place[self.lengths[at]] for at in pattern))

    def add_kinds(self, offer: int, held: Sequence[int]) -> None:
        """A column: lengths, as places in the sorted lengths, in a stock length of an offer."""
        key = (offer, tuple(held))
        if not held or key in self.columns:
            return
        self.columns[key] = None
        cost = self.offers[offer].cost
        column(self._solver, cost, [*entries(key[1]), (len(self.kinds) + offer, 1.0)])

    def worth_inequality(
        self, sizes: Sequence[int], rounds: int = _MOST_ROUNDS
    ) -> Inequality | None:
        """The inequality that the worths of the fractional optimum make, for stock of ``sizes``.

        None if nothing is worth anything: the stock of this programme holds all.
        """
        worth = self.solve(rounds)
        top = max(worth, default=0.0)
        if top <= _PAYS:
            return None
        whole = [int(each / top * _FINE) for each in worth]
        weights = tuple(whole[self.place[length]] for length in self.lengths)
        table = self._table(weights, max(sizes, default=0))
        return Inequality(weights, sum(weights), tuple(table.most(size) for size in sizes))

    def solve(self, rounds: int) -> list[float]:
        """The worth of each kind, from columns until none pays or enough were tried."""
        room = max((offer.length for offer in self.offers), default=0)
        worth: list[float] = []
        for _ in range(rounds):
            self._solver.run()
            duals = self._solver.getSolution().row_dual
            worth = [max(0.0, each) for each in duals[: len(self.kinds)]]
            rents = [max(0.0, -each) for each in duals[len(self.kinds) :]]
            optimal = self._solver.getModelStatus() == highspy.HighsModelStatus.kOptimal
            if not self._priced(worth, rents, room) or not optimal:
                break
        return worth

    def amounts(self) -> list[tuple[float, tuple[int, Pattern]]]:
        """How often the fractional plan that was found last uses each column, most used first."""
        used = self._solver.getSolution().col_value[len(self.kinds) :]
        return sorted(zip(used, self.columns, strict=False), key=lambda pair: -pair[0])

    def outside(self) -> list[float]:
        """How many of each kind the fractional plan leaves outside of any stock."""
        return list(self._solver.getSolution().col_value[: len(self.kinds)])

    def _priced(self, worth: Sequence[float], rents: Sequence[float], room: int) -> bool:
        """Bring in the columns that pay most; False if none pays."""
        top = max(worth, default=0.0)
        if top <= _PAYS:
            return False
        scale = 1e9 / top
        each = [round(worth[self.place[length]] * scale) for length in self.lengths]
        table = self._table(each, room)
        before = len(self.columns)
        for at, offer in enumerate(self.offers):
            if offer.count == 0:
                continue
            price = (offer.cost + rents[at]) * scale
            pays = price + max(price, 1e9) * _PAYS
            if table.most(offer.length) > pays:
                self.add(at, self._pattern(table, offer.length))
                self._around(table, at, each, pays)
        return len(self.columns) > before

    def _table(self, worths: Sequence[int], room: int) -> Knapsack:
        lengths = [self.lengths[at] for at in self.useful]
        return Knapsack(lengths, [worths[at] for at in self.useful], room)

    def _pattern(self, table: Knapsack, room: int) -> Pattern:
        return tuple(self.useful[n] for n in table.pattern(room))

    def _around(self, table: Knapsack, at: int, each: Sequence[int], pays: float) -> None:
        """Of single pieces the best patterns with them in, where they pay too."""
        size = self.offers[at].length
        ways = sorted(
            (
                (table.most(size - self.lengths[n]) + each[n], n)
                for n in self.first
                if self.lengths[n] <= size
            ),
            reverse=True,
        )
        enough = max(_MORE_COLUMNS, _SHARE_COLUMNS * len(self.kinds))
        brought = 0
        seen: set[int] = set()
        for gain, n in ways:
            if gain <= pays or brought >= enough:
                break
            if n in seen:
                continue
            rest = self._pattern(table, size - self.lengths[n])
            if n not in rest:
                self.add(at, (n, *rest))
                seen.update(rest)
                brought += 1


def entries(held: Pattern) -> list[tuple[int, float]]:
    """How many of each length a pattern holds."""
    return [(kind, float(held.count(kind))) for kind in dict.fromkeys(held)]


def _limit(count: int | None) -> float:
    return highspy.kHighsInf if count is None else float(count)


class _Silent(highspy.Highs):  # type: ignore[misc]
    """HiGHS greets on standard output as soon as callbacks are allowed, unless told before."""

    def enableCallbacks(self) -> None:  # noqa: N802 (the name is the library's)
        self.setOptionValue("output_flag", False)
        super().enableCallbacks()


def quiet() -> highspy.Highs:
    """A solver that prints nothing and says the same on every machine."""
    solver = _Silent()
    # One thread and a fixed seed: the same plan on every machine.
    solver.setOptionValue("threads", 1)
    solver.setOptionValue("random_seed", 0)
    return solver


def row(solver: highspy.Highs, low: float, high: float) -> None:
    """A row without entries, between two values."""
    solver.addRow(low, high, 0, np.zeros(0, np.int32), np.zeros(0))


def column(
    solver: highspy.Highs,
    cost: float,
    held: Sequence[tuple[int, float]],
    most: float = highspy.kHighsInf,
) -> None:
    """A column with its cost, its entries by row, and how often it may be used."""
    rows = np.array([place for place, _ in held], np.int32)
    solver.addCol(cost, 0.0, most, len(rows), rows, np.array([each for _, each in held]))
