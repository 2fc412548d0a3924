"""The schedule of pipes or wires as they were: of each system the drawing, then the table."""

from __future__ import annotations

from collections.abc import Iterator

from reportlab.platypus import Flowable, KeepTogether

from shedtally.domain.records import tag
from shedtally.domain.schedules.lists import Schedule, ScheduleRow, ScheduleSystem
from shedtally.printing.csv_text import Value, csv_text, several
from shedtally.printing.figures import codes, number, words
from shedtally.printing.paper import (
    A4_WIDE,
    ASKS,
    SMALL,
    STRONG_BODY,
    Heading,
    OnSheet,
    document,
)
from shedtally.printing.schedule_drawing import drawings
from shedtally.printing.tables import Cell, numbered_cautions, opening, section, space, table

_STANDING = "Local rules and licensed trades come first."
_HEADS = (
    "system", "number", "tag codes", "name", "size", "length (m)", "length is", "from", "to",
    "more ends", "held by", "place", "condition",
)  # fmt: skip
_PAPER = A4_WIDE
_SMALL = 3
_NOBODY = "not written down"


def schedule_pdf(found: Schedule, heading: Heading) -> bytes:
    """The schedule as PDF on A4 across: a drawing and its table are both wide."""
    story: list[Flowable] = opening(found.title, heading, _lead(found), _PAPER)
    if found.systems:
        story += numbered_cautions([(text, "") for text in found.cautions], _STANDING, _PAPER)
    for system in found.systems:
        story += _system(system, found.heads)
    return document(story, found.title, heading, _PAPER)


def schedule_csv(found: Schedule) -> str:
    """The schedule as CSV, one row a run."""
    return csv_text((*_HEADS, *found.heads), _csv_rows(found))


def _csv_rows(found: Schedule) -> Iterator[list[Value]]:
    for system in found.systems:
        for row in system.rows:
            yield [
                row.system, row.number, several(tag.shown(code) for code in row.tags), row.name,
                row.size, None if row.length_mm is None else row.length_mm / 1000, row.how,
                row.ends[0], row.ends[1], several(row.ends[2:]), several(row.held), row.place,
                row.condition, *row.more,
            ]  # fmt: skip


def _lead(found: Schedule) -> str:
    rows = [row for system in found.systems for row in system.rows]
    if not rows:
        return (
            "No run is recorded yet. Take out a hose, pipe or cable, say what its ends were "
            "joined to, then print again."
        )
    metres = sum(row.length_mm or 0 for row in rows) / 1000
    unknown = sum(row.length_mm is None for row in rows)
    lacks = f" Without a length: {unknown}." if unknown else ""
    runs = "1 run" if len(rows) == 1 else f"{number(len(rows))} runs"
    return f"{runs}, {number(metres, 1)} m as they were.{lacks}"


def _system(system: ScheduleSystem, heads: tuple[str, ...]) -> list[Flowable]:
    how = (
        "From the stem (left) aft. On a line its tag or its number in the table, under it the size."
    )
    drawn = drawings(system.blocks, _PAPER)
    if len(drawn) > len(system.blocks):
        how += " What is too wide for the page goes on below, line by line."
    columns, widths = ["run", "what", "size", "length", "from", "to"], [26, 60, 28, 21, 65, 65]
    if heads:
        columns, widths = [*columns, "circuit"], [26, 50, 26, 21, 41, 41, 60]
    top = [OnSheet("", system.name), *section(system.name, how), *drawn[:1]]
    below = [
        *drawn[1:],
        space(6),
        table(columns, widths, [_row(row, heads) for row in system.rows], paper=_PAPER),
        *(words(question, ASKS) for question in system.open_questions),
    ]
    # A small system is read at one look; of a large one the heading stays with its first drawing.
    if len(system.rows) <= _SMALL and len(drawn) <= 1:
        return [KeepTogether([*top, *below])]
    return [KeepTogether(top), *below]


def _row(row: ScheduleRow, heads: tuple[str, ...]) -> list[Cell]:
    what: list[Flowable] = [words(row.name, STRONG_BODY)]
    if row.place:
        what.append(words(row.place, SMALL))
    circuit = [
        words(f"{head}: {said}", SMALL) for head, said in zip(heads, row.more, strict=True) if said
    ]
    length = "" if row.length_mm is None else f"{number(row.length_mm / 1000, 2)} m"
    ends = [_end(row, at) for at in range(len(row.ends))]
    found: list[Cell] = [
        list(codes(row.tags)) if row.tags else words(f"no. {row.number}"),
        what,
        words(row.size or "not known"),
        words(length or "not known", STRONG_BODY),
        ends[0],
        [flowable for end in ends[1:] for flowable in end],
    ]
    return [*found, circuit or words("")] if heads else found


def _end(row: ScheduleRow, at: int) -> list[Flowable]:
    leads = row.ends[at]
    held = row.held[at] if at < len(row.held) else ""
    found: list[Flowable] = [words(leads) if leads else words(_NOBODY, ASKS)]
    if held:
        found.append(words(held, SMALL))
    return found
