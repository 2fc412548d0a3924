"""One tag, drawn: what hangs on an item, what sticks on a place, what sticks on a container.

They differ in outline, frame and word, so that a photocopy or a thermal printer loses nothing:
an item's tag has one clipped corner pair and a hole, a place has a plain frame and a solid end, a
container is clipped at all corners and has a striped end.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

from reportlab.pdfgen.canvas import Canvas
from reportlab.pdfgen.pathobject import PDFPathObject

from shedtally.domain.records import tag
from shedtally.printing import symbol
from shedtally.printing.letters import CODE, MM, STRONG, TEXT, fit, width
from shedtally.printing.tag_layout import Box, Layout

On: TypeAlias = Literal["item", "place", "container", "blank"]

HAIRLINE_PT = 0.3
CLIP_MM = 8.0
HOLE_MM = 5.0
RING_MM = 8.4
BAND_MM = 8.0
FRAME_MM = 0.7
SMALLEST_TITLE_PT = 8.0
LEADING = 1.2
LOWEST_LINE_MM = 5.5  # of handwriting

_TO_WRITE: dict[On, tuple[str, ...]] = {
    "item": ("what", "where it sat"),
    "blank": ("what", "where it sat"),
    "place": ("shelf or crate", "where it stands"),
    "container": ("one kind of waste only", "opened on"),
}
_WORDS: dict[On, str] = {"place": "PLACE", "container": "WASTE"}


@dataclass(frozen=True, slots=True)
class TagFace:
    """What one tag says. ``title`` empty: lines to write on. ``lines`` in order of importance."""

    code: str
    title: str = ""
    lines: tuple[str, ...] = ()
    on: On = "blank"


def draw_face(canvas: Canvas, face: TagFace, modules: symbol.Matrix, at: Layout) -> None:
    """Draw ``face`` with its lower left corner at the canvas' origin."""
    {"place": _place, "container": _container}.get(face.on, _item)(canvas, at)
    for box in at.symbols:
        symbol.draw(canvas, modules, (box.x, box.y), box.width)
    _code(canvas, face.code, at)
    if at.lying:
        _rule(canvas, at.words.x, at.words.y + at.words.height + 0.6, at.words.width)
    if face.title.strip():
        _words(canvas, face, at.words)
    else:
        _lines_to_write(canvas, _TO_WRITE[face.on], at.words)


def _code(canvas: Canvas, code: str, at: Layout) -> None:
    signs = code if at.lying else tag.shown(code)
    size = at.code_size_pt
    canvas.setFont(CODE, size)
    for sign, (x, y) in zip(signs, at.code_at, strict=True):
        canvas.drawCentredString(x * MM, y * MM, sign)


def _words(canvas: Canvas, face: TagFace, box: Box) -> None:
    rows = _fitted(face, box)
    y = (box.y + box.height) * MM
    for font, size, line in rows:
        y -= size * LEADING
        canvas.setFont(font, size)
        canvas.drawString(box.x * MM, y + size * 0.22, line)


def _fitted(face: TagFace, box: Box) -> list[tuple[str, float, str]]:
    """The words as rows that fill the box: whole and as large as they go, else shortened."""
    largest = max(14.0, box.height * 0.8)
    while largest >= SMALLEST_TITLE_PT:
        rows = _set(face, box, largest, (4, 3))
        if not any("…" in row for _, _, row in rows) and _height(rows) <= box.height * MM:
            return rows
        largest -= 1.0
    for most in ((3, 2), (2, 2), (2, 1), (1, 1)):
        rows = _set(face, box, SMALLEST_TITLE_PT, most)
        if _height(rows) <= box.height * MM:
            return rows
    return list(_first(rows, box.height * MM))


def _set(
    face: TagFace, box: Box, largest: float, most: tuple[int, int]
) -> list[tuple[str, float, str]]:
    """Title and lines in rows at one size; ``most``: rows of the title, rows of each line."""
    _, title = fit(face.title, STRONG, box.width * MM, (largest, largest), most[0])
    rows = [(STRONG, largest, row) for row in title]
    small = max(7.0, largest * 0.7)
    for line in face.lines:
        _, lines = fit(line, TEXT, box.width * MM, (small, small), most[1])
        rows += [(TEXT, small, row) for row in lines]
    return rows


def _height(rows: Sequence[tuple[str, float, str]]) -> float:
    return LEADING * sum(size for _, size, _ in rows)


def _first(
    rows: Sequence[tuple[str, float, str]], height: float
) -> Iterator[tuple[str, float, str]]:
    for row in rows:
        height -= LEADING * row[1]
        if height < 0:
            return
        yield row


def _lines_to_write(canvas: Canvas, labels: tuple[str, ...], box: Box) -> None:
    labels = labels[: max(1, int(box.height / LOWEST_LINE_MM))]
    step = box.height / len(labels)
    for row, label in enumerate(labels, start=1):
        y = box.y + box.height - row * step + 0.8
        size = max(7.0, box.height / 3)
        canvas.setFont(TEXT, size)
        canvas.drawString(box.x * MM, y * MM + 1, label)
        _rule(canvas, box.x, y, box.width, after=width(label, TEXT, size) / MM + 1)


def _rule(canvas: Canvas, x: float, y: float, length: float, after: float = 0) -> None:
    canvas.setLineWidth(HAIRLINE_PT)
    canvas.line((x + after) * MM, y * MM, (x + length) * MM, y * MM)


def _item(canvas: Canvas, at: Layout) -> None:
    w, h, c = at.width, at.height, CLIP_MM
    if at.lying:
        corners = [(c, 0), (w, 0), (w, h), (c, h), (0, h - c), (0, c)]
    else:
        corners = [(0, 0), (w, 0), (w, h - c), (w - c, h), (c, h), (0, h - c)]
    _outline(canvas, corners, HAIRLINE_PT)
    x, y = at.hole
    canvas.circle(x * MM, y * MM, HOLE_MM / 2 * MM)
    canvas.setLineWidth(FRAME_MM * MM)
    canvas.circle(x * MM, y * MM, RING_MM / 2 * MM)


def _place(canvas: Canvas, at: Layout) -> None:
    inset = FRAME_MM / 2 + 0.4
    w, h = at.width - inset, at.height - inset
    _outline(canvas, [(inset, inset), (w, inset), (w, h), (inset, h)], FRAME_MM * MM)
    band = _band(at)
    canvas.rect(band.x * MM, band.y * MM, band.width * MM, band.height * MM, stroke=0, fill=1)
    canvas.setFillGray(1)
    _band_word(canvas, _WORDS["place"], at, band)
    canvas.setFillGray(0)


def _container(canvas: Canvas, at: Layout) -> None:
    inset, c = FRAME_MM / 2 + 0.4, (2.8 if at.lying else 4.0)  # clear of the quiet zone
    w, h = at.width - inset, at.height - inset
    corners = [
        (inset + c, inset), (w - c, inset), (w, inset + c), (w, h - c),
        (w - c, h), (inset + c, h), (inset, h - c), (inset, inset + c),
    ]  # fmt: skip
    band = _band(at)
    canvas.saveState()
    canvas.clipPath(_path(canvas, corners), stroke=0)
    _stripes(canvas, band)
    word = _WORDS["container"]
    room = width(word, STRONG, _word_size(band)) / MM + 6
    middle = (band.x + band.width / 2, band.y + band.height / 2)
    wide, high = (band.width + 1, room) if at.lying else (room, band.height + 1)
    canvas.setFillGray(1)
    canvas.rect(
        (middle[0] - wide / 2) * MM, (middle[1] - high / 2) * MM, wide * MM, high * MM,
        stroke=0, fill=1,
    )  # fmt: skip
    canvas.setFillGray(0)
    canvas.restoreState()
    _band_word(canvas, word, at, band)
    _outline(canvas, corners, FRAME_MM * MM)


def _band(at: Layout) -> Box:
    inset = FRAME_MM / 2 + 0.4
    if at.lying:
        return Box(inset, inset, BAND_MM, at.height - 2 * inset)
    return Box(inset, at.height - inset - BAND_MM, at.width - 2 * inset, BAND_MM)


def _word_size(band: Box) -> float:
    return min(band.width, band.height) * 0.62 * MM


def _band_word(canvas: Canvas, word: str, at: Layout, band: Box) -> None:
    canvas.saveState()
    canvas.translate((band.x + band.width / 2) * MM, (band.y + band.height / 2) * MM)
    if at.lying:
        canvas.rotate(90)
    size = _word_size(band)
    canvas.setFont(STRONG, size)
    canvas.drawCentredString(0, -size * 0.357, word)
    canvas.restoreState()


def _stripes(canvas: Canvas, band: Box) -> None:
    step, wide = 5.0, 2.2
    reach = band.width + band.height
    canvas.saveState()
    frame = canvas.beginPath()
    frame.rect(band.x * MM, band.y * MM, band.width * MM, band.height * MM)
    canvas.clipPath(frame, stroke=0)
    canvas.setLineWidth(wide * MM)
    at = -reach
    while at < reach:
        x = (band.x + at) * MM
        canvas.line(x, band.y * MM - MM, x + (reach + 2) * MM, (band.y + reach + 1) * MM)
        at += step
    canvas.restoreState()


def _outline(canvas: Canvas, corners: list[tuple[float, float]], line_pt: float) -> None:
    canvas.setLineWidth(line_pt)
    canvas.drawPath(_path(canvas, corners), stroke=1, fill=0)


def _path(canvas: Canvas, corners: list[tuple[float, float]]) -> PDFPathObject:
    path = canvas.beginPath()
    path.moveTo(corners[0][0] * MM, corners[0][1] * MM)
    for x, y in corners[1:]:
        path.lineTo(x * MM, y * MM)
    path.close()
    return path
