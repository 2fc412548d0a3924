"""How full a trunking or conduit gets of the cables in it, against the share that is practice."""

from __future__ import annotations

import itertools
import math
import re
from dataclasses import dataclass, field

from shedtally.domain.measures.reading import Size
from shedtally.domain.rulebook.wiring import FillRules

_RECTANGLE = re.compile(
    r"(?<![0-9.,])([0-9]+(?:[.,][0-9]+)?)\s*(?:mm)?\s*x\s*([0-9]+(?:[.,][0-9]+)?)"
)
_CIRCLE = re.compile(r"(?<![0-9.,])([0-9]+(?:[.,][0-9]+)?)\s*mm\b")
LEAST_MM, MOST_MM = 5.0, 500.0


@dataclass(frozen=True, slots=True)
class Inside:
    """The inside of a trunking or conduit: its area in mm2, and whether it is round."""

    mm2: float
    is_round: bool


@dataclass(slots=True)
class Filling:
    """What lies in one trunking: mm2 taken, and the names of runs whose size nobody knows."""

    mm2: float = 0.0
    unknown: list[str] = field(default_factory=list)


def inside_of(text: str) -> Inside | None:
    """The inside by what was written: ``40 x 25 mm`` a trunking, ``25 mm`` a conduit.

    None where no measures stand in it, or none from 5 to 500 mm.

    >>> inside_of("Port, 40 x 25 mm")
    Inside(mm2=1000.0, is_round=False)
    """
    folded = text.lower().replace("\u00d7", "x")
    found = _RECTANGLE.search(folded) or _CIRCLE.search(folded)
    if found is None:
        return None
    measures = [float(part.replace(",", ".")) for part in found.groups()]
    if not all(LEAST_MM <= mm <= MOST_MM for mm in measures):
        return None
    if len(measures) == 1:
        return Inside(math.pi / 4 * measures[0] ** 2, True)
    return Inside(measures[0] * measures[1], False)


def space_mm2(cable: Size | None, *, sheathed: bool, rules: FillRules) -> float | None:
    """The space that one cable takes, in mm2; None where its size or make isn't in the tables.

    Args: sheathed: two cores in one sheath where the size names one core only.
    Source: [CABLECAP] for one core of 1.5 to 25 mm2 (thinner ones count as 1.5 mm2, thicker ones
        in proportion to the last); several cores as the circle around them with a sheath.
    """
    if cable is None or not cable.mm2:
        return None
    cores = 2 if sheathed and cable.cores == 1 else cable.cores
    if cores > len(rules.lay_up):
        return None
    one = _core_mm2(cable.mm2, rules)
    if cores == 1:
        return one
    diameter = math.sqrt(4 * one / math.pi) * rules.lay_up[cores - 1] + 2 * rules.sheath_mm
    return math.pi / 4 * diameter**2


def how_full(name: str, filling: Filling, rules: FillRules) -> tuple[str, bool]:
    """How full it gets, in a sentence, and whether that is more than is practice.

    Source: [SPACE45] for trunking, [SPACE35] for conduit.
    """
    inside = inside_of(name)
    if inside is None or not filling.mm2:
        return "", False
    sort, most = ("conduit", rules.conduit) if inside.is_round else ("trunking", rules.trunking)
    share = filling.mm2 / inside.mm2
    too_full = share > most
    said = (
        f"Cables take {math.ceil(filling.mm2):g} of {inside.mm2:.0f} mm2 inside, "
        f"{100 * share:.0f} %; {sort} is filled up to {100 * most:.0f} %"
    )
    if too_full:
        least = math.ceil(filling.mm2 / most / 10) * 10
        said += f": take one of {least} mm2 inside or more, or divide the cables"
    left_out = f" Not counted, for want of a size: {', '.join(filling.unknown)}."
    return f"{said}.{left_out if filling.unknown else ''}", too_full


def _core_mm2(mm2: float, rules: FillRules) -> float:
    rows = rules.cores
    if mm2 <= rows[0][0]:
        return rows[0][1]
    for (thin, least), (thick, most) in itertools.pairwise(rows):
        if mm2 <= thick:
            return least + (most - least) * (mm2 - thin) / (thick - thin)
    return rows[-1][1] * mm2 / rows[-1][0]
