"""The connection diagram of a schedule in print: the same lines as on the phone, in vectors.

Blocks stand side by side where there is room. Text keeps a size that can be read; a block too
wide for that on the page is drawn smaller, down to a limit, and then says so.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from reportlab.platypus import Flowable

from shedtally.domain.schedule_lists import DrawnBlock, DrawnNode, DrawnRun
from shedtally.printing.letters import CODE, MM, STRONG, TEXT, printable
from shedtally.printing.paper import HAIR, INK, PENCIL, WIDTH_MM

# Points for one unit of the drawing: text is 11 units high.
USUAL, LEAST = 0.66, 0.38
_TEXT, _LINE, _BETWEEN = 11.0, 13.0, 24.0


def drawings(blocks: Sequence[DrawnBlock]) -> list[Flowable]:
    """The blocks in rows, in their order, each as large as the page allows."""
    return [BlockRow(row) for row in _rows(blocks)]


def _rows(blocks: Iterable[DrawnBlock]) -> Iterator[list[DrawnBlock]]:
    room = WIDTH_MM * MM / USUAL
    row: list[DrawnBlock] = []
    used = 0.0
    for block in blocks:
        if row and used + _BETWEEN + block.width > room:
            yield row
            row, used = [], 0.0
        used += block.width + (_BETWEEN if row else 0.0)
        row.append(block)
    if row:
        yield row


class BlockRow(Flowable):
    """Blocks side by side."""

    def __init__(self, row: Sequence[DrawnBlock]) -> None:
        super().__init__()
        self._row = row
        wide = sum(block.width for block in row) + _BETWEEN * (len(row) - 1)
        high = max(block.height for block in row)
        self.scale = min(USUAL, WIDTH_MM * MM / wide, 235 * MM / high)
        self.width, self.height = wide * self.scale, high * self.scale + 6

    def wrap(self, *_: Any) -> tuple[float, float]:  # noqa: ANN401  # as reportlab calls it
        """Its size, whatever room there is."""
        return self.width, self.height

    def draw(self) -> None:
        """Each block from its own top, y downwards as in the drawing."""
        canvas = self.canv
        canvas.translate(0, self.height)
        canvas.scale(self.scale, self.scale)
        for block in self._row:
            self._block(block)
            canvas.translate(block.width + _BETWEEN, 0)

    def _block(self, block: DrawnBlock) -> None:
        canvas = self.canv
        for column in block.columns:
            self._texts(STRONG, _TEXT, column.x, _TEXT, column.name)
            low = -_LINE * len(column.name) - 4
            canvas.setStrokeColor(HAIR)
            canvas.setLineWidth(0.6)
            canvas.line(column.x, low, column.x + column.width, low)
        for run in block.runs:
            self._run(run)
        for node in block.nodes:
            self._node(node)

    def _texts(self, face: str, size: float, x: float, y: float, lines: Sequence[str]) -> None:
        self.canv.setFont(face, size)
        self.canv.setFillColor(INK)
        for n, text in enumerate(lines):
            self.canv.drawString(x, -(y + n * _LINE), printable(text))

    def _run(self, run: DrawnRun) -> None:
        canvas = self.canv
        canvas.setStrokeColor(INK)
        canvas.setLineWidth(1.1)
        path = canvas.beginPath()
        xs, ys = run.corners[::2], run.corners[1::2]
        path.moveTo(xs[0], -ys[0])
        for x, y in zip(xs[1:], ys[1:], strict=True):
            path.lineTo(x, -y)
        canvas.drawPath(path)
        left, high = run.label
        self._texts(STRONG, 10.5, left, high, [run.name])
        canvas.setFillColor(PENCIL)
        canvas.setFont(TEXT, 9.5)
        canvas.drawString(left, -(high + _LINE + 1), printable(run.size))

    def _node(self, node: DrawnNode) -> None:
        canvas = self.canv
        canvas.saveState()
        canvas.setStrokeColor(INK)
        canvas.setLineWidth(0.8)
        canvas.setFillColor("white")
        if node.sort == "open":
            canvas.setDash(3, 3)
        round_by = 8 if node.sort in ("point", "joint") else 0
        low = -(node.y + node.height)
        canvas.roundRect(node.x, low, node.width, node.height, round_by, stroke=1, fill=1)
        canvas.restoreState()
        self._texts(TEXT, 10.5, node.x + 5, node.y + 12, node.lines)
        if node.tag:
            self._texts(CODE, 10.0, node.x + 5, node.y + 12 + len(node.lines) * _LINE, [node.tag])
