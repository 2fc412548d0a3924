"""The runs of one line on the reels on offer: pieces and prices in, a cutting sheet out."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence

from shedtally.domain.buying.lists import CutSheet, OrderOffer, SheetPiece, SheetStock
from shedtally.domain.cutting import cut_plan
from shedtally.domain.cutting.stock import CutPlan, Piece, Stock
from shedtally.domain.lists import RunLength
from shedtally.domain.records import Leftover

# Parts of a currency unit that prices are counted in; the finer ones where a price needs them, as
# one by the metre may.
COINS = (100, 1_000, 10_000)

# More pieces of one line than this are not planned: nobody cuts them from one list.
MOST_PIECES = 2_000


def cut_sheet(
    runs: Sequence[RunLength],
    offers: Sequence[OrderOffer],
    leftovers: Sequence[Leftover],
    kerf_mm: int,
) -> tuple[CutSheet | None, list[str]]:
    """The plan for the runs of a line, and what is to be said of it.

    Args: offers: usable ones, in one currency, or without a price: then the fewest length is
        looked for.
    """
    count = sum(run.count for run in runs if run.cut_mm)
    if not count:
        return None, []
    priced = [offer for offer in offers if offer.amount is not None]
    reels = [o for o in (priced or offers) if o.per == "reel" and o.length_mm]
    metre = min(
        (o.amount for o in priced if o.per == "metre" and o.amount is not None), default=None
    )
    left = [one for one in leftovers if one.length_mm and one.length_mm >= 1]
    if not reels and metre is None and not left:
        return None, _no_reel(offers)
    if count > MOST_PIECES:
        return None, [f"{count} pieces are too many for one plan ({MOST_PIECES}): divide them."]
    pieces = list(_pieces(runs))
    coins = _coins(offer.amount for offer in priced if offer.amount is not None)
    stocks = [*_reels(reels, coins if priced else None), *_left(left)]
    names = {stock.key: stock for stock in stocks}
    whole = [Piece(str(n), piece.length_mm) for n, piece in enumerate(pieces)]
    plan = cut_plan(whole, stocks, None if metre is None else round(metre * coins), kerf_mm)
    sheet = _sheet(plan, pieces, names, offers, kerf_mm=kerf_mm, coins=coins)
    return sheet, list(_said(sheet))


def sellers_of(sheet: CutSheet, offers: Sequence[OrderOffer]) -> tuple[str, ...]:
    """Who a sheet is bought from: the reels in it, and the cheapest metre if any piece is."""
    named = [one.name for one in sheet.stock if not one.from_shed]
    metres = [
        (offer.amount, offer.supplier)
        for offer in offers
        if offer.per == "metre" and offer.amount is not None
    ]
    if sheet.by_metre and metres:
        named.append(min(metres)[1])
    return tuple(dict.fromkeys(filter(None, named)))


def _coins(amounts: Iterable[float]) -> int:
    """The largest coin in which all prices are whole, else the smallest there is."""
    found = list(amounts)
    whole = (coins for coins in COINS if all(_is_whole(amount * coins) for amount in found))
    return next(whole, COINS[-1])


def _is_whole(value: float) -> bool:
    return abs(value - round(value)) < 1e-6


def _no_reel(offers: Sequence[OrderOffer]) -> list[str]:
    if not offers:
        return []
    return ["No reel and no price by the metre: enter one, and the cuts are planned."]


def _pieces(runs: Sequence[RunLength]) -> Iterator[SheetPiece]:
    for run in runs:
        if run.cut_mm:
            piece = SheetPiece(
                item=run.item,
                name=run.name,
                tags=run.tags,
                length_mm=max(1, math.ceil(round(run.cut_mm, 6))),
                ends=run.ends,
                by_measure=run.how == "measured",
            )
            yield from [piece] * run.count


def _reels(reels: Sequence[OrderOffer], coins: int | None) -> Iterator[Stock]:
    """Reels at their prices; without any price (None) the fewest length counts as the cheapest."""
    for offer in reels:
        length = offer.length_mm or 0
        price = length if coins is None else round((offer.amount or 0) * coins)
        yield Stock(offer.key, length, price)


def _left(leftovers: Sequence[Leftover]) -> Iterator[Stock]:
    for one in leftovers:
        yield Stock(f"shed/{one.key}", int(one.length_mm or 0), 0, one.count or 1)


def _sheet(
    plan: CutPlan,
    pieces: Sequence[SheetPiece],
    stocks: Mapping[str, Stock],
    offers: Sequence[OrderOffer],
    *,
    kerf_mm: int,
    coins: int,
) -> CutSheet:
    priced = [offer for offer in offers if offer.amount is not None]
    suppliers = {offer.key: offer.supplier for offer in offers}

    def of(found: Sequence[Piece]) -> tuple[SheetPiece, ...]:
        return tuple(pieces[int(piece.key)] for piece in found)

    stock = tuple(
        SheetStock(
            name=suppliers.get(one.stock, ""),
            length_mm=one.length_mm,
            from_shed=stocks[one.stock].count is not None,
            pieces=of(one.pieces),
            kerf_mm=one.kerf_mm,
            left_mm=one.left_mm,
        )
        for one in plan.cut
    )
    by_metre, too_long = of(plan.by_metre), of(plan.too_long)
    bought = sum(one.length_mm for one in stock if not one.from_shed)
    bought += sum(piece.length_mm for piece in by_metre)
    return CutSheet(
        stock=stock,
        by_metre=by_metre,
        too_long=too_long,
        # What nothing holds has no price, and then neither has the line.
        cost=round(plan.cost / coins, 2) if priced and not too_long else None,
        # Rounded as the cost is: a price by the metre comes to parts of a cent.
        bound=round(plan.bound / coins, 2) if priced else None,
        currency=priced[0].currency if priced else "",
        bought_mm=bought,
        least_mm=bought if priced else math.ceil(plan.bound - 1e-6),
        proven=plan.proven,
        kerf_mm=kerf_mm,
    )


def _said(sheet: CutSheet) -> Iterator[str]:
    if sheet.too_long:
        longest = max(piece.length_mm for piece in sheet.too_long)
        count = len(sheet.too_long)
        runs = "1 run finds" if count == 1 else f"{count} runs find"
        yield (
            f"{runs} no reel that holds it, up to {longest / 1000:.2f} m: enter a longer reel or a "
            "price by the metre, or decide on a joint in a box and write it as two runs."
        )
