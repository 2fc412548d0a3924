"""The open questions as a form to fill in by hand, and the sources with their standing."""

from __future__ import annotations

import types
import typing
from collections.abc import Sequence

from reportlab.platypus import CondPageBreak, Flowable, PageBreak

from shedtally.domain.lists import Question
from shedtally.domain.records import Boat, Item, tag
from shedtally.printing.disposal.look import (
    ASKS,
    BODY,
    HEAD,
    NAME,
    NOTE,
    STRONG_BODY,
    TITLE,
    marked,
    strong,
)
from shedtally.printing.disposal.plan import STANDINGS, Asked, Plan
from shedtally.printing.figures import Line, Tick, plain, words
from shedtally.printing.letters import CODE, MM, TEXT, width
from shedtally.printing.paper import HAIR, WIDTH_MM, OnSheet
from shedtally.printing.phrases import Phrases
from shedtally.printing.tables import Cell, height, rows_of, space

_WHAT_MM = 88.0
_ANSWER_MM = WIDTH_MM - _WHAT_MM


def form_pages(plan: Plan, say: Phrases) -> list[Flowable]:
    """The questions, each with boxes to tick or a line to write on; none: no page."""
    if not plan.questions:
        return []
    story: list[Flowable] = [
        PageBreak(),
        OnSheet(say("form.title"), say("form.title")),
        words(say("form.title"), TITLE),
        words(say("form.lead"), BODY),
        space(22),
        Line(WIDTH_MM),
        words(say("form.done"), NOTE),
        space(8),
    ]
    for asked in plan.questions:
        story += _asked(asked, plan, say)
    return story


def source_pages(plan: Plan, say: Phrases) -> list[Flowable]:
    """The sources under their numbers, by how well each was seen."""
    if not plan.sources:
        return []
    story: list[Flowable] = [
        PageBreak(),
        OnSheet(say("sources.title"), say("sources.title")),
        words(say("sources.title"), TITLE),
        words(say("sources.lead"), BODY),
    ]
    for standing in (*STANDINGS, ""):
        titles = [title for title in plan.sources if plan.standings.get(title, "") == standing]
        if not titles:
            continue
        head = say(f"sources.{(standing or 'estimate').replace(' ', '_')}")
        rows: list[Sequence[Cell]] = [
            [words(str(plan.sources[title]), STRONG_BODY), words(say.text(title), BODY)]
            for title in titles
        ]
        story += [CondPageBreak(24 * MM), space(8), words(head, HEAD), rows_of(rows, [12.0, 166.0])]
    return [*story, *_bases(plan, say)]


def _bases(plan: Plan, say: Phrases) -> list[Flowable]:
    """Where each code is printed and since when it applies, equal places together."""
    places: dict[str, list[str]] = {}
    for sheet in plan.sheets:
        for stream in sheet.streams:
            if stream.basis:
                places.setdefault(stream.basis, []).append(stream.code)
    if not places:
        return []
    rows: list[Sequence[Cell]] = [
        [words(", ".join(dict.fromkeys(codes)), STRONG_BODY), words(say.text(place), BODY)]
        for place, codes in places.items()
    ]
    table = rows_of(rows, [62.0, 116.0], [("RIGHTPADDING", (0, 0), (0, -1), 6)])
    return [CondPageBreak(24 * MM), space(8), words(say("sources.codes"), HEAD), table]


def choices(field: str) -> tuple[str, ...]:
    """The answers that a field can hold, as words; none for a number or free text."""
    record = Boat if field == "holder" else Item
    hints = typing.get_type_hints(record)
    if field not in hints:
        return ()
    kinds = typing.get_args(hints[field]) if _optional(hints[field]) else (hints[field],)
    for kind in kinds:
        if kind is bool:
            return ("yes", "no")
        if typing.get_origin(kind) is typing.Literal:
            return tuple(str(value) for value in typing.get_args(kind))
    return ("yes", "no") if field == "container" else ()


def _optional(hint: object) -> bool:
    return isinstance(hint, types.UnionType) or typing.get_origin(hint) is typing.Union


def _asked(asked: Asked, plan: Plan, say: Phrases) -> list[Flowable]:
    top: list[Flowable] = [
        words(say.text(asked.ask), NAME),
        words(say("form.until", assumed=say.text(asked.assumed)), ASKS),
        space(2),
    ]
    rows = [_row(question, plan, say) for question in asked.of]
    table = rows_of(
        rows,
        [_WHAT_MM, _ANSWER_MM],
        [
            ("LINEBELOW", (0, 0), (-1, -1), 0.25, HAIR),
            ("VALIGN", (0, 0), (-1, -1), "MIDDLE"),
            ("TOPPADDING", (0, 0), (-1, -1), 3),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 3.5),
        ],
    )
    return [CondPageBreak(height(top) + 12 * MM), *top, table, space(9)]


def _row(question: Question, plan: Plan, say: Phrases) -> list[Cell]:
    codes = [
        f'<font name="{CODE}">{plain(tag.shown(code))}</font>'
        for code in plan.tags.get(question.item, ())[:3]
    ]
    return [marked([strong(question.name), *codes]), _answer(question.field, say)]


def _answer(field: str, say: Phrases) -> Flowable:
    options = choices(field)
    if not options:
        unit = say(f"form.{field}") if field == "flash_point_c" else ""
        return _to_write(unit)
    said = [say(f"form.{word}") if word in {"yes", "no"} else say.text(word) for word in options]
    cells: list[Cell] = []
    widths: list[float] = []
    for text in said:
        cells += [Tick(), words(text, BODY)]
        widths += [5.5, width(text, TEXT, BODY.fontSize) / MM + 4.0]
    if sum(widths) > _ANSWER_MM:  # in two rows
        half = (len(cells) // 2 + 1) // 2 * 2
        rest = [*cells[half:], *[""] * (2 * half - len(cells))]
        pairs = zip(widths[:half], [*widths[half:], *[0.0] * (2 * half - len(cells))], strict=True)
        return rows_of([cells[:half], rest], [max(pair) for pair in pairs])
    return rows_of([cells], widths)


def _to_write(unit: str) -> Flowable:
    if not unit:
        return Line(_ANSWER_MM, above=16)
    room = width(unit, TEXT, BODY.fontSize) / MM + 3
    left = (_ANSWER_MM - room) / 3
    cells: list[Cell] = [Line(left, above=16), words(unit, BODY), Line(2 * left, above=16)]
    return rows_of([cells], [left, room, 2 * left], [("VALIGN", (0, 0), (-1, -1), "BOTTOM")])
