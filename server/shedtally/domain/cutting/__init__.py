"""Which reels to buy and how to cut them: fewest cost, and the least that any plan could cost.

Pieces are cut whole, without a join. Stock is what is offered: reels and lengths at a price, any
length by the metre, and what lies in the shed. A cut takes ``kerf_mm`` between two pieces, and
before what is left over.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from shedtally.domain.cutting.found import Found
from shedtally.domain.cutting.planner import Planner
from shedtally.domain.cutting.stock import CutPlan, Piece, Stock
from shedtally.domain.cutting.task import task_of


def cut_plan(
    pieces: Sequence[Piece],
    stocks: Sequence[Stock],
    metre_price: int | None = None,
    kerf_mm: int = 0,
) -> CutPlan:
    """Cut every piece once, for the fewest cost that is found; and how near that is.

    Args: pieces: each 1 mm or longer. stocks: lengths on offer and in the shed. metre_price:
        smallest coins for a metre cut to length, without waste; None: nobody sells so. kerf_mm:
        what a cut takes, 0 or more.
    Returns: ``proven`` if nothing can be cheaper. Where only what lies in the shed holds a piece
        and there is not enough of it, the proof is of what can be cut. The same input gives the
        same plan.
    Source: bounds [FeketeSchepers2001] [MartelloToth1990], columns [GilmoreGomory1961]; see
        DEVELOPERS.md.
    """
    task, longer = task_of(pieces, stocks, metre_price, kerf_mm)
    found, bound = Found(task), 0.0
    if task.pieces:
        planner = Planner(task)
        bound, found = planner.planned(), planner.found
    plan = found.plan(bound, longer)
    if len(plan.too_long) > len(longer):
        unheld = {piece.key for piece in plan.too_long}
        rest = cut_plan([p for p in pieces if p.key not in unheld], stocks, metre_price, kerf_mm)
        return replace(rest, too_long=(*plan.too_long, *rest.too_long))
    return plan
