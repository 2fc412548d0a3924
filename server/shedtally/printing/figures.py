"""What the lists show besides words: tags with their codes, masses with a spread, bars, boxes."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from xml.sax.saxutils import escape

from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Flowable, Paragraph

from shedtally.domain.lists import Spread
from shedtally.domain.records import tag
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
# Of more tags on one line only the first are named in words.
MOST_CODES = 8
_NARROW_SPACE = "\u202f"
# A figure and its unit or currency, a whole number and its fraction, groups of three, a gauge.
_TIED = re.compile(
    r"(?<=\d) (?=(?:mm2?|cm|m|in|kg|g|l|V|A|Ah|W|kW|kN|%|[A-Z]{3}|AWG)(?![\w/-]))"
    r"|(?<=\d) (?=\d+/\d)|(?<=\d) (?=\d{3}(?!\d))|(?<=AWG) (?=\d)|(?<=no\.) (?=\d)"
    r"|(?<=\d) (?=x \d)|(?<=\d x) (?=\d)"
)


class _Figure(Flowable):
    """A flowable of a fixed size in points, kept where a table looks before it splits a row."""

    def __init__(self, width: float, height: float) -> None:
        super().__init__()
        self.width, self.height = width, height

    def wrap(self, available_width: float, available_height: float) -> tuple[float, float]:
        """The size given."""
        return self.width, self.height


class Code(_Figure):
    """A tag code in the outline of its tag; a dash for none.

    The same figure as on the screen and on the tag itself, so that an eye finds it again.
    """

    TALL = 5.0 * MM
    LONG = 21.5 * MM
    CLIP = 1.5 * MM
    SIZE_PT = 10.5

    def __init__(self, code: str | None) -> None:
        super().__init__(CODE_WIDTH_MM * MM, self.TALL + 2)
        self._code = code

    def draw(self) -> None:
        """Draw the outline, the hole and the code."""
        canvas, low, high = self.canv, 2.0, 2.0 + self.TALL
        canvas.setStrokeColor(INK if self._code else HAIR)
        canvas.setLineWidth(0.4)
        if not self._code:
            canvas.line(0, (low + high) / 2, 3 * MM, (low + high) / 2)
            return
        path = canvas.beginPath()
        path.moveTo(self.CLIP, low)
        for x, y in ((self.LONG, low), (self.LONG, high), (self.CLIP, high)):
            path.lineTo(x, y)
        path.lineTo(0, high - self.CLIP)
        path.lineTo(0, low + self.CLIP)
        path.close()
        canvas.drawPath(path)
        canvas.circle(1.7 * MM, (low + high) / 2, 0.55 * MM)
        canvas.setFont(CODE, self.SIZE_PT)
        canvas.setFillColor(INK)
        baseline = low + (self.TALL - self.SIZE_PT * CAP_HEIGHT) / 2
        canvas.drawString(3.4 * MM, baseline, printable(tag.shown(self._code)))


def codes(given: Sequence[str]) -> list[Code]:
    """Codes for a column, one below the other; apart, so that a page may end between them."""
    return [Code(code) for code in given] or [Code(None)]


class Tick(_Figure):
    """A box to tick by hand, or one that is ticked already."""

    SIDE = 3.6 * MM

    def __init__(self, *, done: bool = False) -> None:
        super().__init__(self.SIDE, self.SIDE + 1)
        self._done = done

    def draw(self) -> None:
        """Draw the box, and the tick in it."""
        canvas, side = self.canv, self.SIDE
        canvas.setStrokeColor(INK)
        canvas.setLineWidth(0.6)
        canvas.rect(0, 0, side, side)
        if self._done:
            canvas.setLineWidth(1.4)
            canvas.lines(
                [
                    (0.2 * side, 0.5 * side, 0.42 * side, 0.24 * side),
                    (0.42 * side, 0.24 * side, 0.82 * side, 0.78 * side),
                ]
            )


class Bar(_Figure):
    """How much of a whole is done, 0 to 1: filled from the left, the rest an empty outline."""

    TALL = 2.4 * MM

    def __init__(self, share: float, width_mm: float) -> None:
        super().__init__(width_mm * MM, self.TALL + 2)
        self._share = min(1.0, max(0.0, share))

    def draw(self) -> None:
        """Draw the bar."""
        self.canv.setFillColor(VERDIGRIS)
        self.canv.rect(0, 0, self.width * self._share, self.TALL, stroke=0, fill=1)
        self.canv.setStrokeColor(PENCIL)
        self.canv.setLineWidth(0.4)
        self.canv.rect(0, 0, self.width, self.TALL)


class Line(_Figure):
    """A hairline over the width of the column, or a line to write on with room above in points."""

    def __init__(self, width_mm: float = WIDTH_MM, above: float = 0.0) -> None:
        super().__init__(width_mm * MM, above + 1)

    def draw(self) -> None:
        """Draw the line."""
        self.canv.setStrokeColor(PENCIL)
        self.canv.setLineWidth(0.3)
        self.canv.line(0, 0, self.width, 0)


def plain(text: str) -> str:
    """``text`` as paragraph source: printable, measures in one piece, and safe inside markup."""
    return escape(_TIED.sub("\u00a0", printable(text)))


def words(text: str, style: ParagraphStyle = BODY) -> Paragraph:
    """A paragraph of plain text."""
    return Paragraph(plain(text), style)


def trade_word(name: str) -> str:
    """The id of a system or kind as people write it: ``raw-water`` as raw water, ``dc`` as DC."""
    return name.upper() if name in ("ac", "dc") else name.replace("-", " ")


def capital(text: str) -> str:
    """With a capital first letter, the rest as it is."""
    return text[:1].upper() + text[1:]


def counted(count: int, name: str) -> str:
    """``1 line``, ``12 400 pieces``."""
    return f"{number(count)} {name}" if count == 1 else f"{number(count)} {name}s"


def codes_in_words(tags: Sequence[str]) -> str:
    """The first codes of many, and how many more there are."""
    shown = ", ".join(tag.shown(code) for code in tags[:MOST_CODES])
    more = len(tags) - MOST_CODES
    return f"{shown} and {more} more" if more > 0 else shown


def spec_without(spec: str, *said: str) -> str:
    """What a line asks for, without the parts that stand in a column or line of their own."""
    for part in filter(None, said):
        spec = f"{spec}, ".replace(f", {part}, ", ", ", 1).removesuffix(", ")
    return spec


def number(value: float, decimals: int = 0) -> str:
    """A number with groups of three: 12 400; what rounds to nothing has no sign."""
    return f"{value:z,.{decimals}f}".replace(",", _NARROW_SPACE)


def kilograms(value: float) -> str:
    """Kilograms with about two figures that mean something: 0.04, 0.35, 4.2, 180, 12 400."""
    if not math.isfinite(value):
        return "?"
    size = abs(value)
    if size < 0.005:
        return "0"
    return number(value, 2 if size < 0.995 else 1 if size < 9.95 else 0)


def spread_words(spread: Spread) -> str:
    """The doubt in a mass: ``40 to 62, guessed``; only the way it was got if there is no doubt."""
    if spread.basis == "unknown":
        return "not known"
    got = "" if spread.basis == "mixed" else spread.basis
    return ", ".join(filter(None, [range_words(spread), got]))


def range_words(spread: Spread) -> str:
    """``40 to 62``; empty where the mass is not known, or known to the figure that is printed."""
    low, high = kilograms(spread.low), kilograms(spread.high)
    return "" if spread.basis == "unknown" or low == high else f"{low} to {high}"


def mass(spread: Spread) -> list[Paragraph]:
    """A mass for a right-aligned column: the likely value, its spread in small below."""
    if spread.high == 0 and spread.basis != "unknown":
        return [Paragraph("–", RIGHT)]
    likely = "?" if spread.basis == "unknown" else kilograms(spread.likely)
    return [Paragraph(f"{likely} kg", RIGHT), Paragraph(spread_words(spread), SMALL_RIGHT)]
