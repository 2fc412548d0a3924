"""How many hours are left and when that ends, with a spread, by simulation with a fixed seed.

Each trial draws a pace (log-normal), the sum of all steps, and then weeks as this crew has worked
them. A step's hours are taken by the three-point rule of PERT (D. G. Malcolm and others, 1959):
mean (a + 4 m + b) / 6, variance ((b - a) / 6) squared; sums of many are close to normal. The same
records give the same answer, and a faster pace never a later end: the draws are the same.
"""

from __future__ import annotations

import datetime as dt
import itertools
import math
import operator
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from random import Random

from shedtally.domain.rulebook import Three
from shedtally.domain.work.pace import TWO_SIDED, Pace, monday
from shedtally.domain.work.steps import Step

SEED = 20260829
TRIALS = 600
# Further ahead nobody believes a date.
MOST_WEEKS = 260
AT_A_TIME = 29


@dataclass(frozen=True, slots=True)
class WeekAhead:
    """Person hours left at the end of a week that begins on ``monday``."""

    monday: str
    low: float
    likely: float
    high: float


@dataclass(frozen=True, slots=True)
class Forecast:
    """Person hours left and the day of finishing; eight of ten trials lie between low and high.

    A day is None if so many trials did not end within five years.
    """

    hours_low: float
    hours_likely: float
    hours_high: float
    early: str | None
    likely: str | None
    late: str | None
    weeks: tuple[WeekAhead, ...]
    from_own_pace: bool
    from_own_weeks: bool


def pert(hours: Three) -> tuple[float, float]:
    """Mean and variance of a three-point estimate, in hours and hours squared."""
    mean = (hours.low + 4 * hours.likely + hours.high) / 6
    return mean, ((hours.high - hours.low) / 6) ** 2


def forecast(steps: Iterable[Step], pace: Pace, today: dt.date) -> Forecast:
    """Hours and date of finishing all steps.

    Source of the method: PERT, as above; quantiles are read off the sorted trials.
    """
    mean, deviation = _sum_of(steps)
    draws = Random(SEED)  # noqa: S311  # a simulation, no secret
    mu = math.log(pace.share.likely)
    sigma = (math.log(pace.share.high) - math.log(pace.share.low)) / (2 * TWO_SIDED)
    weeks = _weeks(pace)
    totals: list[float] = []
    courses: list[Sequence[float]] = []
    for _ in range(TRIALS):
        share = math.exp(mu + sigma * draws.gauss(0.0, 1.0))
        total = share * max(0.0, mean + deviation * draws.gauss(0.0, 1.0))
        totals.append(total)
        # A generator for each trial: how many weeks one takes must not move the next one's draws.
        courses.append(_course(total, weeks, Random(draws.getrandbits(64))))  # noqa: S311
    ends = sorted(len(course) for course in courses)
    totals.sort()
    return Forecast(
        hours_low=_quantile(totals, 0.1),
        hours_likely=_quantile(totals, 0.5),
        hours_high=_quantile(totals, 0.9),
        early=_day(int(_quantile(ends, 0.1)), today),
        likely=_day(int(_quantile(ends, 0.5)), today),
        late=_day(int(_quantile(ends, 0.9)), today),
        weeks=_band(courses, today),
        from_own_pace=pace.sittings > 0,
        from_own_weeks=bool(pace.weeks),
    )


def _sum_of(steps: Iterable[Step]) -> tuple[float, float]:
    """Mean and standard deviation of the person hours of all steps."""
    mean = variance = 0.0
    for step in steps:
        own, spread = pert(step.toll.hours)
        mean += own * step.toll.people
        variance += spread * step.toll.people**2
    return mean, math.sqrt(variance)


def _course(total: float, weeks: Sequence[float], draws: Random) -> list[float]:
    """Hours left at the end of each week until none are; cut off after `MOST_WEEKS`."""
    left = total
    course: list[float] = []
    if left <= 0:
        return course
    # A few weeks at a time: most work ends long before the last that could be drawn.
    while len(course) <= MOST_WEEKS:
        drawn = draws.choices(weeks, k=min(AT_A_TIME, MOST_WEEKS + 1 - len(course)))
        ahead = list(itertools.accumulate(drawn, operator.sub, initial=left))[1:]
        if ahead[-1] <= 0:
            ended = next(at for at, value in enumerate(ahead) if value <= 0)
            return [*course, *ahead[:ended], 0.0]
        course += ahead
        left = ahead[-1]
    return course


def _weeks(pace: Pace) -> Sequence[float]:
    """What a week may bring: those that were worked, else the usual one in a hundred sizes."""
    if pace.weeks:
        return pace.weeks
    low, likely, high = pace.usual_week
    return [_triangular((at + 0.5) / 100, low, likely, high) for at in range(100)]


def _triangular(share: float, low: float, likely: float, high: float) -> float:
    """The value below which this share of a triangular distribution lies."""
    if high <= low:
        return likely
    if share <= (likely - low) / (high - low):
        return low + math.sqrt(share * (high - low) * (likely - low))
    return high - math.sqrt((1 - share) * (high - low) * (high - likely))


def _band(courses: Sequence[Sequence[float]], today: dt.date) -> tuple[WeekAhead, ...]:
    """The spread of the hours left, week by week, until nine of ten trials have ended."""
    last = int(_quantile(sorted(len(course) for course in courses), 0.9))
    start = monday(today)
    band: list[WeekAhead] = []
    weeks = itertools.zip_longest(*courses, fillvalue=0.0)
    for week, lefts in enumerate(itertools.islice(weeks, min(last, MOST_WEEKS))):
        left = sorted(lefts)
        low, likely, high = (_quantile(left, share) for share in (0.1, 0.5, 0.9))
        day = start + dt.timedelta(weeks=week)
        band.append(WeekAhead(day.isoformat(), low, likely, high))
    return tuple(band)


def _quantile(ordered: Sequence[float], share: float) -> float:
    return ordered[min(len(ordered) - 1, int(share * len(ordered)))]


def _day(weeks: int, today: dt.date) -> str | None:
    """The Sunday of the week in which the work ends; today if nothing is left."""
    if weeks == 0:
        return today.isoformat()
    if weeks > MOST_WEEKS:
        return None
    return (monday(today) + dt.timedelta(weeks=weeks, days=-1)).isoformat()
