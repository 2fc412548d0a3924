"""The QR symbol of a tag: what it says, and how it is drawn.

Alphanumeric mode keeps the symbol small, so that its modules can be large. Level Q with two
symbols a tag was read best when dirty: a spoilt finder pattern kills a symbol at every level.
Source for modes, levels and the quiet zone of 4 modules: ISO/IEC 18004.
"""

from __future__ import annotations

import functools
import re
from typing import Literal, TypeAlias

import qrcode
import qrcode.constants
import qrcode.util
from reportlab.pdfgen.canvas import Canvas

from shedtally.printing.letters import MM

Matrix: TypeAlias = tuple[tuple[bool, ...], ...]

QUIET_MODULES = 4
SMALLEST_MODULE_MM = 0.8
_ALPHANUMERIC: Literal[2] = 2  # qrcode.util.MODE_ALPHA_NUM, with the type that its stubs want

# What the alphanumeric mode holds of a host name and a port.
_ADDRESS = re.compile(r"HTTPS?://[0-9A-Z.-]+(:[0-9]+)?")


class AddressNotPrintable(ValueError):
    """The server's address can't stand on a tag; ``detail`` tells the person why."""

    def __init__(self, detail: str) -> None:
        super().__init__(detail)
        self.detail = detail


def payload(address: str, code: str) -> str:
    """The text of the symbol: the tag's address in capitals.

    Args: address: scheme, host and port of the server as phones reach it; code: six characters.
    Raises: AddressNotPrintable: a path, a user, an underscore or an address in brackets.

    >>> payload("https://shed.local:8443", "PFAN94")
    'HTTPS://SHED.LOCAL:8443/T/PFAN94'
    """
    base = address.rstrip("/").upper()
    if not _ADDRESS.fullmatch(base):
        raise AddressNotPrintable(
            f"{address} can't be printed on tags. Give the server a name or an address like "
            "https://shed.local:8443, without a path and without underscores or brackets."
        )
    return f"{base}/T/{code.upper()}"


@functools.lru_cache(maxsize=1024)
def matrix(text: str) -> Matrix:
    """The dark modules of ``text`` at level Q, row by row from the top, without quiet zone."""
    maker = qrcode.QRCode(error_correction=qrcode.constants.ERROR_CORRECT_Q, border=0)
    maker.add_data(qrcode.util.QRData(text, mode=_ALPHANUMERIC))
    maker.make(fit=True)
    return tuple(tuple(bool(dark) for dark in row) for row in maker.get_matrix())


def smallest_side_mm(modules: Matrix) -> float:
    """The side in mm that the symbol needs with its quiet zone, at the smallest module."""
    return (len(modules) + 2 * QUIET_MODULES) * SMALLEST_MODULE_MM


def draw(canvas: Canvas, modules: Matrix, corner: tuple[float, float], side_mm: float) -> None:
    """Draw the symbol in the square at ``corner`` (lower left, mm), quiet zone included.

    Runs of dark modules are rectangles of one path: no seams, and sharp at any resolution.
    """
    module = side_mm / (len(modules) + 2 * QUIET_MODULES) * MM
    left = corner[0] * MM + QUIET_MODULES * module
    top = (corner[1] + side_mm) * MM - QUIET_MODULES * module
    path = canvas.beginPath()
    for row, signs in enumerate(modules):
        for start, length in _runs(signs):
            path.rect(left + start * module, top - (row + 1) * module, length * module, module)
    canvas.drawPath(path, stroke=0, fill=1)


def _runs(row: tuple[bool, ...]) -> list[tuple[int, int]]:
    found: list[tuple[int, int]] = []
    start = None
    for at, dark in enumerate((*row, False)):
        if dark and start is None:
            start = at
        elif not dark and start is not None:
            found.append((start, at - start))
            start = None
    return found
