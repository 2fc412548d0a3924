"""Hazard signs as vectors: GHS pictograms, and the labels that dangerous goods carry on the road.

Symbols come from `sign_symbols.py`; frames, grounds and figures are drawn to the published sizes.
A label is a square on its corner. Its proportions are those of a label with sides of 100 mm, the
smallest that the rules of transport allow at full size: a line 2 mm wide, 5 mm inside the edge
(49 CFR 172.407(c)(1) as read in PHMSA letter 17-0141; ADR 5.2.2.2.1.1.2). Inside a sign, lengths
count from its middle, 1000 to a corner.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from reportlab.lib.colors import Color, HexColor, black, white
from reportlab.pdfgen.canvas import Canvas

from shedtally.printing.letters import CAP_HEIGHT, MM, STRONG, load_faces
from shedtally.printing.sign_symbols import draw_symbol

RED: Color = HexColor("#E2001A")
ORANGE: Color = HexColor("#F28C1C")
GREEN: Color = HexColor("#2F9E44")
YELLOW: Color = HexColor("#FFDD00")

CORNER = 1000.0
UNIT = CORNER / math.sqrt(0.5) / 100  # one mm of a label with sides of 100 mm
LINE = CORNER - 5 * math.sqrt(2) * UNIT - 2 * UNIT / 2 * math.sqrt(2)  # corner of the line's middle
GHS_FRAME = 0.12  # of the half diagonal; "sufficiently wide to be clearly visible"

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Ground:
    """A label: upper and lower colour, colour of the figure, and how the symbol is placed."""

    upper: Color
    lower: Color
    figure: str
    symbol: str = ""
    box: tuple[float, float, float, float] = (-330.0, 90.0, 330.0, 700.0)
    ink: Color = black
    stripes: Color | None = None


GHS: Mapping[str, str] = {
    "GHS01": "exploding bomb",
    "GHS02": "flame",
    "GHS03": "flame over circle",
    "GHS04": "gas cylinder",
    "GHS05": "corrosion",
    "GHS06": "skull and crossbones",
    "GHS07": "exclamation mark",
    "GHS08": "health hazard",
    "GHS09": "environment",
}
_WIDE = (-430.0, 60.0, 430.0, 520.0)
LABELS: Mapping[str, Ground] = {
    "1.3G": Ground(ORANGE, ORANGE, "1", "exploding bomb", (-420.0, 120.0, 420.0, 640.0)),
    "1.4G": Ground(ORANGE, ORANGE, "1"),
    "1.4S": Ground(ORANGE, ORANGE, "1"),
    "2.1": Ground(RED, RED, "2", "flame"),
    "2.2": Ground(GREEN, GREEN, "2", "gas cylinder", (-370.0, 110.0, 370.0, 470.0)),
    "3": Ground(RED, RED, "3", "flame"),
    "4.1": Ground(white, white, "4", "flame", stripes=RED),
    "4.2": Ground(white, RED, "4", "flame"),
    "5.1": Ground(YELLOW, YELLOW, "5.1", "flame over circle"),
    "5.2": Ground(RED, YELLOW, "5.2", "flame"),
    "6.1": Ground(white, white, "6", "skull and crossbones", (-380.0, 60.0, 380.0, 620.0)),
    "8": Ground(white, black, "8", "corrosion", _WIDE, white),
    "9": Ground(white, white, "9"),
    "9A": Ground(white, white, "9"),
}
ENVIRONMENT = "environment"
SIGNS: frozenset[str] = frozenset({*GHS, *LABELS, ENVIRONMENT})


def draw_sign(canvas: Canvas, sign: str, middle_mm: Point, side_mm: float) -> None:
    """Draw a sign by its name, like ``GHS02``, ``4.2`` or ``environment``.

    Args: middle_mm: of the square; side_mm: of the square, not of the box around its corners.
    Raises: KeyError: no such sign.
    """
    load_faces()
    half = side_mm * math.sqrt(0.5) * MM
    canvas.saveState()
    canvas.translate(middle_mm[0] * MM, middle_mm[1] * MM)
    canvas.scale(half / CORNER, half / CORNER)
    canvas.setLineJoin(0)
    if sign in GHS:
        _pictogram(canvas, GHS[sign])
    elif sign == ENVIRONMENT:
        _mark(canvas)
    else:
        _label(canvas, sign, LABELS[sign])
    canvas.restoreState()


def corner_to_corner_mm(side_mm: float) -> float:
    """How wide and high a sign stands on the paper."""
    return side_mm * math.sqrt(2)


def _pictogram(canvas: Canvas, symbol: str) -> None:
    _square(canvas, CORNER, fill=RED)
    _square(canvas, CORNER * (1 - GHS_FRAME), fill=white)
    draw_symbol(canvas, symbol)


def _mark(canvas: Canvas) -> None:
    """The mark of what harms the environment: the symbol in a black line (ADR 5.2.1.8.3)."""
    _square(canvas, CORNER, fill=white)
    _square(canvas, CORNER - 1.5 * UNIT * math.sqrt(2), stroke=black, width=2.5 * UNIT)
    draw_symbol(canvas, "environment")


def _label(canvas: Canvas, sign: str, ground: Ground) -> None:
    _square(canvas, CORNER, fill=ground.lower if sign != "8" else white)
    if ground.upper != ground.lower and sign != "8":
        _triangle(canvas, CORNER, ground.upper, up=True)
    if ground.stripes:
        _stripes(canvas, CORNER, ground.stripes, low=-CORNER)
    if sign == "8":
        _triangle(canvas, LINE, black, up=False)
    if sign in {"9", "9A"}:
        _stripes(canvas, LINE, black, low=0)
    _square(canvas, LINE, stroke=black, width=2 * UNIT)
    _square(canvas, CORNER - 4, stroke=black, width=6)
    if ground.symbol:
        draw_symbol(canvas, ground.symbol, ground.box)
    if sign == "9A":
        _cells(canvas)
    _figures(canvas, sign, ground)


def _figures(canvas: Canvas, sign: str, ground: Ground) -> None:
    low = -640.0 if "." in ground.figure else -730.0
    _text(canvas, ground.figure, low, 11 * UNIT, ground.ink)
    if ground.figure == "9":
        canvas.setStrokeColor(black)
        canvas.setLineWidth(1.6 * UNIT)
        canvas.line(-62, low - 2.6 * UNIT, 62, low - 2.6 * UNIT)
    if sign == "1.3G":
        _text(canvas, "1.3", -190, 14 * UNIT, black)
        _text(canvas, "G", -450, 12 * UNIT, black)
    elif ground.figure == "1":
        _text(canvas, sign[:3], 60, 27 * UNIT, black)
        _text(canvas, sign[3:], -380, 14 * UNIT, black)


def _text(canvas: Canvas, text: str, low: float, tall: float, colour: Color) -> None:
    canvas.setFont(STRONG, tall / CAP_HEIGHT)
    canvas.setFillColor(colour)
    canvas.drawCentredString(0, low, text)


def _cells(canvas: Canvas) -> None:
    """A group of cells, one broken and in flames: the lower half of label 9A."""
    canvas.setFillColor(black)
    for left in (-170.0, -45.0, 80.0, 205.0):
        canvas.rect(left, -470, 100, 300, stroke=0, fill=1)
        canvas.rect(left + 32, -170, 36, 34, stroke=0, fill=1)
    crack = canvas.beginPath()
    points = ((-190.0, -330.0), (-140.0, -290.0), (-120.0, -340.0), (-60.0, -290.0))
    crack.moveTo(*points[0])
    for point in points[1:]:
        crack.lineTo(*point)
    canvas.setStrokeColor(white)
    canvas.setLineWidth(26)
    canvas.drawPath(crack)
    draw_symbol(canvas, "flame", (-390.0, -470.0, -180.0, -190.0))


def _square(
    canvas: Canvas,
    corner: float,
    fill: Color | None = None,
    stroke: Color | None = None,
    width: float = 0,
) -> None:
    if fill is not None:
        canvas.setFillColor(fill)
    if stroke is not None:
        canvas.setStrokeColor(stroke)
        canvas.setLineWidth(width)
    points = ((0, corner), (corner, 0), (0, -corner), (-corner, 0))
    _polygon(canvas, points, fill is not None, stroke is not None)


def _triangle(canvas: Canvas, corner: float, colour: Color, *, up: bool) -> None:
    canvas.setFillColor(colour)
    tip = corner if up else -corner
    _polygon(canvas, ((-corner, 0), (corner, 0), (0, tip)), True, False)


def _stripes(canvas: Canvas, corner: float, colour: Color, low: float) -> None:
    """Seven upright stripes, clipped to the square of ``corner``, above ``low``."""
    step = corner * 2 / 7
    canvas.setFillColor(colour)
    for number in range(-3, 4):
        left, right = number * step - step / 4, number * step + step / 4
        nearer = min(abs(left), abs(right)) if number else 0.0
        points: list[Point] = [(left, max(low, -(corner - abs(left))))]
        points.append((left, corner - abs(left)))
        if not number:
            points.append((0.0, corner - nearer))
        points += [(right, corner - abs(right)), (right, max(low, -(corner - abs(right))))]
        if not number and low < 0:
            points.append((0.0, -corner))
        _polygon(canvas, points, True, False)


def _polygon(canvas: Canvas, points: Sequence[Point], fill: bool, stroke: bool) -> None:
    path = canvas.beginPath()
    path.moveTo(*points[0])
    for point in points[1:]:
        path.lineTo(*point)
    path.close()
    canvas.drawPath(path, stroke=int(stroke), fill=int(fill))
