"""A lift from the side and from aft: hook, legs with angle and pull, the middle of mass, warnings.

The same drawing as on the phone (pwa/src/screens/lift/liftViews.ts): both views at one scale.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from reportlab.platypus import Flowable

from shedtally.domain.lifting.lifts import OVER
from shedtally.domain.lifting.lists import LiftLeg, LiftLine, Reach
from shedtally.printing.figures import number
from shedtally.printing.letters import MM, STRONG, TEXT
from shedtally.printing.paper import INK, PENCIL, RED_LEAD, SMALL_PT, WIDTH_MM

SIDE_MM = 46.0  # so that a lift of four legs stands on one page, its cautions too
TOP_MM, FOOT_MM = 15.0, 9.0
OUTSIDE_M = 0.12
LABEL_MM = 9.0


@dataclass(frozen=True, slots=True)
class _View:
    """One view: what lies across it, in metres; ``axis`` 0 along the boat, 1 across her."""

    title: str
    axis: int
    hook: float
    middle: Reach
    eyes: tuple[float, ...]

    @property
    def span(self) -> tuple[float, float]:
        found = (self.hook, self.middle.low, self.middle.high, *self.eyes)
        return min(found) - OUTSIDE_M, max(found) + OUTSIDE_M


class LiftPicture(Flowable):
    """A lift that was reckoned, in both views."""

    def __init__(self, lift: LiftLine) -> None:
        super().__init__()
        self._lift = lift
        self.width, self.height = WIDTH_MM * MM, (SIDE_MM + TOP_MM + FOOT_MM) * MM

    def wrap(self, *_: Any) -> tuple[float, float]:  # noqa: ANN401  # as reportlab calls it
        """Its size, whatever room there is."""
        return self.width, self.height

    def draw(self) -> None:
        """Both views side by side, at one scale."""
        lift = self._lift
        views = (
            _View("From the side, bow left", 0, lift.hook[0], lift.centre[0],
                  tuple(leg.aft_m for leg in lift.legs)),
            _View("From aft", 1, lift.hook[1], lift.centre[1],
                  tuple(leg.off_m for leg in lift.legs)),
        )  # fmt: skip
        foot = _foot(lift)
        wide = max(view.span[1] - view.span[0] for view in views)
        scale = SIDE_MM * MM / max(lift.hook[2] - foot, wide, 0.1)
        for at, view in enumerate(views):
            self.canv.saveState()
            self.canv.translate((at + 0.5) * self.width / 2, (SIDE_MM + FOOT_MM) * MM)
            self._view(view, scale, foot)
            self.canv.restoreState()

    def _view(self, view: _View, scale: float, foot: float) -> None:
        """Drawn from the hook, which is at height 0; the middle of the span at 0 across."""
        lift, canvas = self._lift, self.canv
        between = sum(view.span) / 2

        def x(metres: float) -> float:
            return (metres - between) * scale

        def y(metres: float) -> float:
            return (metres - lift.hook[2]) * scale

        canvas.setFillColor(PENCIL)
        canvas.setFont(TEXT, SMALL_PT)
        canvas.drawCentredString(0, 11 * MM, view.title)
        canvas.setStrokeColor(PENCIL)
        canvas.setLineWidth(0.5)
        canvas.setDash(1.5, 2)
        canvas.line(x(view.hook), 0, x(view.hook), y(foot))
        left = x(min(*view.eyes, view.middle.low) - OUTSIDE_M)
        right = x(max(*view.eyes, view.middle.high) + OUTSIDE_M)
        canvas.setDash(4, 3)
        top = y(max(leg.up_m for leg in lift.legs))
        canvas.rect(left, y(foot), right - left, top - y(foot))
        canvas.setDash()
        spots = [(x(at), y(leg.up_m)) for at, leg in zip(view.eyes, lift.legs, strict=True)]
        for leg, spot in zip(lift.legs, spots, strict=True):
            self._leg(leg, (x(view.hook), 0.0), spot)
        self._hook(x(view.hook))
        self._labels(view, x(view.hook), spots)
        middle = (x(view.middle.low), x(view.middle.likely), x(view.middle.high))
        self._middle(middle, y(lift.centre[2].likely))
        self._never(left, right, y(foot))

    def _hook(self, x: float) -> None:
        canvas = self.canv
        canvas.setStrokeColor(INK)
        canvas.setLineWidth(1.6)
        canvas.line(x, 7 * MM, x, 2.6 * MM)
        canvas.arc(x - 1.5 * MM, -0.4 * MM, x + 1.5 * MM, 2.6 * MM, startAng=90, extent=270)

    def _leg(self, leg: LiftLeg, hook: tuple[float, float], eye: tuple[float, float]) -> None:
        canvas, over = self.canv, leg.verdict == OVER
        canvas.setStrokeColor(RED_LEAD if over else INK)
        canvas.setLineWidth(2.4 if over else 1.3)
        if over:
            canvas.setDash(5, 2)
        canvas.line(*hook, *eye)
        canvas.setDash()
        canvas.setLineWidth(1.0)
        canvas.setFillGray(1)
        canvas.circle(*eye, 1.1 * MM, fill=1)

    def _labels(self, view: _View, hook: float, spots: Sequence[tuple[float, float]]) -> None:
        """Half-way along each leg, in the view that shows more of it; moved down where two meet."""
        canvas, lift = self.canv, self._lift
        last = {True: math.inf, False: math.inf}
        for at, (leg, (x, y)) in enumerate(zip(lift.legs, spots, strict=True), start=1):
            along = abs(leg.aft_m - lift.hook[0]) >= abs(leg.off_m - lift.hook[1])
            if along != (view.axis == 0):
                continue
            left = x < hook
            height = min(y / 2, last[left] - LABEL_MM * MM)
            last[left] = height
            over = leg.verdict == OVER
            canvas.setFillColor(RED_LEAD if over else INK)
            canvas.setFont(STRONG, SMALL_PT)
            draw = canvas.drawRightString if left else canvas.drawString
            to = (hook + x) / 2 + (-4 if left else 4) * MM
            draw(to, height, f"{at}: {number(leg.angle_deg)}°")
            draw(to, height - 3.9 * MM, f"{number(leg.tension_kg)} kg{', over' if over else ''}")

    def _middle(self, across: tuple[float, float, float], y: float) -> None:
        """The middle of mass as a quartered circle, and a bar for how far it may be off."""
        canvas, (low, likely, high), size = self.canv, across, 1.8 * MM
        canvas.setStrokeColor(INK)
        canvas.setLineWidth(0.8)
        canvas.line(low, y, high, y)
        for end in (low, high):
            canvas.line(end, y - 1.2 * MM, end, y + 1.2 * MM)
        canvas.setFillGray(1)
        canvas.circle(likely, y, size, fill=1)
        canvas.setFillColor(INK)
        for start in (0, 180):
            canvas.wedge(likely - size, y - size, likely + size, y + size, start, 90, fill=1)

    def _never(self, left: float, right: float, foot: float) -> None:
        canvas = self.canv
        canvas.setStrokeColor(RED_LEAD)
        canvas.setLineWidth(3)
        canvas.setDash(3, 3)
        canvas.line(left - 2 * MM, foot - 2.5 * MM, right + 2 * MM, foot - 2.5 * MM)
        canvas.setDash()
        canvas.setFillColor(RED_LEAD)
        canvas.setFont(STRONG, SMALL_PT)
        canvas.drawCentredString((left + right) / 2, foot - 7 * MM, "nobody under it")


def _foot(lift: LiftLine) -> float:
    """As far under the middle of mass as the highest eye is over it, halved, and never nothing."""
    eyes, middle = [leg.up_m for leg in lift.legs], lift.centre[2].likely
    return min(middle, *eyes) - max(0.15, max(eyes) - middle) / 2
