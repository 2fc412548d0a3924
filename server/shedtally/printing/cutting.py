"""The cutting sheet: each reel as a bar with its cuts, and run by run with the tag of the old."""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.platypus import CondPageBreak, Flowable, KeepTogether

from shedtally.domain.buying.lists import CutSheet, OrderLine, OrderList, SheetPiece, SheetStock
from shedtally.domain.records import tag
from shedtally.printing.figures import CODE_WIDTH_MM, Tick, codes, spec_without, words
from shedtally.printing.letters import CAP_HEIGHT, MM, STRONG, TEXT, printable, width
from shedtally.printing.order import cut_words, metres, proof
from shedtally.printing.paper import (
    ASKS,
    HAIR,
    INK,
    PENCIL,
    RIGHT,
    SMALL,
    STRONG_BODY,
    WIDTH_MM,
    Heading,
    OnSheet,
    document,
)
from shedtally.printing.tables import Cell, opening, section, space, table

_TITLE = "Cutting sheet"
_HEADED_MM, _WHOLE_ROWS = 30, 12
_LEAD = (
    "No run has a join in it. Lay the old run beside the new one before you cut: the lengths have "
    "their allowance in them. Mark each piece with the tag of the old run as it comes off the reel."
)


def cutting_pdf(order: OrderList, heading: Heading) -> bytes:
    """Every line that is cut, on A4."""
    lines = [line for line in order.lines if line.cut is not None]
    story: list[Flowable] = opening(_TITLE, heading, _LEAD if lines else _nothing(order))
    for line in lines:
        if line.cut is not None:
            story += _line(line, line.cut)
    return document(story, _TITLE, heading)


def _nothing(order: OrderList) -> str:
    if not order.lines:
        return "Nothing is to be renewed yet, so there is nothing to cut."
    return "No reel, no price by the metre and no length in the shed is entered for any line yet."


def _line(line: OrderLine, cut: CutSheet) -> list[Flowable]:
    title = spec_without(line.spec, line.standard)
    story: list[Flowable] = [OnSheet("", title), *section(title, cut_words(cut), needs_mm=0)]
    # Who sells by the metre measures without a cut to allow for.
    story.append(words(f"{proof(cut)} {_kerf(cut)}" if cut.stock else proof(cut)))
    story += [words(f"ask first: {ask}", ASKS) for ask in line.asks]
    story.append(space(6))
    rows = sum(len(one.pieces) for one in cut.stock) + len(cut.by_metre) + len(cut.too_long)
    whole = rows + 2 * len(cut.stock) <= _WHOLE_ROWS
    for at, one in enumerate(cut.stock, start=1):
        top = _top(at, one)
        story += [*(top if whole else [KeepTogether(top)]), _pieces(one.pieces), space(7)]
    if cut.by_metre:
        story += _apart("Cut to length by the seller", cut.by_metre)
    if cut.too_long:
        story += _apart("Longer than any reel: not cut", cut.too_long)
    # What fits on one page isn't spread over two: the sheet lies beside the reel.
    return [KeepTogether(story)] if whole else story


def _apart(title: str, pieces: Sequence[SheetPiece]) -> list[Flowable]:
    """What comes off no reel; the heading stays with its first row."""
    return [CondPageBreak(_HEADED_MM * MM), words(title, STRONG_BODY), _pieces(pieces)]


def _kerf(cut: CutSheet) -> str:
    return f"Each cut takes {cut.kerf_mm} mm." if cut.kerf_mm else "The cuts take nothing."


def _top(at: int, one: SheetStock) -> list[Flowable]:
    source = "lies in the shed" if one.from_shed else one.name
    said = ", ".join(filter(None, [f"{at}: {metres(one.length_mm)} m", source]))
    left = f"{metres(one.left_mm)} m left over" if one.left_mm else "nothing left over"
    return [words(said, STRONG_BODY), _Bar(one), words(f"{left}.", SMALL), space(3)]


def _pieces(pieces: Sequence[SheetPiece]) -> Flowable:
    rows: list[Sequence[Cell]] = []
    for at, piece in enumerate(pieces, start=1):
        name: list[Flowable] = [words(piece.name, STRONG_BODY)]
        if piece.ends:
            name.append(words(" to ".join(piece.ends), SMALL))
        if not piece.by_measure:
            name.append(words("nobody measured it: hold a line along its way first", ASKS))
        length = words(_length(piece), RIGHT)
        rows.append([Tick(), str(at), codes(piece.tags), name, length])
    widths = [9, 10, CODE_WIDTH_MM + 3, WIDTH_MM - 9 - 10 - CODE_WIDTH_MM - 3 - 26, 26]
    return table(["", "cut", "tag of the old", "run", "length"], widths, rows, right=1)


def _length(piece: SheetPiece) -> str:
    """To the millimetre in every row, so that a tape is set the same way each time."""
    return f"{piece.length_mm / 1000:.3f} m"


class _Bar(Flowable):
    """A stock length to scale: pieces with number and length, hatched what is left over."""

    TALL = 13.0 * MM

    def __init__(self, one: SheetStock) -> None:
        super().__init__()
        self.one = one
        self.width, self.height = WIDTH_MM * MM, self.TALL + 5

    def wrap(self, available_width: float, available_height: float) -> tuple[float, float]:
        """The size."""
        return self.width, self.height

    def draw(self) -> None:
        """Draw the bar."""
        canvas, scale = self.canv, self.width / self.one.length_mm
        base, at = 3.0, 0.0
        each_kerf = self.one.kerf_mm / max(1, len(self.one.pieces))
        canvas.setLineWidth(0.5)
        for n, piece in enumerate(self.one.pieces, start=1):
            wide = piece.length_mm * scale
            canvas.setStrokeColor(INK)
            canvas.rect(at, base, wide, self.TALL, stroke=1, fill=0)
            self._label(at, wide, n, piece)
            at += wide + each_kerf * scale
        if self.one.left_mm:
            self._left(self.width - self.one.left_mm * scale, base)
        canvas.setStrokeColor(INK)
        canvas.setLineWidth(0.9)
        canvas.rect(0, base, self.width, self.TALL, stroke=1, fill=0)

    def _label(self, at: float, wide: float, number: int, piece: SheetPiece) -> None:
        length = _length(piece)
        code = tag.shown(piece.tags[0]) if piece.tags else piece.name
        for text, font, size, up in (
            (f"{number}", STRONG, 11.0, 0.69),
            (code, TEXT, 10.0, 0.4),
            (length, TEXT, 10.0, 0.1),
        ):
            if text and width(text, font, size) <= wide - 2:
                self.canv.setFillColor(INK)
                self.canv.setFont(font, size)
                self.canv.drawCentredString(
                    at + wide / 2, 3.0 + self.TALL * up + (size * (1 - CAP_HEIGHT)) / 2 - 1,
                    printable(text),
                )  # fmt: skip

    def _left(self, at: float, base: float) -> None:
        canvas = self.canv
        canvas.saveState()
        path = canvas.beginPath()
        path.rect(at, base, self.width - at, self.TALL)
        canvas.clipPath(path, stroke=0)
        canvas.setStrokeColor(HAIR if self.width - at > 40 else PENCIL)
        canvas.setLineWidth(0.4)
        x = at - self.TALL
        while x < self.width:
            canvas.line(x, base, x + self.TALL, base + self.TALL)
            x += 2.2 * MM
        canvas.restoreState()
