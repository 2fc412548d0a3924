"""Scrap: what is to be scrapped, by metal, with its mass and what a dealer may pay for it.

The price is what the user was told, for one kilogram; the value runs as wide as the mass does.
What is no metal, or a mixture, stands there as well, under *mixed*: a dealer prices it by eye.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from shedtally.domain.aboard.named import name_of
from shedtally.domain.aboard.out import pieces
from shedtally.domain.boat import BoatRecords
from shedtally.domain.masses.estimate import Estimate, spread_of, sum_of, tally
from shedtally.domain.masses.recipe import form_of, material_of
from shedtally.domain.masses.weighing import masses_of
from shedtally.domain.records import Item, Price
from shedtally.domain.rulebook import Kind, Rules
from shedtally.domain.tally.lists import ScrapItem, ScrapList, ScrapMetal, Value
from shedtally.domain.tally.masses import where_is
from shedtally.domain.waste.classify import SOILED

MIXED = "mixed"
CABLE = "copper in cable"
UNDER_WATER = frozenset({"hull outside", "stern gear"})
ANTIFOULING = "perhaps antifouling on it: no grinding, and tell the dealer"
CAUTIONS = (
    "Sharp edges and hidden weight: gloves, boots, and two people or gear that is rated for it.",
    "Nothing closed goes to a dealer: tanks open, drained and free of vapour, cylinders never.",
    "Paint of unknown age may hold lead: no torch and no grinder near it.",
    "Local rules and licensed trades come first.",
)


@dataclass(frozen=True, slots=True)
class Case:
    """What every line and metal is made from."""

    boat: BoatRecords
    rules: Rules
    masses: Mapping[str, Estimate]


def scrap_list(boat: BoatRecords, rules: Rules) -> ScrapList:
    """Everything whose fate is scrap and that has not gone, by metal, the heaviest first."""
    case = Case(boat, rules, masses_of(boat, rules).estimates)
    found: defaultdict[str, list[Item]] = defaultdict(list)
    for item in boat.items.values():
        if item.fate == "scrap" and where_is(item) != "gone":
            found[metal_of(item, rules)].append(item)
    prices = _prices(boat)
    metals = [_metal(case, metal, items, prices) for metal, items in found.items()]
    whole = tally(case.masses[item.key] for items in found.values() for item in items)
    return ScrapList(
        total=whole.spread(),
        weighed_share=whole.weighed_share(),
        metals=tuple(sorted(metals, key=lambda row: (-row.mass.likely, row.metal))),
        unpriced=tuple(sorted(row.metal for row in metals if row.value is None)),
        values=tuple(_values(case, found, prices)),
        cautions=CAUTIONS if metals else (),
    )


def metal_of(item: Item, rules: Rules) -> str:
    """The metal that a dealer takes it for; *mixed* for several and for what is none."""
    kind = rules.kinds.get(item.kind or "")
    if form_of(item, kind) == "cable":
        return CABLE
    material = material_of(item, kind, rules)
    return (material.scrap if material else "") or MIXED


def spec_of(metal: str) -> str:
    """What the price of a metal is kept under.

    >>> spec_of("stainless steel")
    'scrap/stainless-steel'
    """
    return "scrap/" + metal.replace(" ", "-")


def _prices(boat: BoatRecords) -> Mapping[str, Price]:
    """Prices by spec; of several the one that was written last."""
    return {
        price.spec: price
        for _, price in sorted(boat.prices.items())
        if price.spec and price.per == "kilogram" and price.amount is not None and price.currency
    }


def _metal(case: Case, metal: str, items: list[Item], prices: Mapping[str, Price]) -> ScrapMetal:
    masses = [case.masses[item.key] for item in items]
    of_metal, price = tally(masses), prices.get(spec_of(metal))
    lines = [_line(case, item) for item in items]
    return ScrapMetal(
        metal=metal,
        spec=spec_of(metal),
        count=sum(map(pieces, items)),
        mass=of_metal.spread(),
        weighed_share=of_metal.weighed_share(),
        price_per_kg=price.amount if price else None,
        currency=(price.currency if price else None) or "",
        value=_value(masses, price) if price else None,
        items=tuple(sorted(lines, key=lambda row: (-row.mass.likely, row.key))),
    )


def _value(masses: list[Estimate], price: Price) -> Value:
    mass, each = sum_of(masses), price.amount or 0.0
    return Value(mass.low * each, mass.likely * each, mass.high * each, price.currency or "")


def _values(
    case: Case, found: Mapping[str, list[Item]], prices: Mapping[str, Price]
) -> Iterator[Value]:
    """One sum for each currency; one scale or tape is off for all metals at once."""
    by_currency: defaultdict[str, list[Estimate]] = defaultdict(list)
    for metal, items in found.items():
        price = prices.get(spec_of(metal))
        if price and price.currency:
            each = price.amount or 0.0
            by_currency[price.currency] += [
                (case.masses[item.key][0] * each, case.masses[item.key][1]) for item in items
            ]
    for currency, worth in sorted(by_currency.items()):
        money = sum_of(worth)
        yield Value(money.low, money.likely, money.high, currency)


def _line(case: Case, item: Item) -> ScrapItem:
    kind = case.rules.kinds.get(item.kind or "")
    estimate = case.masses[item.key]
    return ScrapItem(
        key=item.key,
        name=name_of(item, kind),
        tags=case.boat.codes.get(f"item/{item.key}", ()),
        count=pieces(item),
        mass=spread_of(estimate),
        why=estimate[1].why,
        dirty=tuple(_dirty(item, kind)),
        cautions=kind.cautions if kind else (),
    )


def _dirty(item: Item, kind: Kind | None) -> Iterator[str]:
    """What spoils it for a dealer, or must be told to one."""
    if item.lead == "found":
        yield "lead in its paint"
    if item.asbestos == "found":
        yield "asbestos: no scrap, licensed people take it"
    if item.soaked_in in SOILED:
        yield f"soaked in {item.soaked_in}"
    if item.drained is False:
        yield "not drained"
    if item.leaking:
        yield "leaking"
    if kind and UNDER_WATER.intersection(kind.usual_in):
        yield ANTIFOULING
