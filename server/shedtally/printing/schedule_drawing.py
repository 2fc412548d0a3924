"""The connection diagram of a schedule in print: the same lines as on the phone, in vectors.

Its letters are those of the table. Blocks stand side by side where there is room; one too wide
for the page goes on below in a second strip, and each line that was cut bears its name there.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from reportlab.platypus import Flowable

from shedtally.domain.schedules.lists import DrawnBlock, DrawnNode, DrawnRun
from shedtally.printing.letters import CODE, MM, STRONG, TEXT, printable, width
from shedtally.printing.paper import BRASS, HAIR, INK, PENCIL, Paper

# Points for one unit of the drawing. Columns of boxes are 200 to 300 units apart.
SCALE = 1.0
_TEXT, _SIZE, _LINE, _BETWEEN, _ABOVE, _BELOW = 10.5, 10.0, 13.0, 24.0, 5.0, 8.0
# Beside a cut: room for the name and the size of each line that goes on, and its arrow head.
_ARROW, _MOST_NAMED, _BEFORE_COLUMN = 22.0, 120.0, 4.5


@dataclass(frozen=True, slots=True)
class Strip:
    """The columns of a block from ``start`` to ``end``, in its units.

    ``margin`` is the room beside a cut: what the longest name or size in the block takes.
    """

    block: DrawnBlock
    start: float
    end: float
    margin: float

    @property
    def cut_left(self) -> bool:
        """Whether the strip goes on from another."""
        return self.start > 0

    @property
    def cut_right(self) -> bool:
        """Whether the block goes on in another strip."""
        return self.end < self.block.width

    @property
    def width(self) -> float:
        """What it takes, with the names beside the cuts."""
        return self.end - self.start + self.margin * (self.cut_left + self.cut_right)

    @property
    def lift(self) -> float:
        """How much higher than in the block its boxes and lines stand, so that no room is left."""
        heads = max(len(column.name) for column in self.block.columns) * _LINE + _BELOW
        return max(0.0, min(self._levels()) - heads - _LINE) if self.cut_left else 0.0

    @property
    def height(self) -> float:
        """Down to its lowest box or line."""
        if not self.cut_left and not self.cut_right:
            return self.block.height
        return max(self._levels()) + _BELOW - self.lift

    def _levels(self) -> list[float]:
        """Tops and feet of what is in it."""
        nodes = [node for node in self.block.nodes if self.holds(node.x)]
        lines = [
            y
            for run in self.block.runs
            for (x, y), (to, _) in itertools.pairwise(_points(run))
            if max(min(x, to), self.start) <= min(max(x, to), self.end)
        ]
        tops = [node.y for node in nodes] + [y - _LINE for y in lines]
        return tops + [node.y + node.height for node in nodes] + [y + _LINE for y in lines]

    def holds(self, x: float) -> bool:
        """Whether something at ``x`` is in it."""
        return self.start <= x <= self.end

    def crossing(self, at: float) -> Iterator[tuple[DrawnRun, float]]:
        """The lines that a cut parts, each with its height there."""
        for run in self.block.runs:
            for (x, y), (to, _) in itertools.pairwise(_points(run)):
                if min(x, to) < at < max(x, to):
                    yield run, y


def drawings(blocks: Sequence[DrawnBlock], paper: Paper) -> list[Flowable]:
    """The blocks in rows, in their order."""
    room = paper.print_mm * MM / SCALE
    return [StripRow(row, paper) for row in _rows(blocks, room)]


def _rows(blocks: Iterable[DrawnBlock], room: float) -> Iterator[list[Strip]]:
    row: list[Strip] = []
    used = 0.0
    for block in blocks:
        strips = list(strips_of(block, room))
        if row and (len(strips) > 1 or used + _BETWEEN + block.width > room):
            yield row
            row, used = [], 0.0
        if len(strips) > 1:
            yield from ([strip] for strip in strips)
            continue
        used += block.width + (_BETWEEN if row else 0.0)
        row += strips
    if row:
        yield row


def strips_of(block: DrawnBlock, room: float) -> Iterator[Strip]:
    """The block whole, or cut before columns so that each strip fits in ``room``.

    Args: room: in units of the drawing. A column that is wider by itself stands alone all the same.
    """
    if block.width <= room:
        yield Strip(block, 0.0, block.width, 0.0)
        return
    margin = _margin(block)
    cuts = [x - _BEFORE_COLUMN for x in sorted({node.x for node in block.nodes})[1:]]
    start = 0.0
    while Strip(block, start, block.width, margin).width > room:
        beyond = [cut for cut in cuts if cut > start]
        if not beyond:
            break
        fitting = [cut for cut in beyond if Strip(block, start, cut, margin).width <= room]
        end = max(fitting) if fitting else min(beyond)
        yield Strip(block, start, end, margin)
        start = end
    yield Strip(block, start, block.width, margin)


def _margin(block: DrawnBlock) -> float:
    named = (width(run.name, STRONG, _TEXT) for run in block.runs)
    sized = (width(run.size, TEXT, _SIZE) for run in block.runs)
    return _ARROW + min(_MOST_NAMED, max(*named, *sized, 0.0))


def _points(run: DrawnRun) -> list[tuple[float, float]]:
    return list(zip(run.corners[::2], run.corners[1::2], strict=True))


class StripRow(Flowable):
    """Strips side by side."""

    def __init__(self, row: Sequence[Strip], paper: Paper) -> None:
        super().__init__()
        self._row = row
        wide = sum(strip.width for strip in row) + _BETWEEN * (len(row) - 1)
        high = max(strip.height for strip in row)
        # A single column with very many boxes can still be deeper than a page.
        room = (paper.body_mm - 24) * MM
        self.scale = min(SCALE, paper.print_mm * MM / wide, room / high)
        self.width, self.height = wide * self.scale, high * self.scale + _ABOVE + 4

    def wrap(self, *_: Any) -> tuple[float, float]:  # noqa: ANN401  # as reportlab calls it
        """Its size, whatever room there is."""
        return self.width, self.height

    def draw(self) -> None:
        """Each strip from its own top, y downwards as in the drawing."""
        canvas = self.canv
        canvas.translate(0, self.height - _ABOVE)
        canvas.scale(self.scale, self.scale)
        for strip in self._row:
            canvas.saveState()
            self._strip(strip)
            canvas.restoreState()
            canvas.translate(strip.width + _BETWEEN, 0)

    def _strip(self, strip: Strip) -> None:
        canvas, block = self.canv, strip.block
        canvas.translate((strip.margin if strip.cut_left else 0.0) - strip.start, 0)
        for column in block.columns:
            left, right = max(column.x, strip.start), min(column.x + column.width, strip.end)
            if left < right:
                self._heading(column.name, left, right)
        canvas.translate(0, strip.lift)
        for run in block.runs:
            self._run(run, strip)
        for cut, way in ((strip.start, -1.0), (strip.end, 1.0)):
            if 0 < cut < block.width:
                for run, y in strip.crossing(cut):
                    self._goes_on(run, cut, y, way * strip.margin)
        for node in block.nodes:
            if strip.holds(node.x):
                self._node(node)

    def _heading(self, name: Sequence[str], left: float, right: float) -> None:
        self._texts(STRONG, _TEXT, left, _TEXT, name)
        low = -_LINE * len(name) - 4
        self.canv.setStrokeColor(HAIR)
        self.canv.setLineWidth(0.6)
        self.canv.line(left, low, right, low)

    def _texts(self, face: str, size: float, x: float, y: float, lines: Sequence[str]) -> None:
        self.canv.setFont(face, size)
        self.canv.setFillColor(INK)
        for n, text in enumerate(lines):
            self.canv.drawString(x, -(y + n * _LINE), printable(text))

    def _run(self, run: DrawnRun, strip: Strip) -> None:
        canvas = self.canv
        canvas.setStrokeColor(INK)
        canvas.setLineWidth(1.1)
        for (x, y), (to, end) in itertools.pairwise(_points(run)):
            # Cuts are made where lines run level.
            first, last = sorted((x, to))
            first, last = max(first, strip.start), min(last, strip.end)
            if first <= last:
                canvas.line(first, -y, last, -end)
        left, high = run.label
        if strip.holds(left):
            self._named(run, left, high)

    def _named(self, run: DrawnRun, left: float, high: float) -> None:
        self._texts(STRONG, _TEXT, left, high, [run.name])
        self.canv.setFillColor(PENCIL)
        self.canv.setFont(TEXT, _SIZE)
        self.canv.drawString(left, -(high + _LINE + 1), printable(run.size))

    def _goes_on(self, run: DrawnRun, cut: float, y: float, reach: float) -> None:
        """A line beyond a cut, with its name and size, and an arrow head that leads on."""
        canvas = self.canv
        way = 1 if reach > 0 else -1
        end = cut + reach - way * 4
        canvas.setStrokeColor(INK)
        canvas.setLineWidth(1.1)
        canvas.line(cut, -y, end, -y)
        canvas.lines([(end, -y, end - way * 5, -y + 3.5), (end, -y, end - way * 5, -y - 3.5)])
        self._named(run, min(cut, end) + (6 if way > 0 else 10), y - 4)

    def _node(self, node: DrawnNode) -> None:
        canvas = self.canv
        canvas.saveState()
        canvas.setStrokeColor(INK)
        canvas.setLineWidth(0.8)
        canvas.setFillColor("white")
        if node.sort == "open":
            canvas.setStrokeColor(BRASS)
            canvas.setDash(3, 3)
        round_by = 8 if node.sort in ("point", "joint") else 0
        low = -(node.y + node.height)
        canvas.roundRect(node.x, low, node.width, node.height, round_by, stroke=1, fill=1)
        canvas.restoreState()
        self._texts(TEXT, _TEXT, node.x + 5, node.y + 12, node.lines)
        if node.tag:
            self._texts(CODE, 10.0, node.x + 5, node.y + 12 + len(node.lines) * _LINE, [node.tag])
