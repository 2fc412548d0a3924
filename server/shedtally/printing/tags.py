"""Sheets and rolls of tags as vector PDF."""

from __future__ import annotations

import io
from collections.abc import Sequence

from reportlab.pdfgen.canvas import Canvas

from shedtally.printing import symbol
from shedtally.printing.letters import MM, TEXT, load_faces
from shedtally.printing.sheets import SHEETS, SheetSize
from shedtally.printing.symbol import AddressNotPrintable
from shedtally.printing.tag_drawing import TagFace, draw_face
from shedtally.printing.tag_layout import TagTooSmall, layout

__all__ = ["SHEETS", "AddressNotPrintable", "SheetSize", "TagFace", "tag_sheet"]

_TICK_MM = 3.0
_RULER_MM = 50.0


def tag_sheet(faces: Sequence[TagFace], sheet: SheetSize, address: str) -> bytes:
    """Print ``faces`` on ``sheet``, in order, on as many pages as it takes.

    Args: faces: at least one; address: of the server, like ``https://shed.local:8443``.
    Returns: a PDF in pure black; the same input gives the same bytes.
    Raises: ValueError: no faces; AddressNotPrintable: the address can't stand in a symbol, or
        makes it too large for this paper.
    """
    if not faces:
        message = "there is no tag to print"
        raise ValueError(message)
    load_faces()
    symbols = [symbol.matrix(symbol.payload(address, face.code)) for face in faces]
    try:
        at = layout(*sheet.tag_mm, max(symbol.smallest_side_mm(modules) for modules in symbols))
    except TagTooSmall:
        raise AddressNotPrintable(
            f"{address} is too long for {sheet.name}: its symbol would leave no room for the "
            "code. Give the server a shorter name, or print on larger labels."
        ) from None
    file = io.BytesIO()
    page = (sheet.page_mm[0] * MM, sheet.page_mm[1] * MM)
    canvas = Canvas(file, pagesize=page, invariant=1, pageCompression=1)
    canvas.setTitle("Tags")
    for number, (face, modules) in enumerate(zip(faces, symbols, strict=True)):
        place = number % sheet.per_page
        if number and place == 0:
            canvas.showPage()
        if place == 0 and not sheet.roll:
            _furniture(canvas, sheet)
        x, y = sheet.corner(place)
        canvas.saveState()
        canvas.translate(x * MM, y * MM)
        draw_face(canvas, face, modules, at)
        canvas.restoreState()
    canvas.save()
    return file.getvalue()


def _furniture(canvas: Canvas, sheet: SheetSize) -> None:
    """Ticks in the margins to cut along, and a line to check that nothing was scaled."""
    left, bottom = sheet.corner(sheet.per_page - sheet.columns)
    width, height = sheet.columns * sheet.tag_mm[0], sheet.rows * sheet.tag_mm[1]
    canvas.setLineWidth(0.3)
    for column in range(sheet.columns + 1):
        x = (left + column * sheet.tag_mm[0]) * MM
        for edge, way in ((bottom, -1), (bottom + height, 1)):
            canvas.line(x, (edge + way) * MM, x, (edge + way * (1 + _TICK_MM)) * MM)
    for row in range(sheet.rows + 1):
        y = (bottom + row * sheet.tag_mm[1]) * MM
        for edge, way in ((left, -1), (left + width, 1)):
            canvas.line((edge + way) * MM, y, (edge + way * (1 + _TICK_MM)) * MM, y)
    y, x = (bottom - 4.5) * MM, (left + 4) * MM
    canvas.setFont(TEXT, 7)
    canvas.drawString(x, y, "Print at 100 %, not fitted to the page. This line is 50 mm long:")
    end = x + 75 * MM
    canvas.line(end, y + 2, end + _RULER_MM * MM, y + 2)
    for tick in (end, end + _RULER_MM * MM):
        canvas.line(tick, y, tick, y + 4)
