"""The waste list: what the waste site asks for, with the cautions before anything else."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Sequence

from reportlab.platypus import CondPageBreak, Flowable, Paragraph, Table

from shedtally.domain import tag
from shedtally.domain.lists import Spread, WasteItem, WasteList, WasteStream
from shedtally.printing.csv_text import Value, csv_text, several
from shedtally.printing.figures import (
    CODE_WIDTH_MM,
    codes,
    kilograms,
    mass,
    range_words,
    spread_words,
    words,
)
from shedtally.printing.letters import MM
from shedtally.printing.paper import (
    ASKS,
    CAUTION,
    LARGE,
    LARGE_RIGHT,
    RED_LEAD,
    RIGHT,
    SMALL,
    SMALL_CAUTION,
    SMALL_RIGHT,
    STRONG_BODY,
    VERDIGRIS,
    WIDTH_MM,
    Heading,
    day,
    document,
)
from shedtally.printing.tables import (
    Cell,
    facts,
    height,
    numbered_cautions,
    opening,
    questions,
    section,
    space,
    table,
)

_TITLE = "Waste list"
FIRST_ROWS_MM = 26.0


def waste_pdf(waste: WasteList, heading: Heading) -> bytes:
    """The list as PDF on A4: cautions, a table of streams, questions, a block for each stream."""
    story = [*opening(_TITLE, heading, _lead(waste)), _basis(waste)]
    cautions = _cautions(waste)
    if cautions:
        story += numbered_cautions(cautions, waste.standing)
    elif waste.standing:
        story += [space(8), words(waste.standing, STRONG_BODY)]
    if waste.streams:
        story += [*section("Streams"), _summary(waste)]
    story += questions(waste.questions)
    for stream in waste.streams:
        story += _block(stream)
    sources = sorted({source for stream in waste.streams for source in stream.sources})
    if sources:
        story += [*section("Sources"), *(words(source, SMALL) for source in sources)]
    return document(story, _TITLE, heading)


def waste_csv(waste: WasteList) -> str:
    """The list as CSV, one row an item, by stream."""
    heads = [
        "rule set", "holder", "stream", "code", "title of the code", "hazardous (yes/no)", "item",
        "tag codes", "count (pieces)", "mass low (kg)", "mass likely (kg)", "mass high (kg)",
        "mass got by", "reason", "assumed (yes/no)", "container", "gone (yes/no)", "keep in",
        "transport",
    ]  # fmt: skip
    return csv_text(heads, _csv_rows(waste))


def _csv_rows(waste: WasteList) -> Iterator[list[Value]]:
    for stream in waste.streams:
        for item in stream.items:
            known = item.mass.basis != "unknown"
            yield [
                waste.rule_set_name, waste.holder, stream.name, stream.code, stream.code_title,
                stream.hazardous, item.name, several(tag.shown(code) for code in item.tags),
                item.count, item.mass.low if known else None, item.mass.likely if known else None,
                item.mass.high if known else None, item.mass.basis, item.reason, item.assumed,
                item.container, item.gone, stream.keep_in, stream.transport,
            ]  # fmt: skip


def _lead(waste: WasteList) -> str:
    if not waste.streams:
        return (
            "No waste is recorded yet. An item is listed here once its fate is waste or scrap; "
            "set it on the item, then print again."
        )
    return (
        f"{kilograms(waste.on_site.likely)} kg on site ({spread_words(waste.on_site)}), "
        f"{kilograms(waste.gone.likely)} kg gone. "
        f"{round(100 * waste.weighed_share)} % of the mass was weighed."
    )


def _basis(waste: WasteList) -> Flowable:
    return facts(
        [
            ("Rules", f"{waste.rule_set_name}, as in force on {_day(waste.dated)}"),
            ("Holder", waste.holder),
        ]
    )


def _day(text: str) -> str:
    try:
        return day(dt.date.fromisoformat(text))
    except ValueError:
        return text


def _cautions(waste: WasteList) -> list[tuple[str, str]]:
    found: dict[str, list[str]] = {}
    for stream in waste.streams:
        for text in stream.cautions:
            found.setdefault(text, []).append(stream.name)
    return [(text, "; ".join(names)) for text, names in found.items()]


def _summary(waste: WasteList) -> Flowable:
    rows: list[list[Cell]] = [
        [
            words(stream.name, STRONG_BODY),
            words(stream.code, STRONG_BODY),
            words("hazardous", SMALL_CAUTION) if stream.hazardous else "",
            *_sums(stream.items, stream.on_site, stream.gone),
        ]
        for stream in waste.streams
    ]
    everything = [item for stream in waste.streams for item in stream.items]
    total = words("all streams", STRONG_BODY)
    rows.append([total, "", "", *_sums(everything, waste.on_site, waste.gone)])
    heads = ["stream", "code", "", "on site", "low to high", "gone", "low to high"]
    return table(heads, [63, 22, 17, 17, 21, 17, 21], rows, right=4)


def _sums(items: Sequence[WasteItem], on_site: Spread, gone: Spread) -> list[Cell]:
    """Mass and spread of what is here and of what has gone; empty where there is nothing."""
    found: list[Cell] = []
    for mass_of_all, there in ((on_site, _here(items)), (gone, _gone(items))):
        if not there:
            found += ["", ""]
            continue
        known = "?" if mass_of_all.basis == "unknown" else kilograms(mass_of_all.likely)
        found += [words(f"{known} kg", RIGHT), words(range_words(mass_of_all), SMALL_RIGHT)]
    return found


def _here(items: Sequence[WasteItem]) -> bool:
    return any(not item.gone for item in items)


def _gone(items: Sequence[WasteItem]) -> bool:
    return any(item.gone for item in items)


def _block(stream: WasteStream) -> list[Flowable]:
    """One stream: header, what to do with it, its items, its sum."""
    top: list[Flowable] = [_header(stream), space(3), facts(_what_to_do(stream)), space(4)]
    heads = ["tag", "what, and why it is here", "container", "pieces", "mass"]
    rows = [_row(item) for item in stream.items]
    return [
        CondPageBreak(16 + height(top) + FIRST_ROWS_MM * MM),
        space(16),
        *top,
        table(heads, [CODE_WIDTH_MM + 3, 76, 34, 14, 28], rows, right=2),
        space(3),
        words(_sum(stream), RIGHT),
    ]


def _header(stream: WasteStream) -> Table:
    name: list[Flowable] = [words(stream.name, LARGE)]
    if stream.hazardous:
        name.append(words("Hazardous", CAUTION))
    code = [
        words(stream.code, LARGE_RIGHT),
        words(stream.code_title, SMALL_RIGHT),
    ]
    colour = RED_LEAD if stream.hazardous else VERDIGRIS
    return Table(
        [[name, code]],
        colWidths=[WIDTH_MM * 0.55 * MM, WIDTH_MM * 0.45 * MM],
        hAlign="LEFT",
        style=[
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            ("LEFTPADDING", (0, 0), (-1, -1), 0),
            ("RIGHTPADDING", (0, 0), (-1, -1), 0),
            ("LINEABOVE", (0, 0), (-1, 0), 2.4 if stream.hazardous else 0.8, colour),
            ("TOPPADDING", (0, 0), (-1, -1), 5),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 3),
        ],
    )


def _what_to_do(stream: WasteStream) -> list[tuple[str, str | list[Paragraph]]]:
    unsure = "Some of this is from memory and not yet checked against a text: ask before it counts."
    return [
        ("Container", stream.keep_in),
        ("Keep apart", "; ".join(stream.keep_apart)),
        ("Caution", [words(text, CAUTION) for text in stream.cautions]),
        ("Call", "; ".join(stream.call)),
        ("Transport", stream.transport),
        ("Why this code", stream.why),
        ("Not checked", [words(unsure, ASKS)] if stream.from_memory else ""),
    ]


def _row(item: WasteItem) -> list[Cell]:
    what: list[Flowable] = [words(item.name, STRONG_BODY), words(item.reason, SMALL)]
    if item.assumed:
        what.append(words("assumed until the open question is answered", ASKS))
    where: list[Flowable] = [words(item.container or "none yet", SMALL)]
    if item.gone:
        where.append(words("gone", STRONG_BODY))
    return [codes(item.tags), what, where, words(str(item.count), RIGHT), mass(item.mass)]


def _sum(stream: WasteStream) -> str:
    said = []
    if _here(stream.items):
        said.append(f"on site {_total(stream.on_site)}")
    if _gone(stream.items):
        said.append(f"gone {_total(stream.gone)}")
    return " · ".join(said)


def _total(spread: Spread) -> str:
    if spread.basis == "unknown":
        return "not known"
    return f"{kilograms(spread.likely)} kg ({spread_words(spread) or 'sum'})"
