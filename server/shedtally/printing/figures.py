"""What the lists show besides words: tags with their codes, masses with a spread, bars, boxes."""

from __future__ import annotations

import math
from collections.abc import Sequence
from xml.sax.saxutils import escape

from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Flowable, Paragraph

from shedtally.domain import tag
from shedtally.domain.lists import Spread
from shedtally.printing.letters import CAP_HEIGHT, CODE, MM, printable
from shedtally.printing.paper import (
    BODY,
    HAIR,
    INK,
    PENCIL,
    RIGHT,
    SMALL_RIGHT,
    VERDIGRIS,
    WIDTH_MM,
)

CODE_WIDTH_MM = 23.0
_NARROW_SPACE = "\u202f"


class Codes(Flowable):
    """Tag codes, each in the outline of its tag, one below the other; a dash where there is none.

    The same figure as on the screen and on the tag itself, so that an eye finds it again.
    """

    TALL = 5.0 * MM
    LONG = 21.5 * MM

    def __init__(self, codes: Sequence[str]) -> None:
        super().__init__()
        self._codes = codes

    def wrap(self, available_width: float, available_height: float) -> tuple[float, float]:
        """As wide as a code column, as high as the codes."""
        return CODE_WIDTH_MM * MM, max(1, len(self._codes)) * (self.TALL + 2)

    def draw(self) -> None:
        """Draw the codes from the top."""
        canvas, clip = self.canv, 1.5 * MM
        y = max(1, len(self._codes)) * (self.TALL + 2)
        canvas.setStrokeColor(HAIR if not self._codes else INK)
        canvas.setLineWidth(0.4)
        if not self._codes:
            canvas.line(0, y - self.TALL / 2, 3 * MM, y - self.TALL / 2)
        for code in self._codes:
            y -= self.TALL
            path = canvas.beginPath()
            path.moveTo(clip, y)
            for dx, dy in ((self.LONG, 0), (self.LONG, self.TALL), (clip, self.TALL)):
                path.lineTo(dx, y + dy)
            path.lineTo(0, y + self.TALL - clip)
            path.lineTo(0, y + clip)
            path.close()
            canvas.drawPath(path)
            canvas.circle(1.7 * MM, y + self.TALL / 2, 0.55 * MM)
            canvas.setFont(CODE, 10.5)
            canvas.setFillColor(INK)
            baseline = y + (self.TALL - 10.5 * CAP_HEIGHT) / 2
            canvas.drawString(3.4 * MM, baseline, printable(tag.shown(code)))
            y -= 2


class Tick(Flowable):
    """An empty box to tick by hand."""

    SIDE = 3.6 * MM

    def wrap(self, available_width: float, available_height: float) -> tuple[float, float]:
        """A square."""
        return self.SIDE, self.SIDE + 1

    def draw(self) -> None:
        """Draw the box."""
        self.canv.setStrokeColor(INK)
        self.canv.setLineWidth(0.6)
        self.canv.rect(0, 0, self.SIDE, self.SIDE)


class Bar(Flowable):
    """How much of a whole is done, 0 to 1: filled from the left, the rest an empty outline."""

    def __init__(self, share: float, width_mm: float, height_mm: float = 2.4) -> None:
        super().__init__()
        self._share = min(1.0, max(0.0, share))
        self._width, self._height = width_mm * MM, height_mm * MM

    def wrap(self, available_width: float, available_height: float) -> tuple[float, float]:
        """The size given."""
        return self._width, self._height + 2

    def draw(self) -> None:
        """Draw the bar."""
        self.canv.setFillColor(VERDIGRIS)
        self.canv.rect(0, 0, self._width * self._share, self._height, stroke=0, fill=1)
        self.canv.setStrokeColor(PENCIL)
        self.canv.setLineWidth(0.4)
        self.canv.rect(0, 0, self._width, self._height)


class Line(Flowable):
    """A hairline over the width of the column, or a line to write on."""

    def __init__(self, width_mm: float = WIDTH_MM, above: float = 0.0) -> None:
        super().__init__()
        self._width, self._above = width_mm * MM, above

    def wrap(self, available_width: float, available_height: float) -> tuple[float, float]:
        """The length given, and the room above."""
        return self._width, self._above + 1

    def draw(self) -> None:
        """Draw the line."""
        self.canv.setStrokeColor(PENCIL)
        self.canv.setLineWidth(0.3)
        self.canv.line(0, 0, self._width, 0)


def plain(text: str) -> str:
    """``text`` as paragraph source: printable, and safe inside markup."""
    return escape(printable(text))


def words(text: str, style: ParagraphStyle = BODY) -> Paragraph:
    """A paragraph of plain text."""
    return Paragraph(plain(text), style)


def number(value: float, decimals: int = 0) -> str:
    """A number with groups of three: 12 400."""
    return f"{value:,.{decimals}f}".replace(",", _NARROW_SPACE)


def kilograms(value: float) -> str:
    """Kilograms with about two figures that mean something: 0.04, 0.35, 4.2, 180, 12 400."""
    if not math.isfinite(value):
        return "?"
    size = abs(value)
    return number(value, 2 if size < 0.995 else 1 if size < 9.95 else 0)


def spread_words(spread: Spread) -> str:
    """The doubt in a mass: ``40 to 62, guessed``; only the way it was got if there is no doubt."""
    if spread.basis == "unknown":
        return "not known"
    low, high = kilograms(spread.low), kilograms(spread.high)
    return spread.basis if low == high else f"{low} to {high}, {spread.basis}"


def mass(spread: Spread) -> list[Paragraph]:
    """A mass for a right-aligned column: the likely value, its spread in small below."""
    likely = "?" if spread.basis == "unknown" else kilograms(spread.likely)
    return [Paragraph(f"{likely} kg", RIGHT), Paragraph(spread_words(spread), SMALL_RIGHT)]
