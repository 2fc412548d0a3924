"""Where things stand on a tag, in mm from its lower left corner. Pure geometry, no drawing.

A *lying* tag hangs by its left end: symbols left and right, the code in two rows between them,
words in a strip below. A *hanging* tag (rolls) hangs by its top: symbol, code, words, symbol.
"""

from __future__ import annotations

from dataclasses import dataclass

from shedtally.printing.letters import CAP_HEIGHT, MM, WIDEST_IN_CODE

END_MM = 10.0  # the end with the hole, or with the word of a place or container
EDGE_MM = 2.5  # room for the frame, and for a cut that runs off the line
SYMBOL_MM = 30.0  # wished side with quiet zone: 0.81 mm a module at 29 modules
LARGEST_SYMBOL_MM = 44.0
LOWEST_CODE_MM = 6.0  # capital height
HIGHEST_CODE_MM = 13.0
WORDS_MM = 15.0
LOWEST_WORDS_MM = 7.0
ROOM_MM = 1.6


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle: lower left corner, width and height, in mm."""

    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Layout:
    """One tag. ``code_at`` holds the middle of the baseline of each sign that is printed."""

    width: float
    height: float
    lying: bool
    hole: tuple[float, float]
    symbols: tuple[Box, Box]
    code_at: tuple[tuple[float, float], ...]
    code_height: float
    words: Box

    @property
    def code_size_pt(self) -> float:
        """The size of the code's letters in points."""
        return self.code_height / CAP_HEIGHT * MM


class TagTooSmall(ValueError):
    """Symbols of this many modules leave no room for a legible code on this tag."""


def layout(width: float, height: float, symbol_mm: float) -> Layout:
    """Lay a tag out.

    Args: width, height: of the tag; symbol_mm: smallest side of a symbol, quiet zone included.
    Raises: TagTooSmall: the code would be lower than 6 mm.
    """
    made = (
        _lying(width, height, symbol_mm) if width > height else _hanging(width, height, symbol_mm)
    )
    if made.code_height < LOWEST_CODE_MM or made.words.height < LOWEST_WORDS_MM:
        raise TagTooSmall
    return made


def _lying(width: float, height: float, symbol_mm: float) -> Layout:
    side = max(symbol_mm, SYMBOL_MM)
    y = height - EDGE_MM - side
    left = Box(END_MM, y, side, side)
    right = Box(width - EDGE_MM - side, y, side, side)
    start = left.x + side
    cell = (right.x - start) / 3
    tall = min(HIGHEST_CODE_MM, cell / WIDEST_IN_CODE * CAP_HEIGHT)
    middle = y + side / 2
    rows = (middle + tall * 0.28, middle - tall * 1.28)
    return Layout(
        width=width,
        height=height,
        lying=True,
        hole=(END_MM / 2 + 0.5, height / 2),
        symbols=(left, right),
        code_at=tuple((start + cell * (at % 3 + 0.5), rows[at // 3]) for at in range(6)),
        code_height=tall,
        words=Box(END_MM + 3, EDGE_MM, width - END_MM - 7, y - EDGE_MM - 1),
    )


def _hanging(width: float, height: float, symbol_mm: float) -> Layout:
    room = width - 4
    cell = room / 6.5  # six signs, and half a cell for the hyphen
    tall = min(HIGHEST_CODE_MM, cell / WIDEST_IN_CODE * CAP_HEIGHT)
    cell = min(cell, tall / CAP_HEIGHT * WIDEST_IN_CODE / 0.9)
    spare = height - END_MM - EDGE_MM - tall - 0.5 - 2 * ROOM_MM
    side = max(symbol_mm, min(LARGEST_SYMBOL_MM, room, (spare - WORDS_MM) / 2))
    x = (width - side) / 2
    upper = Box(x, height - END_MM - side, side, side)
    lower = Box(x, EDGE_MM, side, side)
    baseline = upper.y - tall - 0.5  # round letters stand over the line
    start = (width - 6.5 * cell) / 2
    steps = (0.5, 1.5, 2.5, 3.25, 4.0, 5.0, 6.0)
    words_y = lower.y + side + ROOM_MM / 2
    return Layout(
        width=width,
        height=height,
        lying=False,
        hole=(width / 2, height - END_MM / 2 - 0.5),
        symbols=(upper, lower),
        code_at=tuple((start + cell * step, baseline) for step in steps),
        code_height=tall,
        words=Box(3.5, words_y, width - 7, baseline - words_y - ROOM_MM),
    )
