"""Charts: work left week by week with a forecast as a band, hours put in, kilograms a month.

Two colours, direct labels, axes from zero. The band is hatched as well as tinted, so that a grey
copy loses nothing.
"""

from __future__ import annotations

import datetime as dt
import itertools
import math
from collections.abc import Sequence

from reportlab.lib.colors import HexColor, white
from reportlab.platypus import Flowable

from shedtally.domain.waste.box_lists import MonthLine
from shedtally.domain.work.forecast import WeekAhead
from shedtally.domain.work.progress import WeekDone
from shedtally.printing.letters import MM, STRONG, TEXT
from shedtally.printing.paper import HAIR, INK, PENCIL, SMALL_PT, VERDIGRIS, WIDTH_MM

BAND = HexColor("#D5E3DD")
LEFT_MM, FOOT_MM = 14.0, 7.0
# What the axis counts, and under it the figure on a bar that reaches the highest line.
TOP_MM = 9.0


def nice_step(highest: float, most: int = 5) -> float:
    """A round step (1, 2 or 5 times a power of ten) that parts 0 to ``highest`` into few parts."""
    if highest <= 0:
        return 1.0
    rough = highest / most
    power = 10.0 ** math.floor(math.log10(rough))
    return next(step * power for step in (1.0, 2.0, 5.0, 10.0) if step * power >= rough)


class _Chart(Flowable):
    """Axes with weeks along the foot and a value from zero up the side."""

    def __init__(self, height_mm: float, mondays: Sequence[dt.date], highest: float) -> None:
        super().__init__()
        self.width, self.height = WIDTH_MM * MM, height_mm * MM
        self._mondays = mondays
        self._step = nice_step(highest)
        self._top = max(self._step, math.ceil(highest / self._step) * self._step)

    def wrap(self, available_width: float, available_height: float) -> tuple[float, float]:
        """The size given."""
        return self.width, self.height

    def _x(self, at: float) -> float:
        room = self.width - LEFT_MM * MM - 2
        return float(LEFT_MM * MM + room * at / max(1, len(self._mondays)))

    def _y(self, value: float) -> float:
        room = self.height - (FOOT_MM + TOP_MM) * MM
        return float(FOOT_MM * MM + room * value / self._top)

    def _axes(self, unit: str) -> None:
        canvas = self.canv
        canvas.setFont(TEXT, SMALL_PT)
        canvas.setFillColor(PENCIL)
        canvas.setStrokeColor(HAIR)
        canvas.setLineWidth(0.25)
        value = 0.0
        while value <= self._top + 1e-9:
            canvas.line(LEFT_MM * MM, self._y(value), self.width, self._y(value))
            canvas.drawRightString((LEFT_MM - 2) * MM, self._y(value) - 3, f"{value:g}")
            value += self._step
        canvas.drawString(0, self.height - SMALL_PT, unit)
        last = -1e9
        for at, monday in enumerate(self._mondays):
            first_of_month = monday.day <= 7
            if first_of_month and self._x(at) - last > 12 * MM:
                last = self._x(at)
                canvas.line(last, FOOT_MM * MM, last, FOOT_MM * MM - 3)
                canvas.drawString(last + 1, 2, f"{monday:%b %Y}")

    def _label(self, face: str, x: float, y: float, text: str) -> None:
        """Words at a point, moved left where they would leave the page."""
        self.canv.setFont(face, SMALL_PT)
        most = self.width - float(self.canv.stringWidth(text, face, SMALL_PT))
        self.canv.drawString(min(x, most), y, text)

    def _figure(self, middle: float, top: float, text: str) -> None:
        """What a bar stands for, over it, and never with a line of the chart through it."""
        canvas = self.canv
        wide = float(canvas.stringWidth(text, TEXT, SMALL_PT)) + 2
        canvas.setFillColor(white)
        canvas.rect(middle - wide / 2, top + 1, wide, SMALL_PT, stroke=0, fill=1)
        canvas.setFillColor(INK)
        canvas.setFont(TEXT, SMALL_PT)
        canvas.drawCentredString(middle, top + 2.5, text)


class BurnDown(_Chart):
    """Person hours left at the end of each week, and the forecast as a band."""

    def __init__(
        self, done: Sequence[WeekDone], ahead: Sequence[WeekAhead], height_mm: float = 62.0
    ) -> None:
        first = dt.date.fromisoformat((done or ahead)[0].monday)
        last = dt.date.fromisoformat((ahead or done)[-1].monday)
        weeks = (last - first).days // 7 + 1
        mondays = [first + dt.timedelta(weeks=at) for at in range(weeks)]
        highest = max([week.hours_left for week in done] + [week.high for week in ahead])
        super().__init__(height_mm, mondays, highest)
        self._done, self._ahead = done, ahead

    def draw(self) -> None:
        """Draw axes, band, line and what they are."""
        self._axes("person hours left by the estimates, at the end of each week")
        start = len(self._done) - 1 if self._done else 0
        now = self._done[-1].hours_left if self._done else self._ahead[0].high
        if self._ahead:
            self._band(start, now)
        canvas = self.canv
        canvas.setStrokeColor(INK)
        canvas.setLineWidth(1.4)
        points = [(self._x(at), self._y(week.hours_left)) for at, week in enumerate(self._done)]
        for (x1, y1), (x2, y2) in itertools.pairwise(points):
            canvas.line(x1, y1, x2, y2)
        if points:
            canvas.setFillColor(INK)
            canvas.circle(*points[-1], 2, stroke=0, fill=1)
            self._label(STRONG, points[-1][0] + 4, points[-1][1] + 4, f"{now:.0f} h left")

    def _band(self, start: int, now: float) -> None:
        canvas = self.canv
        steps = [(start, now, now, now)] + [
            (start + at, week.low, week.likely, week.high)
            for at, week in enumerate(self._ahead, start=1)
        ]
        path = canvas.beginPath()
        path.moveTo(self._x(steps[0][0]), self._y(steps[0][3]))
        for at, _, _, high in steps[1:]:
            path.lineTo(self._x(at), self._y(high))
        for at, low, _, _ in reversed(steps):
            path.lineTo(self._x(at), self._y(low))
        path.close()
        canvas.setFillColor(BAND)
        canvas.setStrokeColor(VERDIGRIS)
        canvas.setLineWidth(0.5)
        canvas.drawPath(path, stroke=1, fill=1)
        canvas.setDash(3, 2)
        canvas.setLineWidth(1)
        for (a, _, one, _), (b, _, other, _) in itertools.pairwise(steps):
            canvas.line(self._x(a), self._y(one), self._x(b), self._y(other))
        canvas.setDash()
        canvas.setFillColor(VERDIGRIS)
        middle = steps[len(steps) // 2]
        above = self._y(middle[3]) + 6
        self._label(TEXT, self._x(middle[0]) + 4, above, "8 of 10 trials lie in here")


class HoursByWeek(_Chart):
    """Person hours put in, week by week, as bars."""

    def __init__(self, done: Sequence[WeekDone], height_mm: float = 42.0) -> None:
        mondays = [dt.date.fromisoformat(week.monday) for week in done]
        super().__init__(height_mm, mondays, max(week.hours_put_in for week in done))
        self._done = done

    def draw(self) -> None:
        """Draw axes and bars, each with its hours."""
        self._axes("person hours put in")
        canvas = self.canv
        wide = self._x(1) - self._x(0)
        for at, week in enumerate(self._done):
            canvas.setFillColor(INK)
            high = self._y(week.hours_put_in) - self._y(0)
            canvas.rect(self._x(at) + wide * 0.15, self._y(0), wide * 0.7, high, stroke=0, fill=1)
            if week.hours_put_in and wide > 6 * MM:
                top = (self._x(at) + wide / 2, self._y(week.hours_put_in))
                self._figure(*top, f"{week.hours_put_in:.0f}")


class KilogramsByMonth(_Chart):
    """What came up in each month as bars: hazardous filled, the rest as an outline above it."""

    def __init__(self, months: Sequence[MonthLine], height_mm: float = 44.0) -> None:
        firsts = [dt.date.fromisoformat(f"{row.period}-01") for row in months]
        super().__init__(height_mm, firsts, max(row.came_up.likely for row in months))
        self._months = months

    def draw(self) -> None:
        """Draw axes and bars, each with its kilograms."""
        self._axes("kg that came up in each month; filled: hazardous")
        canvas = self.canv
        wide = min(self._x(1) - self._x(0), 24 * MM)
        canvas.setLineWidth(0.6)
        canvas.setStrokeColor(INK)
        for at, row in enumerate(self._months):
            left, foot = self._x(at) + wide * 0.15, self._y(0)
            canvas.setFillColor(INK)
            filled, whole = (
                self._y(kg) - foot for kg in (row.hazardous.likely, row.came_up.likely)
            )
            if filled:
                canvas.rect(left, foot, wide * 0.7, filled, stroke=0, fill=1)
            if whole:
                canvas.rect(left, foot, wide * 0.7, whole, stroke=1, fill=0)
                self._figure(left + wide * 0.35, foot + whole, f"{row.came_up.likely:.0f}")
