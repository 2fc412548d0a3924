"""The paper of all printed lists: page, type, head and foot.

Everything a reader needs to know which copy is in their hand stands on every page: boat, list,
day, the state of the records, page x of y. Colours are those of the screens; each is doubled by a
word or a shape, so that a grey copy loses nothing.
"""

from __future__ import annotations

import datetime as dt
import io
from collections.abc import Sequence
from dataclasses import dataclass

from reportlab.lib.colors import Color, HexColor
from reportlab.lib.enums import TA_RIGHT
from reportlab.lib.pagesizes import A4
from reportlab.lib.styles import ParagraphStyle
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageTemplate

from shedtally.printing.letters import MM, STRONG, TEXT, fit, load_faces

INK: Color = HexColor("#1B2730")
PENCIL: Color = HexColor("#3F4A53")
RED_LEAD: Color = HexColor("#8F2C09")
VERDIGRIS: Color = HexColor("#1A5045")
BRASS: Color = HexColor("#5C4505")
HAIR: Color = HexColor("#9AA2A6")

MARGIN_MM = 16.0
FOOT_MM = 10.0
WIDTH_MM = 210.0 - 2 * MARGIN_MM
HEIGHT_MM = 297.0 - 2 * MARGIN_MM - FOOT_MM

SMALL_PT = 7.8


@dataclass(frozen=True, slots=True)
class Heading:
    """Which boat, on which day, and the last change of its records that the list contains."""

    boat_name: str
    made_on: dt.date
    cursor: int


def _style(face: str, size: float, leading: float, colour: Color) -> ParagraphStyle:
    name = f"{face} {size} {colour}"
    return ParagraphStyle(name, fontName=face, fontSize=size, leading=leading, textColor=colour)


def _right(style: ParagraphStyle) -> ParagraphStyle:
    return ParagraphStyle(f"{style.name} right", parent=style, alignment=TA_RIGHT)


TITLE = _style(STRONG, 21, 25, INK)
LARGE = _style(STRONG, 14, 18, INK)
STRONG_BODY = _style(STRONG, 9.5, 12, INK)
BODY = _style(TEXT, 9.5, 12.5, INK)
SMALL = _style(TEXT, SMALL_PT, 10, PENCIL)
CAUTION = _style(STRONG, 9.5, 12.5, RED_LEAD)
SMALL_CAUTION = _style(STRONG, SMALL_PT, 10, RED_LEAD)
ASKS = _style(STRONG, SMALL_PT, 10, BRASS)
RIGHT = _right(STRONG_BODY)
LARGE_RIGHT = _right(LARGE)
SMALL_RIGHT = _right(SMALL)


def day(date: dt.date) -> str:
    """A date that nobody can read the wrong way round: 4 May 2026."""
    months = "January February March April May June July August September October November December"
    return f"{date.day} {months.split()[date.month - 1]} {date.year}"


class _Counting(Canvas):
    """Draws ``page x of y``, which every page refers to, when y is known."""

    def save(self) -> None:
        total = self.getPageNumber() - 1
        for page in range(1, total + 1):
            self.beginForm(_page_form(page), 0, 0, WIDTH_MM * MM, 20)
            self.setFont(TEXT, SMALL_PT)
            self.setFillColor(PENCIL)
            self.drawRightString(WIDTH_MM * MM, 4, f"page {page} of {total}")
            self.endForm()
        super().save()


def _page_form(page: int) -> str:
    return f"page-{page}"


def document(story: Sequence[Flowable], title: str, heading: Heading) -> bytes:
    """Set ``story`` on A4 pages with head and foot; the same input gives the same bytes."""
    load_faces()
    file = io.BytesIO()
    frame = Frame(
        MARGIN_MM * MM,
        (MARGIN_MM + FOOT_MM) * MM,
        WIDTH_MM * MM,
        HEIGHT_MM * MM,
        leftPadding=0,
        rightPadding=0,
        topPadding=0,
        bottomPadding=0,
    )
    paper = BaseDocTemplate(file, pagesize=A4, title=title, author="", invariant=1)
    paper.addPageTemplates(
        PageTemplate(frames=[frame], onPage=lambda canvas, _: _foot(canvas, title, heading))
    )
    paper.build(list(story), canvasmaker=_Counting)
    return file.getvalue()


def _foot(canvas: Canvas, title: str, heading: Heading) -> None:
    y = MARGIN_MM * MM
    right = (MARGIN_MM + WIDTH_MM) * MM
    canvas.setStrokeColor(HAIR)
    canvas.setLineWidth(0.3)
    canvas.line(MARGIN_MM * MM, y + 12, right, y + 12)
    canvas.setFillColor(PENCIL)
    _, names = fit(heading.boat_name, STRONG, WIDTH_MM * MM * 0.4, (SMALL_PT, SMALL_PT), 1)
    words = canvas.beginText(MARGIN_MM * MM, y)
    words.setFont(STRONG, SMALL_PT)
    words.textOut(names[0] if names else "unnamed boat")
    words.setFont(TEXT, SMALL_PT)
    words.textOut(f"  ·  {title}  ·  {day(heading.made_on)}, as of change {heading.cursor}")
    canvas.drawText(words)
    canvas.saveState()
    canvas.translate(MARGIN_MM * MM, y - 4)
    canvas.doForm(_page_form(canvas.getPageNumber()))
    canvas.restoreState()
