"""The three cuts of the printing face, and text made to fit a width without being clipped.

Sizes are in points, widths in points too, because that is what PDF measures in; `MM` converts.
"""

from __future__ import annotations

import functools
import itertools
import unicodedata
from pathlib import Path

from reportlab.lib.units import mm
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

MM: float = float(mm)
TEXT = "shed-text"
STRONG = "shed-strong"
CODE = "shed-code"
CAP_HEIGHT = 0.714  # of the size; sCapHeight 714 of 1000 units in all three files
WIDEST_IN_CODE = 0.823  # advance of M, the widest sign of a tag code, in the code cut

_FILES = {TEXT: "noto-sans-text.ttf", STRONG: "noto-sans-strong.ttf", CODE: "noto-sans-code.ttf"}
_STAND_INS = {"→": "->", "←": "<-", "≥": ">=", "≤": "<=", "≈": "~", "☐": "[ ]", "✓": "yes"}
_MISSING = "\ufffd"


@functools.cache
def load_faces() -> frozenset[str]:
    """Register the faces with the PDF library, once a process; returns the characters they hold."""
    folder = Path(__file__).with_name("fonts")
    faces = {name: TTFont(name, str(folder / file)) for name, file in _FILES.items()}
    for face in faces.values():
        pdfmetrics.registerFont(face)
    return frozenset(map(chr, faces[TEXT].face.charToGlyph))


def printable(text: str) -> str:
    """``text`` in one line of characters that the faces hold.

    Control characters and line ends become spaces; a character that no face holds prints as a
    visible replacement sign, so that a reader sees that something stood there.
    """
    held = load_faces()
    found = []
    for sign in unicodedata.normalize("NFC", text):
        if sign.isspace() or unicodedata.category(sign).startswith("C"):
            found.append(" ")
        else:
            found.append(sign if sign in held else _STAND_INS.get(sign, _MISSING))
    return " ".join("".join(found).split())


def width(text: str, face: str, size: float) -> float:
    """The width of ``text`` in points."""
    load_faces()
    return float(pdfmetrics.stringWidth(text, face, size))


def fit(
    text: str, face: str, available: float, sizes: tuple[float, float], lines: int
) -> tuple[float, list[str]]:
    """The largest size, down to the second of ``sizes``, at which ``text`` fills ``lines`` lines.

    If even the smallest is too large, the middle is left out: the beginning says what a thing is,
    the end of a path where it sat.

    Returns: the size and the lines, none wider than ``available``; no lines for an empty text.
    """
    text = printable(text)
    size, smallest = sizes
    while size > smallest and len(wrap(text, face, size, available)) > lines:
        size = max(smallest, size - 0.5)
    found = wrap(text, face, size, available)
    if len(found) <= lines:
        return size, found
    shortest, longest = 0, len(text) - 1
    while shortest < longest:
        kept = (shortest + longest + 1) // 2
        if len(wrap(_without_middle(text, kept), face, size, available)) <= lines:
            shortest = kept
        else:
            longest = kept - 1
    return size, wrap(_without_middle(text, shortest), face, size, available)


def wrap(text: str, face: str, size: float, available: float) -> list[str]:
    """Lines no wider than ``available``; a word too long for a line is broken where it must be."""
    lines: list[str] = []
    line = ""
    for word in text.split():
        longer = f"{line} {word}" if line else word
        if width(longer, face, size) <= available:
            line = longer
            continue
        if line:
            lines.append(line)
        *whole, line = _broken(word, face, size, available)
        lines.extend(whole)
    return [*lines, line] if line else lines


def _broken(word: str, face: str, size: float, available: float) -> list[str]:
    if width(word, face, size) <= available:
        return [word]
    widths = itertools.accumulate(width(sign, face, size) for sign in word)
    kept = max(1, sum(1 for reach in widths if reach <= available))
    if kept == len(word):
        return [word]
    return [word[:kept], *_broken(word[kept:], face, size, available)]


def _without_middle(text: str, kept: int) -> str:
    """``kept`` characters of both ends, cut between words where that leaves a word at each."""
    head = text[: (kept + 1) // 2]
    tail = text[len(text) - kept // 2 :] if kept > 1 else ""
    if text[len(head)] != " " and " " in head.strip():
        head = head[: head.rstrip().rindex(" ")]
    if tail and text[-len(tail) - 1] != " " and " " in tail.strip():
        tail = tail[tail.lstrip().index(" ") + len(tail) - len(tail.lstrip()) :]
    head, tail = head.rstrip(), tail.lstrip()
    return f"{head} … {tail}" if " " in text else f"{head}…{tail}"
