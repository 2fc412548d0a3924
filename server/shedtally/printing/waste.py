"""The waste list: what the waste site asks for, with the cautions before anything else."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator

from reportlab.platypus import CondPageBreak, Flowable, Paragraph, Table

from shedtally.domain import tag
from shedtally.domain.lists import WasteItem, WasteList, WasteStream
from shedtally.printing.csv_text import Value, csv_text, several
from shedtally.printing.figures import (
    CODE_WIDTH_MM,
    codes,
    kilograms,
    mass,
    plain,
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
    numbered_cautions,
    opening,
    questions,
    section,
    space,
    table,
)

_TITLE = "Waste list"


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
            ("Rules", f"{waste.rule_set_name}, as of {_day(waste.dated)}"),
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
    return [(text, ", ".join(names)) for text, names in found.items()]


def _summary(waste: WasteList) -> Flowable:
    rows: list[list[Cell]] = [
        [
            [words(stream.name, STRONG_BODY), *_hazard(stream)],
            words(stream.code, STRONG_BODY),
            words(stream.keep_in, SMALL),
            mass(stream.on_site),
            mass(stream.gone),
        ]
        for stream in waste.streams
    ]
    total = words("all streams", STRONG_BODY)
    rows.append([total, "", "", mass(waste.on_site), mass(waste.gone)])
    heads = ["stream", "code", "container", "on site", "gone"]
    return table(heads, [45, 27, 52, 29, 25], rows, right=2)


def _hazard(stream: WasteStream) -> list[Flowable]:
    return [words("hazardous", SMALL_CAUTION)] if stream.hazardous else []


def _block(stream: WasteStream) -> list[Flowable]:
    """One stream: header, what to do with it, its items, its sum."""
    heads = ["tag", "what, and why it is here", "container", "pieces", "mass"]
    rows = [_row(item) for item in stream.items]
    return [
        CondPageBreak(65 * MM),
        space(16),
        _header(stream),
        space(3),
        facts(_what_to_do(stream)),
        space(4),
        table(heads, [CODE_WIDTH_MM + 3, 76, 34, 14, 28], rows, right=2),
        space(3),
        _sum(stream),
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


def _sum(stream: WasteStream) -> Paragraph:
    said = f"on site {kilograms(stream.on_site.likely)} kg ({plain(spread_words(stream.on_site))})"
    if stream.gone.likely:
        said += f" · gone {kilograms(stream.gone.likely)} kg"
    return Paragraph(said, RIGHT)
