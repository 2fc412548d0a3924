"""Several signs in a given room: side by side, or in a zigzag with edges along each other."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

GAP_MM = 1.2


@dataclass(frozen=True, slots=True)
class Placed:
    """Signs with the middles of their squares in mm from the lower left of the room they take."""

    side: float
    width: float
    height: float
    middles: tuple[tuple[str, tuple[float, float]], ...]


def place_signs(signs: Sequence[str], width: float, height: float, wanted: float) -> Placed:
    """The signs with sides as wanted, or as large as the room allows; all lengths in mm."""
    if not signs:
        return Placed(wanted, 0.0, 0.0, ())
    row, zigzag = _row(signs, width, height, wanted), _zigzag(signs, width, height, wanted)
    return row if row.side >= zigzag.side else zigzag


def _row(signs: Sequence[str], width: float, height: float, wanted: float) -> Placed:
    count = len(signs)
    across = min(wanted * math.sqrt(2), height, (width - GAP_MM * (count - 1)) / count)
    step = across + GAP_MM
    middles = tuple((sign, (across / 2 + at * step, across / 2)) for at, sign in enumerate(signs))
    return Placed(across / math.sqrt(2), across + step * (count - 1), across, middles)


def _zigzag(signs: Sequence[str], width: float, height: float, wanted: float) -> Placed:
    """Every other sign half a diagonal lower: edges lie along each other, a gap apart."""
    count = len(signs)
    gap = GAP_MM * math.sqrt(0.5)
    across = min(
        wanted * math.sqrt(2),
        (width - gap * (count - 1)) / ((count + 1) / 2),
        (height - gap) / 1.5,
    )
    step = across / 2 + gap
    low, high = across / 2, across / 2 + step
    middles = tuple(
        (sign, (across / 2 + at * step, low if at % 2 else high)) for at, sign in enumerate(signs)
    )
    return Placed(across / math.sqrt(2), across + step * (count - 1), across + step, middles)
