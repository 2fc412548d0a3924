"""Which reels to buy and how to cut them: fewest cost, and the least that any plan could cost.

Pieces are cut whole, without a join. Stock is what is offered: reels and lengths at a price, any
length by the metre, and what lies in the shed. A cut takes ``kerf_mm`` between two pieces, and
before what is left over.
"""

from __future__ import annotations

from collections.abc import Sequence

from shedtally.domain.cutting_planner import Planner
from shedtally.domain.cutting_stock import CutPlan, Piece, Stock


def cut_plan(
    pieces: Sequence[Piece],
    stocks: Sequence[Stock],
    metre_price: int | None = None,
    kerf_mm: int = 0,
) -> CutPlan:
    """Cut every piece once, for the fewest cost that is found; and how near that is.

    Args: pieces: each 1 mm or longer. stocks: lengths on offer and in the shed. metre_price:
        smallest coins for a metre cut to length, without waste.
    Returns: ``proven`` if nothing can be cheaper. The same input gives the same plan.
    Source: bounds [FeketeSchepers2001] [MartelloToth1990], search [Korf2003]; see DEVELOPERS.md.
    """
    return Planner(pieces, stocks, metre_price, kerf_mm).plan()
