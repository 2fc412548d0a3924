"""Working out a cut plan: the cheapest purchase that nothing excludes is tried, then the next.

A purchase that can't be cut into all pieces makes a new inequality, from the worths of the pieces
in its fractional plan, or is excluded by a search through all its patterns. What is left open by
both ends the proof, not the plan.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from shedtally.domain.cutting_cuts import Cut, Purchase, cuts_of, purchases
from shedtally.domain.cutting_dual import Offer, dive, worth_cut
from shedtally.domain.cutting_fill import fill
from shedtally.domain.cutting_search import pack
from shedtally.domain.cutting_stock import CutPlan, CutStock, Piece, Stock

# Prices are counted in thousandths of the smallest coin: a millimetre by the metre is whole then.
COIN = 1000

# Above so many pieces nothing is proven by search any more, only by the inequalities.
MOST_SEARCHED = 120
_EFFORT = 1_200
_SHAKES = 24
_MOST_PURCHASES = 60
_MOST_BETTER = 4
_MOST_UNSETTLED = 4


class Planner:
    """One plan in the making: what was found, and what is known of any other."""

    def __init__(
        self,
        pieces: Sequence[Piece],
        stocks: Sequence[Stock],
        metre_price: int | None,
        kerf_mm: int,
    ) -> None:
        self.kerf = kerf_mm
        self.metre = metre_price
        longest = max((stock.length_mm for stock in stocks), default=0)
        fits = [p for p in pieces if p.length_mm <= longest]
        over = [p for p in pieces if p.length_mm > longest]
        self.only_metre = over if metre_price is not None else []
        self.too_long = over if metre_price is None else []
        self.pieces = sorted(fits, key=lambda p: (-p.length_mm, p.key))
        self.lengths = [p.length_mm + kerf_mm for p in self.pieces]
        self.stocks = _worth_having(stocks)
        self.sizes = [stock.length_mm + kerf_mm for stock in self.stocks]
        self.prices = [stock.price * COIN for stock in self.stocks]
        self.given = [stock.count or 0 for stock in self.stocks]
        self.bought = [at for at, stock in enumerate(self.stocks) if stock.count is None]
        self.dived = False
        self.unsettled: list[float] = []
        self.excluded: set[tuple[int, ...]] = set()
        self.few = len(self.lengths) <= MOST_SEARCHED
        self.tries = _MOST_PURCHASES if self.few else 3
        self.coin = COIN * 0.999 if metre_price is not None else 1e-6
        self.cuts: list[Cut] = []
        self.best: tuple[int, list[tuple[int, tuple[int, ...]]], list[int]] | None = None

    def plan(self) -> CutPlan:
        """The plan; see `cut_plan`."""
        if not self.pieces:
            return self._made(0.0)
        self.cuts = [self._dear(cut) for cut in cuts_of(self.lengths, self.sizes)]
        bound = 0.0
        for _ in range(self.tries):
            purchase = self._cheapest()
            bound = purchase.cost
            if self._is_best(bound) or not purchase.complete or not self._looked_at(purchase):
                break
        if self.best is None:
            self._fill(Purchase((0,) * len(self.stocks), 0.0, complete=False))
        return self._made(self.unsettled[0] if self.unsettled else bound)

    def _looked_at(self, purchase: Purchase) -> bool:
        """Make a plan of a purchase, or learn why there is none; False: enough was tried."""
        bound = purchase.cost
        self._fill(purchase)
        if self._is_best(bound):
            return False
        if self.few and not self.dived:
            self.dived = True
            self._dive()
            return True
        if self._sharpened(purchase):
            return True
        if self._is_best(bound):
            return False
        self.excluded.add(purchase.counts)
        if not self._excluded(purchase):
            self.unsettled.append(bound)
        return len(self.unsettled) < _MOST_UNSETTLED

    def _cheapest(self) -> Purchase:
        ways = purchases(self.cuts, self.prices, self.given, self.bought)
        # Where nothing can be bought, what lies in the shed may not be enough for all pieces.
        none = Purchase((0,) * len(self.stocks), float("inf"), complete=False)
        left = (way for way in ways if not way.complete or way.counts not in self.excluded)
        return next(left, none)

    def _is_best(self, bound: float) -> bool:
        return self.best is not None and self.best[0] < bound + self.coin

    def _dear(self, cut: Cut) -> Cut:
        """With the least that a unit of weight costs by the metre, where no kerf is paid."""
        if self.metre is None:
            return cut
        dear = min(
            self.metre * piece.length_mm / weight
            for piece, weight in zip(self.pieces, cut.weights, strict=True)
            if weight
        )
        return replace(cut, dear=dear)

    def _dive(self) -> None:
        """The inequality of the fractional optimum, and a plan that is near to it."""
        offers = [
            Offer(size, 0.0 if stock.count else float(price), stock.count)
            for size, price, stock in zip(self.sizes, self.prices, self.stocks, strict=True)
        ]
        instead = [
            float(min(p for p, size in zip(self.prices, self.sizes, strict=True) if size >= each))
            for each in self.lengths
        ]
        if self.metre is not None:
            instead = [float(self.metre * piece.length_mm) for piece in self.pieces]
        _, cut = worth_cut(self.lengths, offers, instead, self.sizes)
        if cut is not None:
            self.cuts.append(self._dear(cut))
        self._take_dive(offers, range(len(offers)), instead)

    def _take_dive(
        self, offers: Sequence[Offer], places: Sequence[int], instead: Sequence[float]
    ) -> None:
        used = dive(self.lengths, offers, instead)
        held = {piece for _, pattern in used for piece in pattern}
        over = [at for at in range(len(self.pieces)) if at not in held]
        self._take([places[at] for at, _ in used], [pattern for _, pattern in used], over)

    def _places(self, purchase: Purchase) -> list[int]:
        counts = [n + m for n, m in zip(purchase.counts, self.given, strict=True)]
        return [at for at, n in enumerate(counts) for _ in range(n)]

    def _fill(self, purchase: Purchase) -> None:
        places = self._places(purchase)
        caps = [self.sizes[at] for at in places]
        for seed in range(_SHAKES if self.few else 2):
            filled = fill(self.lengths, caps, seed)
            self._take(places, filled.patterns, filled.over)
            if self._is_best(purchase.cost):
                return

    def _sharpened(self, purchase: Purchase) -> bool:
        """Whether the worths of the pieces say that this purchase is too little, or costs more."""
        if not self.few:
            return False
        amounts = [n + m for n, m in zip(purchase.counts, self.given, strict=True)]
        used = [at for at, amount in enumerate(amounts) if amount]
        offers = [Offer(self.sizes[at], 0.0, amounts[at]) for at in used]
        rate = self.metre or 1
        instead = [float(rate * piece.length_mm) for piece in self.pieces]
        _, cut = worth_cut(self.lengths, offers, instead, self.sizes)
        cut = None if cut is None else self._dear(cut)
        if cut is None or not self._says_more(cut, purchase):
            self._take_dive(offers, used, instead)
            return False
        self.cuts.append(cut)
        return True

    def _says_more(self, cut: Cut, purchase: Purchase) -> bool:
        places = self._places(purchase)
        short = cut.need - sum(cut.yields[at] for at in places)
        if short <= 0 or cut.dear is None:
            return short > 0
        spent = sum(self.prices[at] for at in places if self.stocks[at].count is None)
        return spent + short * cut.dear > purchase.cost + self.coin / 10

    def _excluded(self, purchase: Purchase) -> bool:
        """Whether a search through all patterns shows that nothing better comes of this purchase.

        What is bought by the metre lies in one more stock, as long as it may be to stay cheaper.
        """
        if not self.few:
            return False
        places = self._places(purchase)
        caps = [self.sizes[at] for at in places]
        for _ in range(_MOST_BETTER):
            apart = self._metres_for_less(places)
            if apart is not None and apart < 0:
                return True
            stocks = caps if apart is None else [*caps, apart]
            answer = pack(self.lengths, stocks, self.cuts, self.sizes, _EFFORT)
            if answer.patterns is None:
                return answer.proven
            before = self.best
            self._take_search(places, answer.patterns)
            if apart is None:
                return True
            if self.best == before:  # only the kerf made it seem cheaper
                return False
        return False

    def _metres_for_less(self, places: Sequence[int]) -> int | None:
        """How much may be bought by the metre if a plan is to be cheaper than the best so far."""
        if self.metre is None or self.best is None:
            return None
        spent = sum(self.prices[at] for at in places if self.stocks[at].count is None)
        most = int((self.best[0] - self.coin - spent) // self.metre)
        if most < 0 or not self.kerf:
            return most
        return most + self.kerf * (1 + most // self.pieces[-1].length_mm)

    def _take_search(
        self, places: Sequence[int], patterns: Sequence[tuple[int, tuple[int, ...]]]
    ) -> None:
        left = list(places)
        used: list[tuple[int, tuple[int, ...]]] = []
        over: tuple[int, ...] = ()
        for cap, pattern in patterns:
            at = next((place for place in left if self.sizes[place] == cap), None)
            if at is None:
                over = pattern
                continue
            left.remove(at)
            used.append((at, pattern))
        self._take([at for at, _ in used], [pattern for _, pattern in used], over)

    def _take(
        self,
        places: Sequence[int],
        patterns: Sequence[tuple[int, ...]],
        over: Sequence[int],
    ) -> None:
        """Keep a plan if it is the cheapest so far; what found no room is bought besides."""
        cut = [(at, pattern) for at, pattern in zip(places, patterns, strict=True) if pattern]
        by_metre: list[int] = []
        if over:
            more, by_metre = self._besides(over)
            cut += more
        cost = sum(self.prices[at] for at, _ in cut if self.stocks[at].count is None)
        if self.metre is not None:
            cost += sum(self.metre * self.pieces[at].length_mm for at in by_metre)
        if self.best is None or cost < self.best[0]:
            self.best = (cost, cut, by_metre)

    def _besides(self, over: Sequence[int]) -> tuple[list[tuple[int, tuple[int, ...]]], list[int]]:
        """More stock for what found no room: the stock that is cheapest for what it holds."""
        left = sorted(over)
        cut: list[tuple[int, tuple[int, ...]]] = []
        while left:
            lengths = [self.lengths[at] for at in left]
            ways = []
            for at in self.bought:
                filled = fill(lengths, [self.sizes[at]])
                held = filled.patterns[0]
                worth = sum(lengths[n] for n in held)
                whole = not filled.over
                if held:
                    ways.append((not whole, self.prices[at] / (1 if whole else worth), at, held))
            if not ways or self._metre_is_cheaper(ways, left):
                break
            _, _, at, held = min(ways)
            cut.append((at, tuple(left[n] for n in held)))
            taken = set(cut[-1][1])
            left = [n for n in left if n not in taken]
        return cut, left

    def _metre_is_cheaper(
        self, ways: Sequence[tuple[bool, float, int, tuple[int, ...]]], left: Sequence[int]
    ) -> bool:
        if self.metre is None:
            return False
        _, _, at, held = min(ways)
        return self.metre * sum(self.pieces[left[n]].length_mm for n in held) <= self.prices[at]

    def _made(self, bound: float) -> CutPlan:
        cost, cut, by_metre = self.best or (0, [], [])
        apart = 0
        if self.metre is not None:
            apart = self.metre * sum(p.length_mm for p in self.only_metre)
        apart_from = [self.pieces[at] for at in by_metre]
        done = [self._stock(at, pattern) for at, pattern in cut]
        done.sort(key=lambda one: (-one.length_mm, one.stock, -one.pieces[0].length_mm))
        return CutPlan(
            cut=tuple(done),
            by_metre=(*self.only_metre, *(apart_from if self.metre is not None else ())),
            too_long=(*self.too_long, *(apart_from if self.metre is None else ())),
            cost=(cost + apart) / COIN,
            bound=(min(bound, cost) + apart) / COIN,
            proven=cost < bound + self.coin,
        )

    def _stock(self, at: int, pattern: Sequence[int]) -> CutStock:
        stock = self.stocks[at]
        pieces = [self.pieces[n] for n in sorted(pattern)]
        used = sum(piece.length_mm for piece in pieces)
        left = max(0, stock.length_mm - used - self.kerf * len(pieces))
        return CutStock(
            stock=stock.key,
            length_mm=stock.length_mm,
            pieces=tuple(pieces),
            kerf_mm=stock.length_mm - used - left,
            left_mm=left,
        )


def _worth_having(stocks: Sequence[Stock]) -> list[Stock]:
    """Without what is shorter and no cheaper than another that can be bought."""
    bought = sorted(
        (stock for stock in stocks if stock.count is None),
        key=lambda stock: (stock.price, -stock.length_mm, stock.key),
    )
    kept: list[Stock] = []
    for stock in bought:
        if not kept or stock.length_mm > kept[-1].length_mm:
            kept.append(stock)
    return [*(stock for stock in stocks if stock.count), *kept]
