"""The disposal list as tables: a workbook for those who count on, the items as CSV."""

from __future__ import annotations

import datetime as dt

from shedtally.domain.lists import Spread, WasteContainer, WasteList
from shedtally.domain.records import tag
from shedtally.domain.rulebook import Rules
from shedtally.printing.csv_text import several
from shedtally.printing.disposal.plan import Plan, hazardous, plan
from shedtally.printing.paper import Heading
from shedtally.printing.workbook import Page, Value, workbook

MASS = ("low (kg)", "likely (kg)", "high (kg)", "got by")


def disposal_xlsx(waste: WasteList, rules: Rules, heading: Heading) -> bytes:
    """The list as a workbook with summary, items, containers, questions and sources."""
    arranged = plan(waste, rules, "Other streams")
    pages = [
        _summary(arranged, heading),
        _items(arranged),
        _containers(arranged),
        _questions(waste),
        _sources(arranged),
    ]
    return workbook(pages, f"Disposal list, {heading.boat_name}", heading.made_on)


def _summary(arranged: Plan, heading: Heading) -> Page:
    waste = arranged.waste
    heads = (
        "sheet", "group", "stream", "code", "title of the code", "hazardous (yes/no)",
        *(f"on site, {part}" for part in MASS), *(f"gone, {part}" for part in MASS),
        "containers", "boat", "owner", "lies at", "rule set", "in force on", "waste of", "made on",
    )  # fmt: skip
    about: list[Value] = [
        heading.boat_name, waste.owner, waste.lies_at, waste.rule_set_name, _day(waste.dated),
        waste.holder, heading.made_on,
    ]  # fmt: skip
    rows: list[list[Value]] = [
        [
            sheet.letter, sheet.name, stream.name, stream.code, stream.code_title,
            stream.hazardous, *_mass(stream.on_site), *_mass(stream.gone),
            len(stream.containers), *about,
        ]
        for sheet in arranged.sheets
        for stream in sheet.streams
    ]  # fmt: skip
    danger, danger_gone = hazardous(waste)
    for name, there, left in (
        ("hazardous streams", danger, danger_gone),
        ("all streams", waste.on_site, waste.gone),
    ):
        first: list[Value] = [None, None, name, None, None, None]
        rows.append([*first, *_mass(there), *_mass(left), None, *about])
    return Page("summary", heads, rows)


def _items(arranged: Plan) -> Page:
    heads = (
        "sheet", "stream", "code", "hazardous (yes/no)", "item", "tag codes", "pieces", *MASS,
        "reason", "assumed (yes/no)", "container", "gone (yes/no)", "keep in", "transport",
    )  # fmt: skip
    rows: list[list[Value]] = [
        [
            sheet.letter, stream.name, stream.code, stream.hazardous, item.name,
            several(map(tag.shown, item.tags)), item.count, *_mass(item.mass), item.reason,
            item.assumed, item.container, item.gone, stream.keep_in, stream.transport,
        ]
        for sheet in arranged.sheets
        for stream in sheet.streams
        for item in stream.items
    ]  # fmt: skip
    return Page("items", heads, rows)


def _containers(arranged: Plan) -> Page:
    heads = (
        "container", "tag codes", "streams inside", "codes", "stands", "holds (L)", "empty (kg)",
        "full (kg)", *(f"inside, {part}" for part in MASS), "opened", "closed", "gone (yes/no)",
    )  # fmt: skip
    boxes: dict[str, WasteContainer] = {}
    inside: dict[str, list[tuple[str, str]]] = {}
    for stream in arranged.waste.streams:
        for box in stream.containers:
            boxes[box.key] = box
            inside.setdefault(box.key, []).append((stream.name, stream.code))
    rows: list[list[Value]] = [
        [
            box.name, several(map(tag.shown, box.tags)),
            several(dict.fromkeys(name for name, _ in inside[key])),
            several(dict.fromkeys(code for _, code in inside[key])), box.place, box.capacity_l,
            box.tare_kg, box.gross_kg, *_mass(box.net), _day(box.opened), _day(box.closed),
            box.gone,
        ]
        for key, box in boxes.items()
    ]  # fmt: skip
    return Page("containers", heads, rows)


def _questions(waste: WasteList) -> Page:
    names = {item.key: item.tags for stream in waste.streams for item in stream.items}
    rows: list[list[Value]] = [
        [row.name, several(map(tag.shown, names.get(row.item, ()))), row.ask, row.assumed, None]
        for row in waste.questions
    ]
    return Page(
        "questions", ("what", "tag codes", "question", "assumed until then", "answer"), rows
    )


def _sources(arranged: Plan) -> Page:
    rows: list[list[Value]] = [
        [number, title, arranged.standings.get(title, "")]
        for title, number in arranged.sources.items()
    ]
    rows += [[None, arranged.waste.standing, "standing statement"]]
    return Page("sources", ("number", "source", "how it was seen"), rows)


def _mass(mass: Spread | None) -> list[Value]:
    """Low, likely and high as numbers, empty where nothing is known or nothing is there."""
    if mass is None or mass.basis == "unknown":
        return [None, None, None, "unknown" if mass and mass.high else None]
    return [mass.low, mass.likely, mass.high, mass.basis]


def _day(text: str) -> Value:
    try:
        return dt.date.fromisoformat(text)
    except ValueError:
        return text or None
