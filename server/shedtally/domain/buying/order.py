"""The order: the renewals with what somebody was quoted for them, bought, got and fitted.

Nothing is added across currencies, nothing is guessed: a price without a currency, a reel without
a length or a run without one is asked for, and the line says so.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple, TypeVar

from shedtally.domain.aboard.out import is_out
from shedtally.domain.boat import BoatRecords
from shedtally.domain.buying.lists import CutSheet, OrderLine, OrderList, OrderOffer, OrderTotal
from shedtally.domain.buying.new_parts import new_parts, own_items, state_of, state_with
from shedtally.domain.buying.on_reels import cut_sheet, sellers_of
from shedtally.domain.buying.packs import cheapest_packs
from shedtally.domain.lists import RenewalLine
from shedtally.domain.records import Item, Leftover, Price, Purchase
from shedtally.domain.renewals.lines import renewals
from shedtally.domain.rulebook import Rules
from shedtally.domain.wiring.load import shown

T = TypeVar("T", Price, Leftover)
# What is sold by count and not by length.
PIECES = frozenset({"each", "pack"})


def order_list(boat: BoatRecords, rules: Rules) -> OrderList:
    """Every line of the renewals as an order, with the cheapest way to buy it.

    Returns: sums by currency over the lines that have a price; a line counts as bought once
        somebody said that it was, whatever is missing of it.
    """
    found = renewals(boat, rules)
    prices = _by_spec(boat.prices.values())
    leftovers = _by_spec(boat.leftovers.values())
    new = new_parts(boat)
    lines = tuple(
        _line(boat, rules, line, prices.get(line.id, []), leftovers.get(line.id, []), new)
        for line in found.lines
    )
    return OrderList(
        lines=lines,
        totals=tuple(_totals(lines)),
        unpriced=sum(line.cost is None for line in lines),
        cautions=found.cautions,
    )


def _by_spec(rows: Iterable[T]) -> Mapping[str, list[T]]:
    found: defaultdict[str, list[T]] = defaultdict(list)
    for row in sorted(rows, key=lambda row: row.key):
        if row.spec:
            found[row.spec].append(row)
    return found


def _line(  # noqa: PLR0917  # all of a line's own
    boat: BoatRecords,
    rules: Rules,
    line: RenewalLine,
    prices: Sequence[Price],
    leftovers: Sequence[Leftover],
    new: Mapping[str, Item],
) -> OrderLine:
    purchase = boat.purchases.get(line.id)
    taken = purchase.from_price if purchase else None
    by_length = line.order_mm is not None or bool(line.runs)
    offers = [_offer(price, taken, by_length=by_length) for price in prices]
    asks = [*line.open_questions, *line.mismatches, *_asks(offers, prices)]
    if taken and not any(offer.taken for offer in offers):
        asks.append("The price that it was bought at was taken away: mark the one that you paid.")
    usable = [offer for offer in offers if offer.usable and (not taken or offer.taken)]
    currencies = {offer.currency for offer in usable if offer.amount is not None}
    if len(currencies) > 1:
        usable = []
    own = own_items(line, boat, rules)
    parts = [new[item] for item in own if item in new]
    state = state_with(state_of(purchase), parts, len(own))
    lying = [one for one in leftovers if state == "to buy" or not one.from_cut]
    bought = _bought(line, usable, lying, rules.renewing.kerf_mm)
    asks += bought.asks
    ashore = sum(is_out(part) for part in parts)
    if state == "fitted" and ashore:
        asks.append(
            f"Marked as fitted, and {ashore} of its new parts still lie ashore: put them back, or "
            "mark it as arrived."
        )
    made = OrderLine(
        id=line.id, spec=line.spec, system=line.system, systems=line.systems, size=line.size,
        standard=line.standard, details=line.details, count=line.count, order_mm=line.order_mm,
        tags=line.tags, items=line.items, state=state,
        bought="", arrived="", fitted="", supplier="", substitute="", note="",
        cost=bought.cost,
        currency=next(iter(currencies), "") if bought.cost is not None else "",
        offers=tuple(offers), cut=bought.sheet, asks=tuple(dict.fromkeys(asks)),
        new_parts=tuple(code for part in parts for code in boat.codes.get(f"item/{part.key}", ())),
        fitted_parts=len(parts) - ashore, buy_as=bought.words, kind=line.kind,
        sellers=bought.sellers,
    )  # fmt: skip
    return _with_purchase(made, purchase, boat)


class _Bought(NamedTuple):
    """The cheapest way to buy a line: cut from reels, in packs or pieces, or laid end to end."""

    cost: float | None
    sheet: CutSheet | None = None
    words: str = ""
    asks: Sequence[str] = ()
    sellers: tuple[str, ...] = ()


def _bought(
    line: RenewalLine, offers: Sequence[OrderOffer], leftovers: Sequence[Leftover], kerf_mm: int
) -> _Bought:
    whole = _in_packs([offer for offer in offers if offer.per in PIECES], line.count)
    by_length = [offer for offer in offers if offer.per not in PIECES]
    if line.runs and (by_length or whole.cost is None):
        sheet, asks = cut_sheet(line.runs, by_length, leftovers, kerf_mm)
        sellers = sellers_of(sheet, by_length) if sheet else ()
        laid = _Bought(sheet.cost if sheet else None, sheet, asks=asks, sellers=sellers)
    else:
        laid = _end_to_end(by_length, line.order_mm or 0.0)
    # A run may be sold made up, by the piece, as well: what costs less is taken.
    is_whole = whole.cost is not None and (laid.cost is None or whole.cost < laid.cost)
    return whole if is_whole else laid


def _with_purchase(line: OrderLine, purchase: Purchase | None, boat: BoatRecords) -> OrderLine:
    spec = boat.specs.get(line.id)
    line = replace(line, substitute=(spec.substitute if spec else None) or "")
    taken = next((offer.supplier for offer in line.offers if offer.taken), "")
    if purchase is None:
        return line
    asks = line.asks
    if purchase.bought_at and purchase.count and line.count > purchase.count:
        more = line.count - purchase.count
        asks = (*asks, f"{more} more came to this line since it was bought: buy them as well.")
    return replace(
        line,
        bought=purchase.bought_at or "",
        arrived=purchase.arrived_at or "",
        fitted=purchase.fitted_at or "",
        supplier=purchase.supplier or taken,
        note=purchase.note or "",
        asks=asks,
    )


def _offer(price: Price, taken: str | None, *, by_length: bool) -> OrderOffer:
    per = price.per or ("reel" if price.length_mm else "metre" if by_length else "each")
    length = int(price.length_mm) if price.length_mm and price.length_mm >= 1 else None
    fits = by_length or per in {"each", "pack"}
    has_length = (per != "reel" or length is not None) and (per != "pack" or bool(price.pieces))
    priced = price.amount is not None and bool(price.currency)
    by_length_only = by_length and price.amount is None and per == "reel"
    return OrderOffer(
        key=price.key,
        amount=price.amount,
        currency=price.currency or "",
        per=per,
        length_mm=length,
        supplier=price.supplier or "",
        usable=fits and has_length and (priced or by_length_only),
        taken=price.key == taken,
        pieces=price.pieces if per == "pack" else None,
    )


def _asks(offers: Sequence[OrderOffer], prices: Sequence[Price]) -> Iterator[str]:
    """What keeps an offer from being used, each as a sentence with the way out."""
    for offer in offers:
        whose = f"The offer of {offer.supplier}" if offer.supplier else "An offer"
        if offer.amount is not None and not offer.currency:
            price = shown(offer.amount, 2)
            yield f"{whose} has a price of {price} and no currency: enter it, like EUR."
        elif offer.per == "reel" and offer.length_mm is None:
            yield f"{whose} is for a reel of no length: enter how long it is."
        elif offer.per == "pack" and not offer.pieces:
            yield f"{whose} is for a pack of no number: enter how many are in it."
        elif offer.amount is None and offer.per != "reel":
            yield f"{whose} has no price: enter it, or take the offer away."
        elif not offer.usable:
            yield f"{whose} is by the {offer.per}, which this line isn't sold by."
    if not prices:
        yield "No price yet: enter what you were quoted."
    money = sorted({o.currency for o in offers if o.usable and o.amount is not None})
    if len(money) > 1 and not any(offer.taken for offer in offers):
        yield (
            f"Offers in {' and '.join(money)} can't be compared: mark the one that you take, "
            "or enter them in one currency."
        )


def _in_packs(offers: Sequence[OrderOffer], count: int) -> _Bought:
    priced = [(offer.amount, offer) for offer in offers if offer.amount is not None]
    packs = cheapest_packs([(amount, offer.pieces or 1) for amount, offer in priced], count)
    if packs is None:
        return _Bought(None)
    sellers = _named(priced[at][1] for at in packs.offers)
    return _Bought(packs.cost, words=packs.words, sellers=sellers)


def _end_to_end(offers: Sequence[OrderOffer], length_mm: float) -> _Bought:
    """What is laid end to end, like trunking: whole lengths, or the metres of it, for the least."""
    costs = [
        (_of_length(offer, offer.amount, length_mm), at)
        for at, offer in enumerate(offers)
        if offer.amount is not None
    ]
    if not costs or not length_mm:
        return _Bought(None)
    cost, at = min(costs)
    return _Bought(round(cost, 2), sellers=_named([offers[at]]))


def _of_length(offer: OrderOffer, amount: float, length_mm: float) -> float:
    if not offer.length_mm:
        return amount * length_mm / 1000
    # Whole millimetres, as the offer's length is: one of 66 in is long enough for 66 in.
    return amount * max(1, math.ceil(math.floor(length_mm) / offer.length_mm))


def _named(offers: Iterable[OrderOffer]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(offer.supplier for offer in offers if offer.supplier))


def _totals(lines: Sequence[OrderLine]) -> Iterator[OrderTotal]:
    for currency in sorted({line.currency for line in lines if line.cost is not None}):
        mine = [line for line in lines if line.currency == currency and line.cost is not None]
        yield OrderTotal(
            currency=currency,
            to_buy=_sum(line for line in mine if line.state == "to buy"),
            bought=_sum(line for line in mine if line.state != "to buy"),
        )


def _sum(lines: Iterable[OrderLine]) -> float:
    return round(math.fsum(line.cost or 0 for line in lines), 2)
