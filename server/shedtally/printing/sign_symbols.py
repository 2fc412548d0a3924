"""The black symbols of hazard signs, kept as paths in `symbols/symbols.toml`.

Coordinates count from the middle of the sign, y upwards, 1000 to a corner.
"""

from __future__ import annotations

import functools
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from reportlab.lib.colors import black, white
from reportlab.pdfgen.canvas import Canvas
from reportlab.pdfgen.pathobject import PDFPathObject

Box = tuple[float, float, float, float]  # left, bottom, right, top


@dataclass(frozen=True, slots=True)
class Shape:
    """One path of a symbol; fill and stroke are ``ink``, ``paper`` or ``none``."""

    fill: str
    stroke: str
    width: float
    steps: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Symbol:
    """The shapes of a symbol, and the box around them."""

    shapes: tuple[Shape, ...]
    box: Box


def draw_symbol(canvas: Canvas, name: str, box: Box | None = None) -> None:
    """Draw a symbol where its pictogram has it, or as large as it goes in ``box``.

    Raises: KeyError: no such symbol.
    """
    symbol = _symbols()[name]
    canvas.saveState()
    if box is not None:
        left, bottom, right, top = symbol.box
        scale = min((box[2] - box[0]) / (right - left), (box[3] - box[1]) / (top - bottom))
        canvas.translate((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)
        canvas.scale(scale, scale)
        canvas.translate(-(left + right) / 2, -(bottom + top) / 2)
    for shape in symbol.shapes:
        _shape(canvas, shape)
    canvas.restoreState()


def _shape(canvas: Canvas, shape: Shape) -> None:
    path = canvas.beginPath()
    at = 0
    steps = shape.steps
    while at < len(steps):
        step = steps[at]
        count = {"M": 2, "L": 2, "C": 6, "Z": 0}[step]
        values = [float(value) for value in steps[at + 1 : at + 1 + count]]
        _step(path, step, values)
        at += 1 + count
    canvas.setFillColor(black if shape.fill == "ink" else white)
    canvas.setStrokeColor(black)
    canvas.setLineWidth(shape.width)
    canvas.drawPath(
        path, stroke=int(shape.stroke != "none"), fill=int(shape.fill != "none"), fillMode=1
    )


def _step(path: PDFPathObject, step: str, values: Sequence[float]) -> None:
    if step == "M":
        path.moveTo(*values)
    elif step == "L":
        path.lineTo(*values)
    elif step == "C":
        path.curveTo(*values)
    else:
        path.close()


@functools.cache
def _symbols() -> Mapping[str, Symbol]:
    text = (Path(__file__).with_name("symbols") / "symbols.toml").read_text()
    return {row["id"]: _read(row["shapes"]) for row in tomllib.loads(text)["symbol"]}


def _read(rows: Sequence[tuple[str, str, float, str]]) -> Symbol:
    shapes = tuple(
        Shape(fill, stroke, width, tuple(path.split())) for fill, stroke, width, path in rows
    )
    numbers = [[float(step) for step in shape.steps if step not in "MLCZ"] for shape in shapes]
    xs = [x for row in numbers for x in row[::2]]
    ys = [y for row in numbers for y in row[1::2]]
    return Symbol(shapes, (min(xs), min(ys), max(xs), max(ys)))
