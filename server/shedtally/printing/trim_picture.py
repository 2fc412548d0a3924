"""The boat in profile and in section with the old and the new waterline, drawn with vectors."""

from __future__ import annotations

import math
from typing import Any

from reportlab.lib.colors import HexColor
from reportlab.platypus import Flowable

from shedtally.domain.floating.lists import BoatShape, Floats
from shedtally.printing.letters import MM
from shedtally.printing.paper import HAIR, INK

WATER = HexColor("#234F7A")
MOST_TIMES = 10
SHOWN_CM = 12.0
FREEBOARD, BEAM = 0.11, 0.32


def times_of(state: Floats) -> int:
    """By how much a change is drawn larger than it is, so that it can be seen: 1, 2, 5 or 10."""
    ends = [abs(end.likely) for end in (state.fore_cm, state.aft_cm) if end]
    largest = max([*ends, 0.1])
    return next((times for times in (1, 2, 5) if largest * times >= SHOWN_CM * 2), MOST_TIMES)


class TrimPicture(Flowable):
    """One state: the profile, and beside it the section with the list."""

    def __init__(self, shape: BoatShape, state: Floats) -> None:
        super().__init__()
        self._shape, self._state = shape, state
        self.width, self.height = 178 * MM, 46 * MM

    def wrap(self, *_: Any) -> tuple[float, float]:  # noqa: ANN401  # as reportlab calls it
        """Its size, whatever room there is."""
        return self.width, self.height

    def draw(self) -> None:
        """Hull thin, old waterline thin, new one heavy."""
        length = self._shape.length_m or 1.0
        scale = 120 * MM / length
        water = 16 * MM
        self._profile(length, scale, water)
        self._section(length, scale, water)

    def _profile(self, length: float, scale: float, water: float) -> None:
        canvas, shape = self.canv, self._shape
        draught = (shape.draught_m or length * 0.14) * scale
        line = (shape.waterline_m or length * 0.85) * scale
        bow = (shape.overhang_m or 0.0) * scale
        top, end = length * FREEBOARD * scale, length * scale
        depth = min(draught, 14 * MM)
        canvas.setStrokeColor(INK)
        canvas.setLineWidth(0.7)
        hull = canvas.beginPath()
        hull.moveTo(0, water + top * 1.25)
        hull.lineTo(bow, water)
        keel, low = bow + line * 0.75, water - depth
        hull.curveTo(bow + line * 0.2, low, bow + line * 0.4, low, keel, low)
        hull.lineTo(bow + line, water)
        hull.lineTo(end, water + top)
        hull.curveTo(end * 0.7, water + top * 0.85, end * 0.3, water + top, 0, water + top * 1.25)
        canvas.drawPath(hull)
        self._line(bow, bow + line, water)

    def _line(self, fore: float, aft: float, water: float) -> None:
        canvas, state = self.canv, self._state
        canvas.setLineWidth(0.4)
        canvas.setStrokeColor(HAIR)
        canvas.line(fore - 4 * MM, water, aft + 4 * MM, water)
        if not (state.fore_cm and state.aft_cm):
            return
        scale = 120 * MM / (self._shape.length_m or 1.0) * times_of(state) / 100
        canvas.setStrokeColor(WATER)
        canvas.setLineWidth(1.4)
        canvas.line(
            fore, water + state.fore_cm.likely * scale, aft, water + state.aft_cm.likely * scale
        )

    def _section(self, length: float, scale: float, water: float) -> None:
        canvas, state = self.canv, self._state
        half = (self._shape.beam_m or length * BEAM) / 2 * scale
        top, depth, at = length * FREEBOARD * scale, min(14 * MM, half), 154 * MM
        heel = math.radians(state.list_deg.likely) if state.list_deg else 0.0
        canvas.saveState()
        canvas.translate(at, water)
        canvas.setStrokeColor(HAIR)
        canvas.setLineWidth(0.4)
        canvas.line(-half - 3 * MM, 0, half + 3 * MM, 0)
        # Seen from aft, starboard is to the right; a list to starboard turns clockwise.
        canvas.rotate(-math.degrees(heel))
        canvas.setStrokeColor(INK)
        canvas.setLineWidth(0.7)
        hull = canvas.beginPath()
        hull.moveTo(-half, top)
        hull.curveTo(-half, 0, -half * 0.7, -depth * 0.5, 0, -depth)
        hull.curveTo(half * 0.7, -depth * 0.5, half, 0, half, top)
        hull.close()
        canvas.drawPath(hull)
        canvas.line(0, -depth, 0, top * 2)
        canvas.restoreState()
