"""The boat in print: where most is left must be seen from the drawing alone.

Cells are filled from below by the share that is out; the number is what is left; hatched is
what waits for something. No colour says anything that the number and the hatch don't say too.
"""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.lib.colors import HexColor, white
from reportlab.pdfgen.pathobject import PDFPathObject
from reportlab.platypus import Flowable

from shedtally.domain.aboard.drawn import DrawnBoat, most_left
from shedtally.printing.boat_shape import (
    WIDTH,
    Cell,
    Points,
    cells,
    level_cells,
    outlines,
    shape_of,
)  # fmt: skip
from shedtally.printing.figures import words
from shedtally.printing.letters import MM, STRONG, TEXT
from shedtally.printing.paper import ASKS, HAIR, INK, PENCIL, SMALL_PT, STRONG_BODY, WIDTH_MM
from shedtally.printing.tables import section

OUT = HexColor("#B9D3C8")
LEVELS = ("aloft", "deck", "cabin", "under sole")
_ABREAST, _LEVEL_WIDTH_MM, _APART_MM = 3, 57.0, 3.5
_STANDS_OUT = 1.2
_LEVEL_PT = 8.5  # single figures in small cells
_MISSING = (
    "The boat can't be drawn yet: {what}. Enter it on the phone and the drawing is printed here."
)


def boat_section(boat: DrawnBoat) -> list[Flowable]:
    """The drawing with a line on how to read it; or what is missing for one."""
    if boat.length_m is None:
        return [words(_MISSING.format(what="her length is not known"), ASKS)]
    if not boat.places:
        what = "no compartment says where it begins and ends, in metres aft of the stem"
        return [words(_MISSING.format(what=what), ASKS)]
    how = "The number is what is left, green from below is out, hatched: something there waits."
    if boat.left_elsewhere:
        how += f" {boat.left_elsewhere} more lie where no station is given; they are not drawn."
    most = "; ".join(f"{place.name} {place.left}" for place in most_left(boat.places))
    said = [words(f"Most is left in: {most} (on black).", STRONG_BODY)] if most else []
    return [*section("Where it is left", how), *said, BoatDrawing(boat), Levels(boat)]


class _Drawn(Flowable):
    """Draws in the units of `boat_shape`, y downwards, from a corner at a scale."""

    def __init__(self, boat: DrawnBoat, height: float) -> None:
        super().__init__()
        self.width, self.height = WIDTH_MM * MM, height
        self._boat = boat
        self._most = {place.key for place in most_left(boat.places)}
        self._shape = shape_of(boat)
        self._left = self._top = 0.0
        self._scale = 1.0

    def wrap(self, available_width: float, available_height: float) -> tuple[float, float]:
        """The size given."""
        return self.width, self.height

    def _at(self, x: float, y: float) -> tuple[float, float]:
        return self._left + x * self._scale, self._top - y * self._scale

    def _path(self, points: Points) -> PDFPathObject:
        path = self.canv.beginPath()
        path.moveTo(*self._at(*points[0]))
        for point in points[1:]:
            path.lineTo(*self._at(*point))
        path.close()
        return path

    def _outline(self, points: Points) -> None:
        self.canv.setStrokeColor(INK)
        self.canv.setLineWidth(1)
        self.canv.drawPath(self._path(points))

    def _cells(self, found: Sequence[Cell], size: float) -> None:
        for cell in found:
            self._cell(cell)
        # Last, so that no neighbour's edge runs through a number.
        for cell in sorted(found, key=lambda cell: cell.place.key in self._most):
            if cell.place.left:
                self._number(cell, size)

    def _cell(self, cell: Cell) -> None:
        canvas, place = self.canv, cell.place
        corners = [self._at(*point) for point in cell.points]
        x0, x1 = min(x for x, _ in corners), max(x for x, _ in corners)
        y0, y1 = min(y for _, y in corners), max(y for _, y in corners)
        canvas.saveState()
        canvas.clipPath(self._path(cell.points), stroke=0, fill=0)
        canvas.setFillColor(OUT)
        canvas.rect(x0, y0, x1 - x0, (y1 - y0) * place.share, stroke=0, fill=1)
        if place.waits:
            canvas.setStrokeColor(PENCIL)
            canvas.setLineWidth(0.3)
            at = x0 - (y1 - y0)
            while at < x1:
                canvas.line(at, y0, at + y1 - y0, y1)
                at += 4
        canvas.restoreState()
        canvas.setStrokeColor(PENCIL)
        canvas.setLineWidth(0.5)
        canvas.drawPath(self._path(cell.points))

    def _number(self, cell: Cell, size: float) -> None:
        """On white, so that the hatch doesn't run through it; most of all, larger and on black."""
        stands_out = cell.place.key in self._most
        text, size = str(cell.place.left), size * _STANDS_OUT if stands_out else size
        half = len(cell.points) // 2
        over, under = cell.points[half // 2], cell.points[-1 - half // 2]
        x, y = self._at((over[0] + under[0]) / 2, (over[1] + under[1]) / 2)
        wide = self.canv.stringWidth(text, STRONG, size) + (4 if stands_out else 0)
        self.canv.setFillColor(INK if stands_out else white)
        self.canv.rect(x - wide / 2 - 1, y - size * 0.46, wide + 2, size * 0.92, stroke=0, fill=1)
        self.canv.setFillColor(white if stands_out else INK)
        self.canv.setFont(STRONG, size)
        self.canv.drawCentredString(x, y - size * 0.35, text)


class BoatDrawing(_Drawn):
    """Plan above profile."""

    def __init__(self, boat: DrawnBoat) -> None:
        super().__init__(boat, 0.0)
        self._scale = 0.7 * self.width / WIDTH
        self._left = 0.15 * self.width
        self.height = self._top = (self._shape.keel + 6) * self._scale

    def draw(self) -> None:
        """Draw cells, water and outlines."""
        canvas, shape = self.canv, self._shape
        self._cells(cells(self._boat, shape), 9)
        canvas.setStrokeColor(HAIR)
        canvas.line(*self._at(0, shape.water), *self._at(WIDTH, shape.water))
        for points in outlines(shape):
            self._outline(points)
        canvas.setFillColor(PENCIL)
        canvas.setFont(TEXT, SMALL_PT)
        canvas.drawString(*self._at(0, 14), "starboard")
        canvas.drawString(*self._at(0, shape.middle + shape.half - 2), "port")


class Levels(_Drawn):
    """Each level on which something is left: small, seen from above, with what is left in all."""

    def __init__(self, boat: DrawnBoat) -> None:
        super().__init__(boat, 0.0)
        sums = dict.fromkeys(LEVELS, 0)
        for place in boat.places:
            if place.level in sums:
                sums[place.level] += place.left
        # A level that is empty takes the room from those with numbers to be read.
        self._shown = [(level, sums[level]) for level in LEVELS if sums[level]]
        self._scale = _LEVEL_WIDTH_MM * MM / WIDTH
        self._deep = (self._shape.middle + self._shape.half + 8) * self._scale + 16
        self.height = -(-len(self._shown) // _ABREAST) * self._deep

    def draw(self) -> None:
        """Draw them side by side, and the fourth under them."""
        plan, _ = outlines(self._shape)
        for at, (level, left) in enumerate(self._shown):
            row, column = divmod(at, _ABREAST)
            self._left = column * (_LEVEL_WIDTH_MM + _APART_MM) * MM
            self._top = self.height - row * self._deep - 14
            self._cells(level_cells(self._boat, self._shape, level), _LEVEL_PT)
            self._outline(plan)
            self.canv.setFillColor(PENCIL)
            self.canv.setFont(TEXT, SMALL_PT)
            self.canv.drawString(self._left, self._top + 3, f"{level}: {left} left")
