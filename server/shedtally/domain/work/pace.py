"""How fast this crew is beside the estimates, and how many hours a week it puts in.

Both start from what is usual (rules/effort.toml) and give way to what was logged. Pace is a share:
1.5 means that work takes one and a half times as long as estimated. It is multiplied, so its
logarithm is what is averaged: the usual and the logged count by how sure each is.
"""

from __future__ import annotations

import datetime as dt
import math
from collections import defaultdict
from dataclasses import dataclass

from shedtally.domain.aboard.out import is_to_take_out
from shedtally.domain.boat import BoatRecords
from shedtally.domain.records import Item
from shedtally.domain.rulebook import Rules, Three
from shedtally.domain.work.effort import toll_of_item, toll_of_job

# 95 % of a normal distribution lie within so many standard deviations.
TWO_SIDED = 1.96
# One sitting may take half or double of what its work was estimated at.
ONE_SITTING = 0.6
WEEKS_LOOKED_AT = 12


@dataclass(frozen=True, slots=True)
class Pace:
    """Share of the estimates; ``sittings`` logged, 0 while it is all estimated.

    ``weeks``: person hours of each of the last calendar weeks, oldest first; empty while fewer
    than three have been worked, then ``usual_week`` counts.
    """

    share: Three
    sittings: int
    logged_hours: float
    estimated_hours: float
    weeks: tuple[float, ...]
    usual_week: Three


def pace_of(boat: BoatRecords, rules: Rules, today: dt.date) -> Pace:
    """The pace of a crew as of a day."""
    usual = rules.efforts.pace
    logged: defaultdict[dt.date, float] = defaultdict(float)
    sittings, hours = 0, 0.0
    for work in boat.works.values():
        day = day_of(work.on)
        if day is None or not work.hours or day > today:
            continue
        put_in = work.hours * (work.people or 1)
        logged[monday(day)] += put_in
        hours += put_in
        sittings += 1
    estimated = _done_hours(boat, rules)
    return Pace(
        share=_share(usual, hours, estimated, sittings),
        sittings=sittings if estimated else 0,
        logged_hours=hours,
        estimated_hours=estimated,
        weeks=_weeks(logged, today),
        usual_week=rules.efforts.week,
    )


def monday(day: dt.date) -> dt.date:
    """The Monday of a day's week (ISO 8601)."""
    return day - dt.timedelta(days=day.weekday())


def day_of(moment: str | None) -> dt.date | None:
    """The calendar day of a moment as it was written; None where there is none."""
    try:
        return dt.date.fromisoformat(moment[:10]) if moment else None
    except ValueError:
        return None


def _share(usual: Three, hours: float, estimated: float, sittings: int) -> Three:
    """The usual and the logged share, each weighted by how sure it is."""
    mean = math.log(usual.likely)
    spread = (math.log(usual.high) - math.log(usual.low)) / (2 * TWO_SIDED)
    if hours > 0 and estimated > 0 and sittings:
        own = ONE_SITTING**2 / sittings
        weight = spread**2 / (spread**2 + own)
        mean += weight * (math.log(hours / estimated) - mean)
        spread = math.sqrt(spread**2 * own / (spread**2 + own))
    return Three(*(math.exp(mean + way * TWO_SIDED * spread) for way in (-1, 0, 1)))


def _came_out(item: Item) -> bool:
    return not item.never_aboard and not is_to_take_out(item)


def _done_hours(boat: BoatRecords, rules: Rules) -> float:
    """What all that is done was estimated at, in person hours."""
    tolls = [toll_of_item(item, rules) for item in boat.items.values() if _came_out(item)]
    tolls += [toll_of_job(job, rules) for job in boat.jobs.values() if job.done_at]
    return math.fsum(toll.hours.likely * toll.people for toll in tolls)


def _weeks(logged: dict[dt.date, float], today: dt.date) -> tuple[float, ...]:
    """Weeks in which nothing was done count as well: they come again."""
    worked = [day for day in logged if logged[day]]
    if len(worked) < 3:
        return ()
    this = monday(today)
    first = max(min(worked), this - dt.timedelta(weeks=WEEKS_LOOKED_AT))
    # The week that is still going on says nothing yet, unless it is all there is.
    count = max(1, (this - first).days // 7)
    return tuple(logged.get(first + dt.timedelta(weeks=week), 0.0) for week in range(count))
