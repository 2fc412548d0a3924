"""The scrap list: by metal, what it weighs and may fetch, and what to tell the dealer."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from reportlab.platypus import Flowable

from shedtally.domain.records import tag
from shedtally.domain.tally.lists import ScrapItem, ScrapList, ScrapMetal, Value
from shedtally.printing import csv_text
from shedtally.printing.figures import (
    CODE_WIDTH_MM,
    codes,
    kilograms,
    mass,
    number,
    range_words,
    words,
)
from shedtally.printing.paper import (
    ASKS,
    RIGHT,
    SMALL,
    SMALL_CAUTION,
    SMALL_RIGHT,
    STRONG_BODY,
    Heading,
    document,
)
from shedtally.printing.tables import Cell, numbered_cautions, opening, section, table

_TITLE = "Scrap"
_STANDING = "Local rules and licensed trades come first."


def scrap_pdf(scrap: ScrapList, heading: Heading) -> bytes:
    """The list as PDF on A4: cautions, a table of metals, then each metal with its items."""
    story = opening(_TITLE, heading, _lead(scrap))
    if scrap.metals:
        texts = [(text, "") for text in scrap.cautions if text != _STANDING]
        story += numbered_cautions(texts, _STANDING)
        story += [*section("By metal", "Prices are what you entered."), _summary(scrap)]
    for metal in scrap.metals:
        story += _metal(metal)
    return document(story, _TITLE, heading)


def scrap_csv(scrap: ScrapList) -> str:
    """The list as CSV, one row an item, by metal."""
    heads = [
        "metal", "item", "tag codes", "count (pieces)", "mass low (kg)", "mass likely (kg)",
        "mass high (kg)", "mass got by", "why", "price (per kg)", "currency", "to tell the dealer",
        "cautions",
    ]  # fmt: skip
    return csv_text.csv_text(heads, _csv_rows(scrap))


def _csv_rows(scrap: ScrapList) -> Iterator[list[csv_text.Value]]:
    for metal in scrap.metals:
        for item in metal.items:
            yield [
                metal.metal, item.name, csv_text.several(tag.shown(code) for code in item.tags),
                item.count, item.mass.low, item.mass.likely, item.mass.high, item.mass.basis,
                item.why, metal.price_per_kg, metal.currency, csv_text.several(item.dirty),
                csv_text.several(item.cautions),
            ]  # fmt: skip


def _lead(scrap: ScrapList) -> str:
    if not scrap.metals:
        return (
            "Nothing is to be scrapped yet. An item is listed here once its fate is scrap; "
            "set it on the item, then print again."
        )
    worth = "; ".join(_money(value) for value in scrap.values)
    said = f" Worth {worth}." if worth else " No price is entered yet."
    missing = f" Without a price: {', '.join(scrap.unpriced)}." if worth and scrap.unpriced else ""
    return (
        f"{kilograms(scrap.total.likely)} kg, {range_words(scrap.total)} kg. "
        f"{round(100 * scrap.weighed_share)} % of it was weighed.{said}{missing}"
    )


def _summary(scrap: ScrapList) -> Flowable:
    rows: list[list[Cell]] = [
        [
            words(metal.metal, STRONG_BODY),
            words(str(metal.count), RIGHT),
            words(f"{kilograms(metal.mass.likely)} kg", RIGHT),
            words(range_words(metal.mass), SMALL_RIGHT),
            words(_price(metal), RIGHT),
            words(_money(metal.value) if metal.value else "–", RIGHT),
        ]
        for metal in scrap.metals
    ]
    heads = ["metal", "pieces", "mass", "low to high", "a kilogram", "worth"]
    return table(heads, [42, 15, 24, 28, 27, 42], rows, right=5)


def _metal(metal: ScrapMetal) -> list[Flowable]:
    rows = [_row(item) for item in metal.items]
    heads = ["tag", "what, and what to tell the dealer", "pieces", "mass"]
    return [
        *section(metal.metal.capitalize()),
        table(heads, [CODE_WIDTH_MM + 4, 102, 15, 34], rows, right=2),
    ]


def _row(item: ScrapItem) -> list[Cell]:
    what: list[Flowable] = [words(item.name, STRONG_BODY)]
    if item.dirty:
        what.append(words("; ".join(item.dirty), ASKS))
    what += _cautions(item.cautions)
    what.append(words(item.why, SMALL))
    return [codes(item.tags), what, words(str(item.count), RIGHT), mass(item.mass)]


def _cautions(texts: Sequence[str]) -> list[Flowable]:
    return [words(text, SMALL_CAUTION) for text in texts]


def _price(metal: ScrapMetal) -> str:
    return (
        "–" if metal.price_per_kg is None else f"{number(metal.price_per_kg, 2)} {metal.currency}"
    )


def _money(value: Value) -> str:
    if round(value.low) == round(value.high):
        return f"{number(value.likely)} {value.currency}"
    return f"{number(value.likely)} {value.currency} ({number(value.low)} to {number(value.high)})"
