"""Labels for waste containers: what is inside, what it does, whose it is, since when.

Drawn for A6 and scaled to the other sizes, so that all look alike. Pictograms are as large as the
container wants: Regulation (EC) No 1272/2008, annex I, table 1.3 (reachonline.eu): 16 mm to 3 L,
23 mm to 50 L, 32 mm to 500 L, 46 mm above; the sides of the square, not of the box around it.
Labels for the road are shown small, as a help for whoever packs; full size has sides of 100 mm.
"""

from __future__ import annotations

import datetime as dt
import io
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from reportlab.pdfgen.canvas import Canvas

from shedtally.domain.records import tag
from shedtally.printing import symbol
from shedtally.printing.letters import CAP_HEIGHT, CODE, MM, STRONG, TEXT, fit, load_faces, width
from shedtally.printing.phrases import Phrases
from shedtally.printing.sheets import SheetSize
from shedtally.printing.sign_rows import Placed, place_signs
from shedtally.printing.signs import corner_to_corner_mm, draw_sign

WIDE_MM, HIGH_MM = 105.0, 148.0
EDGE_MM = 5.0
INSIDE_MM = WIDE_MM - 2 * EDGE_MM
BAND_MM = 11.5
FOOT_MM = 40.0
SYMBOL_MM = 31.0
ROAD_MM = 13.0
USUAL_GHS_MM = 25.0
LARGEST_GHS_MM = 33.0
TITLE_ROWS = 6  # of what the code means, beside it

# Capacity in litres up to which pictograms of this side are enough: table 1.3.
SIDES_BY_LITRES: tuple[tuple[float, float], ...] = ((3, 16), (50, 23), (500, 32))
SIDE_ABOVE_MM = 46.0

LABELS: Mapping[str, SheetSize] = {
    size.id: size
    for size in (
        SheetSize("a6", "A6", "one label a page", (105, 148), (105, 148), roll=True),
        SheetSize("a5", "A5", "one large label a page", (148, 210), (148, 210), roll=True),
        SheetSize("a4-4", "A4, four labels", "four to cut apart", (210, 297), (105, 148), 2, 2),
        SheetSize(
            "letter-4",
            "Letter, four labels",
            "four to cut apart",
            (215.9, 279.4),
            (99, 139.5),
            columns=2,
            rows=2,
        ),
        SheetSize(
            "roll-102x152", "Roll 102 × 152 mm", "one a label", (102, 152), (102, 144), roll=True
        ),
    )
}


@dataclass(frozen=True, slots=True)
class LabelFace:
    """What one label says; empty where nothing is known. ``band`` is the wording of the rules."""

    band: str
    hazardous: bool
    stream: str
    code: str
    code_title: str
    ghs: tuple[str, ...]
    road: tuple[str, ...]
    note: str
    caution: str
    container: str
    tag: str
    boat: str
    owner: str
    lies_at: str
    opened: dt.date | None
    capacity_l: float | None
    also: tuple[str, ...] = ()


def wanted_side_mm(capacity_l: float | None) -> float:
    """The side that the pictograms of a container want; an unknown one is taken to hold 50 L.

    Source: Regulation (EC) No 1272/2008, annex I, table 1.3.
    """
    litres = 50.0 if capacity_l is None else capacity_l
    return next((side for most, side in SIDES_BY_LITRES if litres <= most), SIDE_ABOVE_MM)


def container_labels(
    faces: Sequence[LabelFace], size: SheetSize, address: str, say: Phrases
) -> bytes:
    """Print labels in order, on as many pages as it takes; the same input gives the same bytes.

    Args: faces: at least one; address: of the server, for the symbol of the tag.
    Raises: ValueError: no faces; AddressNotPrintable.
    """
    if not faces:
        message = "there is no container to label"
        raise ValueError(message)
    load_faces()
    file = io.BytesIO()
    page = (size.page_mm[0] * MM, size.page_mm[1] * MM)
    canvas = Canvas(file, pagesize=page, invariant=1, pageCompression=1)
    canvas.setTitle(say("label.title"))
    scale = min(size.tag_mm[0] / WIDE_MM, size.tag_mm[1] / HIGH_MM)
    for number, face in enumerate(faces):
        place = number % size.per_page
        if number and place == 0:
            canvas.showPage()
        x, y = size.corner(place)
        canvas.saveState()
        canvas.translate(
            (x + (size.tag_mm[0] - WIDE_MM * scale) / 2) * MM,
            (y + (size.tag_mm[1] - HIGH_MM * scale) / 2) * MM,
        )
        canvas.scale(scale, scale)
        _Label(canvas, face, say, scale).draw(address)
        canvas.restoreState()
    canvas.save()
    return file.getvalue()


class _Label:
    """One label with its lower left corner at the origin, in mm of A6."""

    def __init__(self, canvas: Canvas, face: LabelFace, say: Phrases, scale: float) -> None:
        self.canvas, self.face, self.say, self.scale = canvas, face, say, scale

    def draw(self, address: str) -> None:
        self.canvas.setStrokeGray(0)
        self.canvas.setLineWidth(0.7 * MM)
        self.canvas.rect(2.2 * MM, 2.2 * MM, (WIDE_MM - 4.4) * MM, (HIGH_MM - 4.4) * MM)
        y = self._band(HIGH_MM - 2.2)
        y = self._what(y - 1.5)
        self._signs(EDGE_MM + FOOT_MM, y)
        self._foot(address)

    def _band(self, top: float) -> float:
        low = top - BAND_MM
        self.canvas.setFillGray(0)
        if self.face.hazardous:
            self.canvas.rect(2.2 * MM, low * MM, (WIDE_MM - 4.4) * MM, BAND_MM * MM, 0, 1)
            self.canvas.setFillGray(1)
        else:
            self._rule(low)
        text = self.face.band if self.face.hazardous else self.say("label.not_hazardous")
        size, rows = fit(text, STRONG, INSIDE_MM * MM, (25 if self.face.hazardous else 19, 10), 1)
        self._middle(rows[0], STRONG, size, low + (BAND_MM - size * CAP_HEIGHT / MM) / 2)
        self.canvas.setFillGray(0)
        return low

    def _what(self, y: float) -> float:
        """Stream, code and what the code means; the labels for the road in the corner."""
        step = corner_to_corner_mm(ROAD_MM) + 1
        room = INSIDE_MM - step * len(self.face.road)
        for at, sign in enumerate(self.face.road):
            middle = (WIDE_MM - EDGE_MM + 1.5 - step * (at + 0.5), y - step / 2)
            draw_sign(self.canvas, sign, middle, ROAD_MM)
        low = y - step if self.face.road else y
        y = self._lines(self.face.stream, y, room)
        return min(low, self._code(y, room))

    def _code(self, y: float, room: float) -> float:
        size, code = fit(self.face.code, STRONG, room * 0.7 * MM, (24, 13), 1)
        tall = size * CAP_HEIGHT / MM
        self.canvas.setFont(STRONG, size)
        self.canvas.drawString(EDGE_MM * MM, (y - tall - 0.8) * MM, code[0] if code else "")
        left = width(code[0] if code else "", STRONG, size) / MM + 3
        rest = room - left
        if rest < 30:  # too narrow for words: they go below
            y, left, rest = y - tall - 1.5, 0.0, room
        most = TITLE_ROWS if left else 2
        small, rows = fit(self.face.code_title, TEXT, rest * MM, (7.5, 6.5), most)
        for at, row in enumerate(rows):
            self.canvas.setFont(TEXT, small)
            self.canvas.drawString((EDGE_MM + left) * MM, (y - 2.6 - at * 3.0) * MM, row)
        return y - max(tall + 1.5 if left else 0.0, len(rows) * 3.0 + 1.0)

    def _signs(self, low: float, top: float) -> None:
        """Pictograms, and the caution below them."""
        low = self._caution(low + 0.5)
        wanted = wanted_side_mm(self.face.capacity_l) / self.scale
        largest = min(LARGEST_GHS_MM, max(wanted, USUAL_GHS_MM))
        placed = place_signs(self.face.ghs, INSIDE_MM, top - low - 2, largest)
        left = EDGE_MM + (INSIDE_MM - placed.width) / 2
        self._draw(placed, left, low + 1 + (top - low - 2 - placed.height) / 2)
        self._too_small(placed.side)

    def _draw(self, placed: Placed, x: float, y: float) -> None:
        for sign, middle in placed.middles:
            draw_sign(self.canvas, sign, (x + middle[0], y + middle[1]), placed.side)

    def _too_small(self, side: float) -> None:
        face = self.face
        wanted = wanted_side_mm(face.capacity_l)
        if not face.ghs or not face.hazardous or side * self.scale >= wanted - 0.01:
            return
        litres = max(most for most, one in SIDES_BY_LITRES if one < wanted)
        text = self.say("label.too_small", litres=f"{litres:g}", side=f"{wanted:g}")
        x = EDGE_MM + SYMBOL_MM + 0.5
        _, rows = fit(text, TEXT, (WIDE_MM - EDGE_MM - x) * MM, (6.5, 6.5), 1)
        self.canvas.setFont(TEXT, 6.5)
        self.canvas.drawString(x * MM, 7.6 * MM, rows[0])

    def _caution(self, low: float) -> float:
        said = " ".join(filter(None, [self.face.caution, self.face.note]))
        if not said:
            return low
        size, rows = fit(said, STRONG, INSIDE_MM * MM, (11, 8.5), 2)
        if any("…" in row for row in rows):
            size, rows = fit(said, STRONG, INSIDE_MM * MM, (9.5, 8), 5)
        leading = size * 1.18 / MM
        top = low + leading * len(rows)
        for at, row in enumerate(rows):
            self._middle(row, STRONG, size, top - leading * (at + 0.78))
        return top + 0.5

    def _foot(self, address: str) -> None:
        """Symbol and code of the tag; whose it is, where, since when, lines to write on."""
        face, top = self.face, EDGE_MM + FOOT_MM - 1.5
        self._rule(top)
        low = top - SYMBOL_MM
        if face.tag:
            modules = symbol.matrix(symbol.payload(address, face.tag))
            symbol.draw(self.canvas, modules, (EDGE_MM - 2, low), SYMBOL_MM)
            self.canvas.setFont(CODE, 17)
            code = tag.shown(face.tag)
            self.canvas.drawCentredString(
                (EDGE_MM - 2 + SYMBOL_MM / 2) * MM, (low - 3.2) * MM, code
            )
        else:
            self.canvas.setFont(TEXT, 9)
            self.canvas.drawString(EDGE_MM * MM, (top - 8) * MM, self.say("label.no_tag"))
        self._facts(EDGE_MM + SYMBOL_MM + 0.5, top - 0.5)
        local = self.say("label.local_first")
        self._middle(local, STRONG, 7.5, EDGE_MM - 1.2 + 0.4)

    def _facts(self, x: float, y: float) -> None:
        face, say = self.face, self.say
        rows = [
            (say("label.container"), face.container),
            (say("label.boat"), face.boat),
            (say("label.owner"), face.owner),
            (say("label.lies_at"), face.lies_at),
        ]
        room = WIDE_MM - EDGE_MM - x
        if face.also:
            rows.append(("", say("label.also", names="; ".join(face.also))))
        for name, text in rows:
            if text:
                y = self._fact(name, text, x, y, room)
        opened = say("label.opened")
        self._write(opened, say.day(face.opened, short=True) if face.opened else "", x, 15.6, room)
        self._write(say("label.closed"), "", x, 11.2, room / 2 - 1)
        self._write(say("label.mass"), "", x + room / 2, 11.2, room / 2)

    def _fact(self, name: str, text: str, x: float, y: float, room: float) -> float:
        self.canvas.setFont(TEXT, 6.5)
        self.canvas.drawString(x * MM, (y - 3.2) * MM, name)
        indent = 12.0 if name else 0.0
        most = 2 if name == self.say("label.container") else 1
        size, rows = fit(text, STRONG, (room - indent) * MM, (9.5, 8), most)
        for at, row in enumerate(rows):
            self.canvas.setFont(STRONG, size)
            self.canvas.drawString((x + indent) * MM, (y - 3.2 - at * 3.7) * MM, row)
        return y - 3.7 * max(1, len(rows)) - 0.7

    def _write(self, name: str, text: str, x: float, y: float, room: float) -> None:
        """A name with a line to write on, or with what is written already."""
        self.canvas.setFont(TEXT, 6.5)
        self.canvas.drawString(x * MM, y * MM, name)
        start = x + max(12.0, width(name, TEXT, 6.5) / MM + 1)
        if text:
            self.canvas.setFont(STRONG, 9.5)
            self.canvas.drawString(start * MM, y * MM, text)
        else:
            self.canvas.setLineWidth(0.3)
            self.canvas.line(start * MM, (y - 0.4) * MM, (x + room) * MM, (y - 0.4) * MM)

    def _lines(self, text: str, y: float, room: float) -> float:
        """The stream: on one line if it can be read from afar there, else on two."""
        size, rows = fit(text, STRONG, room * MM, (21, 15), 1)
        if any("…" in row for row in rows):
            size, rows = fit(text, STRONG, room * MM, (16, 11), 2)
        leading = size * 1.15 / MM
        for at, row in enumerate(rows):
            self.canvas.setFont(STRONG, size)
            self.canvas.drawString(EDGE_MM * MM, (y - leading * (at + 0.82)) * MM, row)
        return y - leading * len(rows) - 1.0

    def _middle(self, text: str, face: str, size: float, y: float) -> None:
        self.canvas.setFont(face, size)
        self.canvas.drawCentredString(WIDE_MM / 2 * MM, y * MM, text)

    def _rule(self, y: float) -> None:
        self.canvas.setLineWidth(0.4)
        self.canvas.line(2.2 * MM, y * MM, (WIDE_MM - 2.2) * MM, y * MM)
