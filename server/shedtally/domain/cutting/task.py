"""What a cut plan is looked for: pieces and stock as numbers, longest first, the kerf in both."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from shedtally.domain.cutting.knapsack import Pattern
from shedtally.domain.cutting.programme import Offer
from shedtally.domain.cutting.stock import Piece, Stock

# Prices are counted in thousandths of the smallest coin: a millimetre by the metre is whole then.
COIN = 1000


# A stock that holds so many pieces is filled to the brim by nearly any of them.
_LONG = 4


@dataclass(frozen=True)
class Task:
    """Pieces that some stock holds, and the stock; ``lengths`` and ``sizes`` have the kerf in them.

    ``given``: how many of each stock lie in the shed; ``bought``: the places of those that can be
    had without limit. ``metre``: thousandths of a coin for a mm cut to length, None: nobody does.
    """

    pieces: tuple[Piece, ...]
    lengths: tuple[int, ...]
    stocks: tuple[Stock, ...]
    sizes: tuple[int, ...]
    prices: tuple[int, ...]
    given: tuple[int, ...]
    bought: tuple[int, ...]
    metre: int | None
    kerf: int

    @property
    def coin(self) -> float:
        """A plan dearer by less is as cheap: parts of a coin come of the metre only."""
        return COIN * 0.999 if self.metre is not None else 1e-6

    @cached_property
    def instead(self) -> tuple[float, ...]:
        """What each piece costs by the metre; its length where nobody sells so."""
        return tuple(float((self.metre or 1) * piece.length_mm) for piece in self.pieces)

    @cached_property
    def root_instead(self) -> tuple[float, ...]:
        """What each piece costs at most, alone: by the metre, else the cheapest stock for it."""
        if self.metre is not None:
            return self.instead
        each = [(self.sizes[at], float(self.prices[at])) for at in self.bought]
        worst = sum(self.prices) + 1.0
        return tuple(
            min((price for size, price in each if size >= length), default=worst)
            for length in self.lengths
        )

    def offers(self, given: Sequence[int]) -> list[Offer]:
        """All stock, with so many of what lies in the shed."""
        return [
            Offer(size, float(price), None if at in self.bought else given[at])
            for at, (size, price) in enumerate(zip(self.sizes, self.prices, strict=True))
        ]

    def part(self, left: Sequence[int], given: Sequence[int]) -> Task:
        """The task of cutting some of the pieces, with so many of what lies in the shed."""
        return replace(
            self,
            pieces=tuple(self.pieces[at] for at in left),
            lengths=tuple(self.lengths[at] for at in left),
            given=tuple(given),
        )

    @cached_property
    def _kinds(self) -> dict[int, int]:
        return {length: at for at, length in enumerate(sorted(set(self.lengths), reverse=True))}

    def kinds(self, pattern: Pattern) -> Pattern:
        """The pieces of a pattern by their lengths, as places in the sorted lengths."""
        return tuple(self._kinds[self.lengths[at]] for at in pattern)

    def is_long(self, at: int) -> bool:
        """Whether a stock holds so many pieces that nearly any of them fill it."""
        return self.sizes[at] * len(self.lengths) > _LONG * sum(self.lengths)

    def places(self, counts: Sequence[int]) -> list[int]:
        """Each single stock of a purchase and of the shed, by its place in ``stocks``."""
        both = [n + m for n, m in zip(counts, self.given, strict=True)]
        return [at for at, n in enumerate(both) for _ in range(n)]

    def spent(self, places: Sequence[int]) -> int:
        """What these cost; what lies in the shed is free."""
        return sum(self.prices[at] for at in places if not self.given[at])


def task_of(
    pieces: Sequence[Piece], stocks: Sequence[Stock], metre_price: int | None, kerf_mm: int
) -> tuple[Task, tuple[Piece, ...]]:
    """The task, and the pieces that are longer than any stock."""
    longest = max((stock.length_mm for stock in stocks), default=0)
    fits = sorted(
        (piece for piece in pieces if piece.length_mm <= longest),
        key=lambda piece: (-piece.length_mm, piece.key),
    )
    kept = _worth_having(stocks)
    task = Task(
        pieces=tuple(fits),
        lengths=tuple(piece.length_mm + kerf_mm for piece in fits),
        stocks=tuple(kept),
        sizes=tuple(stock.length_mm + kerf_mm for stock in kept),
        prices=tuple(stock.price * COIN for stock in kept),
        given=tuple(stock.count or 0 for stock in kept),
        bought=tuple(at for at, stock in enumerate(kept) if stock.count is None),
        metre=metre_price,
        kerf=kerf_mm,
    )
    return task, tuple(piece for piece in pieces if piece.length_mm > longest)


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
