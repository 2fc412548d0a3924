"""Tables with hairlines, headings that stay with what they head, and the blocks all lists share."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from reportlab.platypus import CondPageBreak, Flowable, Paragraph, Spacer, Table

from shedtally.domain.lists import Question
from shedtally.printing.figures import Line, plain, words
from shedtally.printing.letters import MM
from shedtally.printing.paper import (
    A4,
    ASKS,
    BODY,
    CAUTION,
    HAIR,
    HEIGHT_MM,
    INK,
    LARGE,
    RED_LEAD,
    SMALL,
    SMALL_RIGHT,
    STRONG_BODY,
    TITLE,
    WIDTH_MM,
    Heading,
    OnSheet,
    Paper,
    day,
)

Cell = str | Flowable | Sequence[Flowable]

FRESH_MM = 10.0  # what a fresh page may lack of its height


class _Rows(Table):
    """A table that ends a page between two rows; only a row deeper than a page is cut."""

    page_mm = HEIGHT_MM

    def split(self, availWidth: float, availHeight: float) -> list[Flowable]:  # noqa: N803
        """The parts for this page and for the rest; none if this page holds no whole row."""
        self.splitInRow = int(availHeight > (self.page_mm - FRESH_MM) * MM)
        parts = list(super().split(availWidth, availHeight))
        for part in (part for part in parts if isinstance(part, _Rows)):
            part.page_mm = self.page_mm
        return parts


def space(points: float) -> Spacer:
    """Empty room."""
    return Spacer(1, points)


def opening(title: str, heading: Heading, lead: str, paper: Paper = A4) -> list[Flowable]:
    """The top of the first page: what this is, of which boat, when, and the sum in a sentence."""
    return [
        words(title, TITLE),
        words(f"{heading.boat_name}, {day(heading.made_on)}", LARGE),
        space(5),
        words(lead, BODY),
        space(8),
        Line(paper.print_mm),
        space(8),
    ]


def height(flowables: Sequence[Flowable]) -> float:
    """How high ``flowables`` stand in points, to keep them together with what follows."""
    return sum(flowable.wrap(WIDTH_MM * MM, 100_000)[1] for flowable in flowables)


def section(text: str, small: str = "", needs_mm: float = 46) -> list[Flowable]:
    """A heading that never stands alone at the foot of a page; ``needs_mm``: with what follows."""
    found: list[Flowable] = [CondPageBreak(needs_mm * MM), space(9), words(text, LARGE)]
    if small:
        found.append(words(small, SMALL))
    return [*found, space(3)]


def part(text: str, small: str = "", needs_mm: float = 46) -> list[Flowable]:
    """A section of which each page that it runs on to says that it is continued.

    In a list that has one, all sections after it must be parts too.
    """
    start, *rest = section(text, small, needs_mm)
    return [start, OnSheet("", text), *rest]


def table(
    heads: Sequence[str],
    widths_mm: Sequence[float],
    rows: Sequence[Sequence[Cell]],
    right: int = 0,
    paper: Paper = A4,
) -> Table:
    """A hairline table whose head is repeated on every page.

    Args: widths_mm: together at most what is printed of the paper; right: how many last columns
    align right.
    """
    first_right = len(heads) - right
    head = [
        words(text, SMALL_RIGHT if at >= first_right else SMALL) for at, text in enumerate(heads)
    ]
    made = _Rows(
        [head, *([_cell(cell) for cell in row] for row in rows)],
        colWidths=[width * MM for width in widths_mm],
        repeatRows=1,
        hAlign="LEFT",
        style=[
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            ("VALIGN", (0, 0), (-1, 0), "BOTTOM"),
            ("LEFTPADDING", (0, 0), (-1, -1), 0),
            ("RIGHTPADDING", (0, 0), (-1, -1), 5),
            ("RIGHTPADDING", (-1, 0), (-1, -1), 0),
            ("TOPPADDING", (0, 0), (-1, -1), 3),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 3),
            ("LINEBELOW", (0, 0), (-1, 0), 0.6, INK),
            ("LINEBELOW", (0, 1), (-1, -1), 0.25, HAIR),
        ],
    )
    made.page_mm = paper.body_mm
    return made


def rows_of(
    rows: Sequence[Sequence[Cell]],
    widths_mm: Sequence[float],
    styles: Sequence[Any] = (),
    repeat: int = 0,
) -> Table:
    """A bare table without padding to the sides, to be styled; ``repeat``: rows of its head."""
    plain_style: list[Any] = [
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LEFTPADDING", (0, 0), (-1, -1), 0),
        ("RIGHTPADDING", (0, 0), (-1, -1), 0),
        ("TOPPADDING", (0, 0), (-1, -1), 2),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 2.5),
    ]
    return _Rows(
        [[_cell(cell) for cell in row] for row in rows],
        colWidths=[width * MM for width in widths_mm],
        repeatRows=repeat,
        hAlign="LEFT",
        style=[*plain_style, *styles],
    )


def facts(rows: Sequence[tuple[str, str | Sequence[Flowable]]]) -> Table:
    """Names on the left, what they say on the right; rows that say nothing are left out."""
    return _Rows(
        [
            [words(name, SMALL), [words(said)] if isinstance(said, str) else list(said)]
            for name, said in rows
            if said
        ],
        colWidths=[30 * MM, (WIDTH_MM - 30) * MM],
        hAlign="LEFT",
        style=[
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            ("LEFTPADDING", (0, 0), (-1, -1), 0),
            ("TOPPADDING", (0, 0), (-1, -1), 1),
            # Smaller letters on one line with larger ones.
            ("TOPPADDING", (0, 0), (0, -1), 1.5),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 1.5),
        ],
    )


def danger(rows: Sequence[Cell], paper: Paper = A4) -> Table:
    """A block beside a heavy red lead rule, as deep as what it holds."""
    return _Rows(
        [[_cell(row)] for row in rows],
        colWidths=[paper.print_mm * MM],
        hAlign="LEFT",
        style=[
            ("LINEBEFORE", (0, 0), (0, -1), 2.4, RED_LEAD),
            ("LEFTPADDING", (0, 0), (-1, -1), 9),
            ("TOPPADDING", (0, 0), (-1, -1), 2.5),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 2.5),
        ],
    )


def numbered_cautions(
    texts: Sequence[tuple[str, str]], standing: str, paper: Paper = A4
) -> list[Flowable]:
    """Cautions by number, each with what it applies to, under the rule that outranks them."""
    rows: list[Cell] = [words(standing, STRONG_BODY)]
    for at, (text, applies) in enumerate(texts, start=1):
        caution = Paragraph(f"Caution {at}. {plain(text)}", CAUTION)
        rows.append([caution, words(applies, SMALL)] if applies else caution)
    return [*section("Cautions first"), danger(rows, paper)]


def questions(asked: Sequence[Question]) -> list[Flowable]:
    """What only a person can answer, with a line to write the answer on."""
    if not asked:
        return []
    rows: list[Sequence[Cell]] = [
        [
            words(question.name, STRONG_BODY),
            [words(question.ask), words(f"until then: {question.assumed}", ASKS)],
            Line(46, above=18),
        ]
        for question in asked
    ]
    return [
        *section("Open questions", "Until they are answered, the cautious answer holds."),
        table(["what", "question", "answer"], [52, 78, 48], rows),
    ]


def _cell(cell: Cell) -> Flowable | list[Flowable]:
    if isinstance(cell, str):
        return words(cell)
    return cell if isinstance(cell, Flowable) else list(cell)
