"""Ring terminals: which barrel a conductor wants and which ring a stud."""

from __future__ import annotations

import functools
import re

from shedtally.domain.measures.reading import parse_size
from shedtally.domain.measures.unreadable import Unreadable
from shedtally.domain.rulebook.wiring import WireRules

# Studs that are named by a number of thread, in mm. Source: [RINGS], 0.138, 0.164 and 0.190 in.
NUMBERED = {"#6": 3.5, "#8": 4.17, "#10": 4.83}
SAME_MM2 = 1e-5
_METRIC = re.compile(r"m([0-9]+(?:[.,][0-9]+)?)")


def ring_for(mm2: float | None, stud: str | None, rules: WireRules) -> str:
    """The ring terminal for a conductor and a stud, in words to order by; what is open is said.

    Args: mm2: one conductor, None if unknown; stud: as it was written, like M8 or 5/16 in.

    Source: [RINGS]; from 16 mm2 common practice.
    """
    if not mm2:
        return "conductor open"
    barrel = next((row for row in rules.rings if mm2 <= row.up_to_mm2 + SAME_MM2), None)
    if barrel is None:
        return f"no common ring for {mm2:g} mm2: ask the supplier"
    if not stud or not stud.strip():
        return f"{barrel.barrel}; stud open"
    millimetres = _stud_mm(stud)
    if millimetres is None:
        return f"{barrel.barrel}; the stud {stud.strip()} can't be read: write M8 or 5/16 in"
    name = next((name for name in rules.studs if millimetres <= name + rules.ring_over_mm), None)
    if name not in barrel.studs:
        made = f"M{barrel.studs[0]:g} to M{barrel.studs[-1]:g}"
        return f"{barrel.barrel}; none common for the stud {stud.strip()}: {made}"
    return f"{barrel.barrel}; ring M{name:g}"


@functools.lru_cache(maxsize=1024)
def _stud_mm(text: str) -> float | None:
    plain = text.strip().lower().replace("no.", "#").replace(" ", "")
    if plain in NUMBERED:
        return NUMBERED[plain]
    if metric := _METRIC.fullmatch(plain):
        return float(metric[1].replace(",", "."))
    try:
        return parse_size(text).mm
    except Unreadable:
        return None
