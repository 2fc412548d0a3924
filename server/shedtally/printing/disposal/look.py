"""Type and figures of the disposal list: nothing smaller than 10 pt, codes large.

A person reads it at arm's length, in a shed or at a counter. Hazard is told by a word and a shape,
so that a grey copy loses nothing.
"""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.lib.colors import Color
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Flowable, Paragraph

from shedtally.domain.lists import Spread
from shedtally.printing.figures import kilograms, plain
from shedtally.printing.letters import CAP_HEIGHT, MM, STRONG, TEXT
from shedtally.printing.paper import BRASS, INK, PENCIL, RED_LEAD, VERDIGRIS, right, style
from shedtally.printing.phrases import Phrases
from shedtally.printing.signs import corner_to_corner_mm, draw_sign

BODY_PT = 10.0
TITLE = style(STRONG, 26, 30, INK)
BOAT = style(STRONG, 18, 22, INK)
SHEET = style(STRONG, 20, 24, INK)
NAME = style(STRONG, 13, 16, INK)
CODE = style(STRONG, 17, 20, INK)
CODE_RIGHT = right(CODE)
HEAD = style(STRONG, 13, 16, INK)
BODY = style(TEXT, BODY_PT, 12.0, INK)
STRONG_BODY = style(STRONG, BODY_PT, 12.0, INK)
NOTE = style(TEXT, BODY_PT, 12.0, PENCIL)
ASKS = style(STRONG, BODY_PT, 12.0, BRASS)
DANGER = style(STRONG, 11, 14, RED_LEAD)
LARGE = style(STRONG, 14, 18, INK)
BODY_RIGHT = right(BODY)
STRONG_RIGHT = right(STRONG_BODY)
NOTE_RIGHT = right(NOTE)
NAME_RIGHT = right(NAME)


def strong(text: str) -> str:
    """Markup for text in the strong cut."""
    return f'<font name="{STRONG}">{plain(text)}</font>'


def asking(text: str) -> str:
    """Markup for what is assumed or has to be asked."""
    return f'<font name="{STRONG}" color="#{BRASS.hexval()[2:]}">{plain(text)}</font>'


def marked(markup: Sequence[str], how: ParagraphStyle = BODY) -> Paragraph:
    """A paragraph of several pieces of markup."""
    return Paragraph(" ".join(piece for piece in markup if piece), how)


class Hazard(Flowable):
    """A filled square on its corner with the word *hazardous*, or an empty ring with *not*."""

    def __init__(self, text: str, *, hazardous: bool, size: float = BODY_PT) -> None:
        super().__init__()
        self._text, self._hazardous, self._size = text, hazardous, size

    def wrap(self, available_width: float, available_height: float) -> tuple[float, float]:
        """As high as a line of text."""
        return available_width, self._size * 1.26

    def draw(self) -> None:
        """Draw shape and word."""
        canvas, reach = self.canv, self._size * 0.42
        colour: Color = RED_LEAD if self._hazardous else VERDIGRIS
        middle = self._size * (CAP_HEIGHT / 2 + 0.28)
        canvas.setStrokeColor(colour)
        canvas.setFillColor(colour)
        canvas.setLineWidth(1.1)
        if self._hazardous:
            path = canvas.beginPath()
            path.moveTo(0, middle)
            for x, y in ((reach, middle + reach), (2 * reach, middle), (reach, middle - reach)):
                path.lineTo(x, y)
            path.close()
            canvas.drawPath(path, stroke=0, fill=1)
        else:
            canvas.circle(reach, middle, reach * 0.78, fill=0)
        canvas.setFont(STRONG if self._hazardous else TEXT, self._size)
        canvas.drawString(2 * reach + 3.5, self._size * 0.28, self._text)


class SignRow(Flowable):
    """Hazard signs side by side."""

    GAP_MM = 1.5

    def __init__(self, signs: Sequence[str], side_mm: float) -> None:
        super().__init__()
        self._signs, self._side = signs, side_mm
        self._step = corner_to_corner_mm(side_mm) + self.GAP_MM
        self.width = max(0.0, len(signs) * self._step - self.GAP_MM) * MM
        self.height = corner_to_corner_mm(side_mm) * MM if signs else 0.0

    def wrap(self, available_width: float, available_height: float) -> tuple[float, float]:
        """The size that the signs take."""
        return self.width, self.height

    def draw(self) -> None:
        """Draw them."""
        half = corner_to_corner_mm(self._side) / 2
        for at, sign in enumerate(self._signs):
            draw_sign(self.canv, sign, (half + at * self._step, half), self._side)


def known(spread: Spread) -> bool:
    """Whether anything is known of a mass."""
    return spread.basis != "unknown"


def mass_words(say: Phrases, spread: Spread, *, basis: bool = True, spread_too: bool = True) -> str:
    """``4.2 kg (3.1 to 5.5, guessed)``."""
    if not known(spread):
        return say("mass.unknown")
    likely = say("mass.kilograms", value=kilograms(spread.likely))
    if not spread_too:
        return likely
    got = say(f"mass.{spread.basis}") if basis else ""
    inside = ", ".join(filter(None, [range_words(say, spread), got]))
    return f"{likely} ({inside})" if inside else likely


def range_words(say: Phrases, spread: Spread) -> str:
    """``40 to 62``; empty where nothing is known, or the mass is known to the figure printed."""
    low, high = kilograms(spread.low), kilograms(spread.high)
    return "" if not known(spread) or low == high else say("mass.range", low=low, high=high)


def scale_words(kg: float) -> str:
    """What a scale showed, with all that it showed: 99.6, 17.45, 3."""
    return f"{kg:.2f}".rstrip("0").rstrip(".")
