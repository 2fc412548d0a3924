"""Wire gauge: the number on the reel and the copper it stands for."""

from __future__ import annotations

import math
import re

from shedtally.domain.measures.unreadable import Unreadable

THICKEST, THINNEST = -3, 40


def gauge_from_text(text: str) -> tuple[int, str]:
    """The gauge as a number (4/0 is -3, 1/0 is 0) and as it is shown.

    Raises: Unreadable: outside 4/0 to 40, or in no known form.

    >>> gauge_from_text("2/0"), gauge_from_text("00"), gauge_from_text("12")
    ((-1, '2/0'), (-1, '2/0'), (12, '12'))
    """
    if found := re.fullmatch("([1-4])/0", text):
        return 1 - int(found[1]), text
    if re.fullmatch("0{1,4}", text):
        return 1 - len(text), f"{len(text)}/0"
    if re.fullmatch("[1-9][0-9]?", text) and int(text) <= THINNEST:
        return int(text), text
    raise Unreadable(f"{text} is no wire gauge; AWG runs from 4/0 to 40, like AWG 12 or 2/0 AWG")


def gauge_diameter_mm(gauge: int) -> float:
    """Diameter of the solid wire of a gauge, in mm.

    Args: gauge: -3 (4/0) to 40.
    Source: ASTM B258, d = 0.005 in * 92 ** ((36 - n) / 39).

    >>> round(gauge_diameter_mm(12), 4)
    2.0525
    """
    return float(0.127 * 92.0 ** ((36 - gauge) / 39))


def round_area_mm2(diameter_mm: float) -> float:
    """Area of a circle, in mm2."""
    return math.pi / 4 * diameter_mm**2
