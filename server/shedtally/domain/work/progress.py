"""How it went so far: pieces and hours left at the end of each week, and hours put in."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass

from shedtally.domain.aboard.out import is_to_take_out, pieces
from shedtally.domain.boat import BoatRecords
from shedtally.domain.rulebook import Rules
from shedtally.domain.work.effort import toll_of_item, toll_of_job
from shedtally.domain.work.pace import day_of, monday
from shedtally.domain.work.steps import Step


@dataclass(frozen=True, slots=True)
class WeekDone:
    """The end of the week that began on ``monday``; hours are person hours."""

    monday: str
    pieces_left: int
    hours_left: float
    hours_put_in: float


def progress(
    boat: BoatRecords, rules: Rules, today: dt.date, known: Mapping[str, Step] | None = None
) -> tuple[WeekDone, ...]:
    """Every week from the first work or item to this one; empty while nothing was done.

    What came out on a day that nobody wrote down counts from the first week on.

    Args: known: the open steps by target, where they have been made already.
    """
    put_in: defaultdict[dt.date, float] = defaultdict(float)
    for work in boat.works.values():
        day = day_of(work.on)
        if day and day <= today:
            put_in[monday(day)] += (work.hours or 0.0) * (work.people or 1)
    pieces_out: defaultdict[dt.date, int] = defaultdict(int)
    hours_out: defaultdict[dt.date, float] = defaultdict(float)
    left_pieces, left_hours = 0, 0.0
    undated: list[tuple[int, float]] = []
    for count, hours, done, day in _things(boat, rules, known or {}):
        left_pieces += count
        left_hours += hours
        if done and day and day <= today:
            pieces_out[monday(day)] += count
            hours_out[monday(day)] += hours
        elif done:
            undated.append((count, hours))
    weeks = sorted({*put_in, *pieces_out})
    if not weeks:
        return ()
    for count, hours in undated:
        pieces_out[weeks[0]] += count
        hours_out[weeks[0]] += hours
    made: list[WeekDone] = []
    week = weeks[0]
    while week <= monday(today):
        left_pieces -= pieces_out[week]
        left_hours -= hours_out[week]
        made.append(WeekDone(week.isoformat(), left_pieces, max(0.0, left_hours), put_in[week]))
        week += dt.timedelta(weeks=1)
    return tuple(made)


def _things(
    boat: BoatRecords, rules: Rules, known: Mapping[str, Step]
) -> list[tuple[int, float, bool, dt.date | None]]:
    """Pieces, person hours, whether done and when, of each item and job."""
    found: list[tuple[int, float, bool, dt.date | None]] = []
    for item in boat.items.values():
        if item.never_aboard:
            continue
        step = known.get(f"item/{item.key}")
        toll = step.toll if step else toll_of_item(item, rules)
        hours = toll.hours.likely * toll.people
        found.append((pieces(item), hours, not is_to_take_out(item), day_of(item.out_at)))
    for job in boat.jobs.values():
        toll = toll_of_job(job, rules)
        hours = toll.hours.likely * toll.people
        found.append((0, hours, bool(job.done_at), day_of(job.done_at)))
    return found
