"""The first page: whose waste, where, by which rules, and how much of what; then the cautions."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence

from reportlab.platypus import CondPageBreak, Flowable, Paragraph, Table

from shedtally.domain.lists import Spread, WasteList, WasteStream
from shedtally.printing.disposal.look import (
    BOAT,
    BODY,
    BODY_RIGHT,
    CODE,
    DANGER,
    HEAD,
    LARGE,
    NOTE,
    NOTE_RIGHT,
    STRONG_BODY,
    STRONG_RIGHT,
    TITLE,
    Hazard,
    known,
    marked,
    range_words,
    strong,
)
from shedtally.printing.disposal.plan import Plan, gone, hazardous, here
from shedtally.printing.figures import Line, kilograms, number, plain, words
from shedtally.printing.paper import HAIR, INK, RED_LEAD, WIDTH_MM, Heading
from shedtally.printing.phrases import Phrases
from shedtally.printing.tables import Cell, rows_of, space

BESIDE_RULE = (
    ("LINEBEFORE", (0, 0), (0, -1), 2.4, RED_LEAD),
    ("LEFTPADDING", (0, 0), (0, -1), 9),
    ("TOPPADDING", (0, 0), (-1, -1), 1),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 2),
)
_WIDTHS_MM = (6.0, 57.0, 20.0, 27.0, 9.0, 31.0, 28.0)


def cover(plan: Plan, heading: Heading, say: Phrases) -> list[Flowable]:
    """The first page; the table of streams may run on to the next."""
    waste = plan.waste
    story: list[Flowable] = [
        words(say("cover.title"), TITLE),
        words(heading.boat_name, BOAT),
        space(4),
        _facts(waste, say),
        space(5),
        _standing(waste, say),
        space(5),
    ]
    if not waste.streams:
        return [*story, words(say("cover.nothing"), LARGE)]
    story += [_sums(waste, say), space(6)]
    if waste.questions:
        count = len(waste.questions)
        key = "cover.open_question" if count == 1 else "cover.open_questions"
        story += [words(say(key, count=number(count)), BODY), space(6)]
    return [*story, words(say("totals.title"), HEAD), space(2), _totals(plan, say)]


def cautions(plan: Plan, say: Phrases) -> list[Flowable]:
    """Every caution with the sheets that it applies to, and everybody who must be called."""
    if not plan.cautions:
        return []
    rows: list[Sequence[Cell]] = [
        [
            Paragraph(f"{at}.&nbsp; {plain(say.text(text))}", DANGER),
            words(_letters(plan, text), STRONG_RIGHT),
        ]
        for text, at in plan.cautions.items()
    ]
    return [
        words(say("cautions.title"), TITLE),
        words(say("cautions.lead"), BODY),
        space(4),
        rows_of(rows, [WIDTH_MM - 24.0, 24.0], BESIDE_RULE),
        *_calls(plan, say),
        *_notes(plan, say),
    ]


def beside_rule(rows: Sequence[Cell]) -> Table:
    """A block beside a heavy red lead rule, as deep as what it holds."""
    return rows_of([[row] for row in rows], [WIDTH_MM], BESIDE_RULE)


def day_words(say: Phrases, text: str, *, short: bool = False) -> str:
    """An ISO day as people read it; anything else as it stands."""
    try:
        return say.day(dt.date.fromisoformat(text), short=short)
    except ValueError:
        return text


def _facts(waste: WasteList, say: Phrases) -> Table:
    unknown = say("cover.not_written")
    rules = say("cover.rules_on", name=waste.rule_set_name, day=day_words(say, waste.dated))
    if waste.edition:
        rules += say("cover.edition", day=day_words(say, waste.edition))
    rows = [
        (say("cover.owner"), waste.owner or unknown),
        (say("cover.lies_at"), waste.lies_at or unknown),
        (say("cover.rules"), rules),
        (say("cover.holder"), say(f"cover.{waste.holder}")),
    ]
    return rows_of(
        [[words(name, NOTE), words(said, STRONG_BODY)] for name, said in rows],
        [24.0, WIDTH_MM - 24.0],
        [("TOPPADDING", (0, 0), (-1, -1), 0.5), ("BOTTOMPADDING", (0, 0), (-1, -1), 0.5)],
    )


def _standing(waste: WasteList, say: Phrases) -> Table:
    return beside_rule(
        [[words(say("cover.local_first"), STRONG_BODY), words(say.text(waste.standing), BODY)]]
    )


def _sums(waste: WasteList, say: Phrases) -> Table:
    """Four figures that can be read across a counter."""
    danger, _ = hazardous(waste)
    inside = {box.key for row in waste.streams for box in row.containers if not box.gone}
    share = say("cover.weighed_share", share=round(100 * waste.weighed_share))
    cells: list[Cell] = [
        _figure(say("cover.on_site"), waste.on_site, say),
        _figure(say("cover.hazardous_of_it"), danger, say),
        _figure(say("cover.gone"), waste.gone, say),
        [
            words(say("cover.weighed"), NOTE),
            words(f"{round(100 * waste.weighed_share)} %", CODE),
            words(share.partition("%")[2].strip(), NOTE),
            marked([strong(number(len(inside))), plain(say("cover.containers"))]),
        ],
    ]
    return rows_of(
        [cells],
        [WIDTH_MM / 4] * 4,
        [("LINEABOVE", (0, 0), (-1, 0), 0.8, INK), ("LINEBELOW", (0, 0), (-1, -1), 0.8, INK)],
    )


def _figure(name: str, mass: Spread, say: Phrases) -> list[Flowable]:
    value = say("mass.kilograms", value=kilograms(mass.likely)) if mass.high or known(mass) else "–"
    return [words(name, NOTE), words(value, CODE), words(range_words(say, mass), NOTE)]


def _totals(plan: Plan, say: Phrases) -> Table:
    heads = ("sheet", "stream", "code", "hazard", "containers", "on_site", "gone")
    head: list[Cell] = [
        words(say(f"totals.{key}"), NOTE_RIGHT if at > 3 else NOTE) for at, key in enumerate(heads)
    ]
    rows: list[Sequence[Cell]] = [head]
    lines = []
    for sheet in plan.sheets:
        lines.append(("LINEABOVE", (0, len(rows)), (-1, len(rows)), 0.5, INK))
        for at, stream in enumerate(sheet.streams):
            rows.append(_row(sheet.letter if at == 0 else "", stream, say))
    lines.append(("LINEABOVE", (0, len(rows)), (-1, len(rows)), 1.0, INK))
    danger, danger_gone = hazardous(plan.waste)
    rows.append(_sum_row(say("totals.hazardous"), danger, danger_gone, say))
    rows.append(_sum_row(say("totals.all"), plan.waste.on_site, plan.waste.gone, say))
    return rows_of(
        rows,
        _WIDTHS_MM,
        [
            ("LINEBELOW", (0, 1), (-1, -1), 0.25, HAIR),
            ("RIGHTPADDING", (0, 0), (-2, -1), 4),
            ("TOPPADDING", (0, 0), (-1, -1), 0.3),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 1),
            *lines,
        ],
        repeat=1,
    )


def _row(letter: str, stream: WasteStream, say: Phrases) -> list[Cell]:
    word = say("hazard.yes") if stream.hazardous else say("hazard.no")
    boxes = len(stream.containers)
    return [
        words(letter, STRONG_BODY),
        words(say.text(stream.name), BODY),
        words(stream.code, STRONG_BODY),
        Hazard(word, hazardous=stream.hazardous),
        words(str(boxes) if boxes else "–", BODY_RIGHT),
        _mass(stream.on_site, say, there=here(stream)),
        _mass(stream.gone, say, there=gone(stream)),
    ]


def _sum_row(name: str, on_site: Spread, left: Spread, say: Phrases) -> list[Cell]:
    return [
        "",
        words(name, STRONG_BODY),
        "",
        "",
        "",
        _mass(on_site, say, there=known(on_site)),
        _mass(left, say, there=known(left)),
    ]


def _mass(mass: Spread, say: Phrases, *, there: bool) -> list[Flowable]:
    if not there:
        return [words("–", BODY_RIGHT)]
    if not known(mass):
        return [words("?", STRONG_RIGHT)]
    inside = range_words(say, mass)
    likely = strong(kilograms(mass.likely))
    return [marked([likely, plain(f"({inside})") if inside else ""], BODY_RIGHT)]


def _letters(plan: Plan, text: str) -> str:
    """The sheets on which a caution or a call stands."""
    return ", ".join(
        sheet.letter
        for sheet in plan.sheets
        if any(text in (*one.cautions, *one.call) for one in sheet.streams)
    )


def _calls(plan: Plan, say: Phrases) -> list[Flowable]:
    texts = [text for sheet in plan.sheets for one in sheet.streams for text in one.call]
    if not texts:
        return []
    each: list[list[Cell]] = [
        [words(say.text(text), BODY), words(_letters(plan, text), STRONG_RIGHT)]
        for text in dict.fromkeys(texts)
    ]
    # Two columns, read downwards: as one they push the notes on to a page of their own.
    half = (len(each) + 1) // 2
    empty: list[Cell] = ["", ""]
    rest = [*each[half:], empty][:half]
    rows = [[*left, "", *right] for left, right in zip(each[:half], rest, strict=True)]
    style = [("LINEBELOW", (0, 0), (-1, -1), 0.25, HAIR), ("TOPPADDING", (0, 0), (-1, -1), 0.8)]
    names = (WIDTH_MM - 6.0) / 2 - 14.0
    table = rows_of(rows, [names, 14.0, 6.0, names, 14.0], style)
    return [CondPageBreak(90), space(9), words(say("cautions.call"), HEAD), Line(), table]


def _notes(plan: Plan, say: Phrases) -> list[Flowable]:
    """What the rule set says besides codes."""
    if not plan.waste.notes:
        return []
    notes = [words(say.text(text), BODY) for text in plan.waste.notes]
    return [CondPageBreak(90), space(9), words(say("cautions.notes"), HEAD), Line(), *notes]
