"""The paper of all printed lists: page, type, head and foot.

Everything a reader needs to know which copy is in their hand stands on every page: boat, list,
day, the state of the records, page x of y. Colours are those of the screens; each is doubled by a
word or a shape, so that a grey copy loses nothing.
"""

from __future__ import annotations

import datetime as dt
import functools
import io
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from reportlab.lib.colors import Color, HexColor
from reportlab.lib.enums import TA_RIGHT
from reportlab.lib.styles import ParagraphStyle
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageTemplate

from shedtally.printing.letters import MM, STRONG, TEXT, fit, load_faces, width
from shedtally.printing.phrases import Phrases, phrases

INK: Color = HexColor("#1B2730")
PENCIL: Color = HexColor("#3F4A53")
RED_LEAD: Color = HexColor("#8F2C09")
VERDIGRIS: Color = HexColor("#1A5045")
BRASS: Color = HexColor("#5C4505")
HAIR: Color = HexColor("#9AA2A6")


@dataclass(frozen=True, slots=True)
class Paper:
    """A size of paper in mm. What is printed is as wide on all upright ones; margins differ."""

    id: str
    width_mm: float
    height_mm: float

    @property
    def margin_mm(self) -> float:
        """Left and right of what is printed."""
        return (self.width_mm - self.print_mm) / 2

    @property
    def print_mm(self) -> float:
        """The width of what is printed."""
        upright = self.width_mm < self.height_mm
        return WIDTH_MM if upright else self.width_mm - 2 * MARGIN_MM

    @property
    def body_mm(self) -> float:
        """The height between head and foot."""
        return self.height_mm - 2 * EDGE_MM - FOOT_MM


MARGIN_MM = 16.0
EDGE_MM = 12.0  # above and below
FOOT_MM = 9.0
WIDTH_MM = 210.0 - 2 * MARGIN_MM
A4 = Paper("a4", 210.0, 297.0)
A4_WIDE = Paper("a4-wide", 297.0, 210.0)
LETTER = Paper("letter", 215.9, 279.4)
PAPERS: Mapping[str, Paper] = {paper.id: paper for paper in (A4, LETTER)}
HEIGHT_MM = A4.body_mm

# Lists are read at arm's length; smaller are only the foot and the words inside drawings, and
# those still by a lamp in a cold shed.
READ_PT, SMALL_PT = 10.0, 9.0
CONTINUED_PT = (13.0, 11.0)
_PAGE_MM = 28.0  # at the right of the foot, for its page among hundreds


@dataclass(frozen=True, slots=True)
class Heading:
    """Which boat, on which day, and the last change of its records that the list contains."""

    boat_name: str
    made_on: dt.date
    cursor: int


def style(face: str, size: float, leading: float, colour: Color) -> ParagraphStyle:
    """A way to set text; sizes in points."""
    name = f"{face} {size} {colour}"
    return ParagraphStyle(name, fontName=face, fontSize=size, leading=leading, textColor=colour)


def right(of: ParagraphStyle) -> ParagraphStyle:
    """The same, aligned right."""
    return ParagraphStyle(f"{of.name} right", parent=of, alignment=TA_RIGHT)


TITLE = style(STRONG, 21, 25, INK)
LARGE = style(STRONG, 14, 18, INK)
STRONG_BODY = style(STRONG, 10.5, 13, INK)
BODY = style(TEXT, 10.5, 13, INK)
SMALL = style(TEXT, READ_PT, 12, PENCIL)
CAUTION = style(STRONG, 10.5, 13.5, RED_LEAD)
SMALL_CAUTION = style(STRONG, READ_PT, 12, RED_LEAD)
ASKS = style(STRONG, READ_PT, 12, BRASS)
RIGHT = right(STRONG_BODY)
LARGE_RIGHT = right(LARGE)
SMALL_RIGHT = right(SMALL)


def day(date: dt.date) -> str:
    """A date that nobody can read the wrong way round: 4 May 2026."""
    return phrases().day(date)


class _Counting(Canvas):
    """Draws ``page x of y``, which every page refers to, when y is known."""

    def __init__(self, *given: Any, say: Phrases, paper: Paper, **named: Any) -> None:  # noqa: ANN401
        super().__init__(*given, **named)
        self.say, self.paper = say, paper
        self.part = ""
        self.head = ""
        self.runs_on = ""

    def save(self) -> None:
        total = self.getPageNumber() - 1
        for page in range(1, total + 1):
            wide = self.paper.print_mm * MM
            self.beginForm(_page_form(page), 0, 0, wide, 20)
            self.setFont(TEXT, SMALL_PT)
            self.setFillColor(PENCIL)
            text = self.say("foot.page", page=page, pages=total)
            self.drawRightString(wide, 4, text)
            self.endForm()
        super().save()


class OnSheet(Flowable):
    """Takes no room; from here on the foot says which part of the list this is.

    ``name`` stands again at the top of each page onto which the part runs on. Put it before the
    part, with the room above it left to it: what opens a page runs on from nothing.
    """

    def __init__(self, says: str, name: str = "") -> None:
        super().__init__()
        self._says, self._name = says, name

    def wrap(self, available_width: float, available_height: float) -> tuple[float, float]:
        """No room."""
        return 0.0, 0.0

    def draw(self) -> None:
        """Leave word for the foot of this page and those after it."""
        canvas = self.canv
        if isinstance(canvas, _Counting):
            canvas.part, canvas.head = self._says, self._name
            paper = canvas.paper
            if canvas.absolutePosition(0, 0)[1] > (paper.height_mm - EDGE_MM) * MM - _AT_TOP_PT:
                canvas.runs_on = ""


# A heading's room above it stays above it at the top of a page too.
_AT_TOP_PT = 16.0


def _page_form(page: int) -> str:
    return f"page-{page}"


def document(
    story: Sequence[Flowable],
    title: str,
    heading: Heading,
    paper: Paper = A4,
    say: Phrases | None = None,
) -> bytes:
    """Set ``story`` on pages with head and foot; the same input gives the same bytes."""
    load_faces()
    spoken = say or phrases()
    file = io.BytesIO()
    frame = Frame(
        paper.margin_mm * MM,
        (EDGE_MM + FOOT_MM) * MM,
        paper.print_mm * MM,
        paper.body_mm * MM,
        leftPadding=0,
        rightPadding=0,
        topPadding=0,
        bottomPadding=0,
    )
    size = (paper.width_mm * MM, paper.height_mm * MM)
    made = BaseDocTemplate(file, pagesize=size, title=title, author="", invariant=1)

    def begin(canvas: Canvas, _: object) -> None:
        if isinstance(canvas, _Counting):
            canvas.runs_on = canvas.head

    def foot(canvas: Canvas, _: object) -> None:
        if isinstance(canvas, _Counting) and canvas.runs_on:
            _continued(canvas, canvas.runs_on)
        canvas.saveState()
        canvas.translate(paper.margin_mm * MM, EDGE_MM * MM)
        _foot(canvas, spoken, paper.print_mm * MM, title, heading)
        canvas.restoreState()

    made.addPageTemplates(PageTemplate(frames=[frame], onPage=begin, onPageEnd=foot))
    made.build(list(story), canvasmaker=functools.partial(_Counting, say=spoken, paper=paper))
    return file.getvalue()


def _continued(canvas: _Counting, name: str) -> None:
    """What this page belongs to, in the margin above it: a page may be read alone."""
    paper = canvas.paper
    left, top, wide = paper.margin_mm * MM, paper.height_mm * MM, paper.print_mm * MM
    text = canvas.say("foot.continued", name=name)
    size, rows = fit(text, STRONG, wide, CONTINUED_PT, 1)
    canvas.saveState()
    canvas.setFillColor(INK)
    canvas.setFont(STRONG, size)
    canvas.drawString(left, top - 10.0 * MM, rows[0])
    canvas.setStrokeColor(INK)
    canvas.setLineWidth(0.8)
    canvas.line(left, top - 11.3 * MM, left + wide, top - 11.3 * MM)
    canvas.restoreState()


def _foot(canvas: Canvas, say: Phrases, wide: float, title: str, heading: Heading) -> None:
    canvas.setStrokeColor(HAIR)
    canvas.setLineWidth(0.3)
    canvas.line(0, 12, wide, 12)
    canvas.setFillColor(PENCIL)
    _, names = fit(heading.boat_name, STRONG, wide * 0.3, (SMALL_PT, SMALL_PT), 1)
    name = names[0] if names else say("foot.unnamed")
    on = say.day(heading.made_on)
    said = say("foot.dated", title=title, day=on, cursor=heading.cursor)
    part = canvas.part if isinstance(canvas, _Counting) else ""
    if part:
        # Up to the number of the page; what is too long loses its middle.
        most = wide - width(f"{name}  ·  {said}  ·  ", TEXT, SMALL_PT) - _PAGE_MM * MM
        _, parts = fit(part, TEXT, most, (SMALL_PT, SMALL_PT), 1)
        said = "  ·  ".join([said, *parts])
    words = canvas.beginText(0, 0)
    words.setFont(STRONG, SMALL_PT)
    words.textOut(name)
    words.setFont(TEXT, SMALL_PT)
    words.textOut(f"  ·  {said}")
    canvas.drawText(words)
    canvas.translate(0, -4)
    canvas.doForm(_page_form(canvas.getPageNumber()))
