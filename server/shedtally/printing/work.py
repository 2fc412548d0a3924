"""Work ahead: how much, when it ends, what can be done now, and what holds the rest up."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Sequence

from reportlab.platypus import Flowable

from shedtally.domain.aboard.drawn import DrawnBoat
from shedtally.domain.records import tag
from shedtally.domain.work.ahead import HoldUp, HoursLeft, WorkAhead, WorkStep
from shedtally.printing.boat_drawing import boat_section
from shedtally.printing.charts import BurnDown, HoursByWeek
from shedtally.printing.csv_text import Value, csv_text, several
from shedtally.printing.figures import CODE_WIDTH_MM, Tick, codes, words
from shedtally.printing.paper import (
    ASKS,
    RIGHT,
    SMALL,
    SMALL_CAUTION,
    SMALL_RIGHT,
    STRONG_BODY,
    Heading,
    day,
    document,
)
from shedtally.printing.tables import Cell, opening, part, table

_TITLE = "Work ahead"
_MOST_OPENS = 3
_MOST_HOLD_UPS = 20


def work_pdf(work: WorkAhead, heading: Heading, boat: DrawnBoat | None = None) -> bytes:
    """The list as PDF on A4: forecast, charts, what is ready, what holds up, hours by place."""
    story = opening(_TITLE, heading, _lead(work))
    story += boat_section(boat) if boat else []
    story += [words(caution, STRONG_BODY) for caution in work.cautions]
    story += [words(_from(work), SMALL)]
    if work.progress or work.forecast.weeks:
        story += [*part("How it went, and how it may go on", needs_mm=82)]
        story.append(BurnDown(work.progress, work.forecast.weeks))
        if any(week.hours_put_in for week in work.progress):
            story.append(HoursByWeek(work.progress))
    for ring in work.rings:
        story.append(words(f"Orders in a ring, mend one: {' before '.join(ring)}", ASKS))
    story += _ready(work.ready)
    story += _hold_ups(work.hold_ups)
    story += _chain(work)
    story += _hours("Hours by compartment", work.by_compartment)
    story += _hours("Hours by system", work.by_system)
    return document(story, _TITLE, heading)


def work_csv(work: WorkAhead) -> str:
    """What is ready, as CSV, one row a step; then what holds up the rest is in the list 'left'."""
    heads = [
        "step", "system", "compartment", "tag codes", "hours low (h)", "hours likely (h)",
        "hours high (h)", "people", "toil", "dirty (yes/no)", "sparks (yes/no)",
        "fuel or gas open (yes/no)", "opens",
    ]  # fmt: skip
    return csv_text(heads, _csv_rows(work))


def _csv_rows(work: WorkAhead) -> Iterator[list[Value]]:
    for step in work.ready:
        yield [
            step.name, step.system, " › ".join(step.path),
            several(tag.shown(code) for code in step.tags), step.hours_low, step.hours,
            step.hours_high, step.people, step.toil, step.dirty, step.sparks, step.vapour,
            several(step.opens),
        ]  # fmt: skip


def _lead(work: WorkAhead) -> str:
    if not work.steps:
        return "Nothing is left to take out or to do."
    ahead = work.forecast
    hours = f"{ahead.hours_likely:.0f} ({ahead.hours_low:.0f} to {ahead.hours_high:.0f})"
    return (
        f"{work.steps} steps are left, about {hours} person hours; {len(work.ready)} can be "
        f"begun now. {_end(work)} The longest chain, one waiting for the other, takes "
        f"{work.chain_hours:.0f} hours."
    )


def _end(work: WorkAhead) -> str:
    ahead = work.forecast
    if not ahead.likely:
        return "At this pace it does not end within five years."
    late = _day(ahead.late) if ahead.late else "more than five years on"
    early = _day(ahead.early) if ahead.early else late
    return f"It ends about {_day(ahead.likely)}, between {early} and {late}."


def _day(text: str) -> str:
    return day(dt.date.fromisoformat(text))


def _from(work: WorkAhead) -> str:
    pace = work.pace
    if work.forecast.from_own_pace:
        said = (
            f"Pace from {pace.sittings} logged sittings: {pace.share:.2f} times the estimates "
            f"({pace.low:.2f} to {pace.high:.2f})."
        )
    else:
        said = "No hours are logged yet: the pace is an estimate."
    weeks = (
        f"from the last {pace.own_weeks} weeks" if work.forecast.from_own_weeks else "an estimate"
    )
    return f"{said} {pace.week_hours:.0f} person hours a week, {weeks}."


def _ready(steps: Sequence[WorkStep]) -> list[Flowable]:
    if not steps:
        return []
    rows: list[list[Cell]] = [
        [Tick(), codes(step.tags), _what(step), _opens(step), _time(step)] for step in steps
    ]
    return [
        *part("Can be begun now", "What opens most comes first."),
        table(
            ["done", "tag", "what", "opens", "hours"],
            [11, CODE_WIDTH_MM + 3, 68, 50, 23],
            rows,
            right=1,
        ),
    ]


def _what(step: WorkStep) -> list[Flowable]:
    found: list[Flowable] = [words(step.name, STRONG_BODY)]
    about = [" › ".join(step.path), step.toil, "dirty" if step.dirty else ""]
    found.append(words(" · ".join(part for part in about if part), SMALL))
    if step.sparks:
        found.append(words("sparks: nothing of fuel or gas open", SMALL_CAUTION))
    if step.vapour:
        found.append(words("fuel or gas open: no sparks, air it", SMALL_CAUTION))
    return found


def _opens(step: WorkStep) -> list[Flowable]:
    more = len(step.opens) - _MOST_OPENS
    found: list[Flowable] = [words(name) for name in step.opens[:_MOST_OPENS]]
    return [*found, words(f"and {more} more", SMALL)] if more > 0 else found


def _time(step: WorkStep) -> list[Flowable]:
    people = f", {step.people} people" if step.people > 1 else ""
    return [
        words(f"{step.hours:.1f}{people}", RIGHT),
        words(f"{step.hours_low:.1f} to {step.hours_high:.1f}", SMALL_RIGHT),
    ]


def _hold_ups(hold_ups: Sequence[HoldUp]) -> list[Flowable]:
    shown = hold_ups[:_MOST_HOLD_UPS]
    if not shown:
        return []
    rows: list[list[Cell]] = [
        [
            words(row.name, STRONG_BODY),
            words("can be begun now") if row.ready else words("; ".join(row.waits_for), ASKS),
            words(str(row.holds), RIGHT),
        ]
        for row in shown
    ]
    more = len(hold_ups) - len(shown)
    rest = f"The {len(shown)} that hold up most; {more} more are on the phone." if more > 0 else ""
    return [
        *part("What holds the rest up", rest),
        table(["what", "it waits for", "steps behind it"], [70, 82, 26], rows, right=1),
    ]


def _chain(work: WorkAhead) -> list[Flowable]:
    if len(work.chain) < 2:
        return []
    rows: list[list[Cell]] = [
        [words(str(at), RIGHT), _what(step), _time(step)]
        for at, step in enumerate(work.chain, start=1)
    ]
    return [
        *part("The longest chain", "Each waits for the one above it."),
        table(["no.", "what", "hours"], [12, 136, 30], rows, right=1),
    ]


def _hours(title: str, groups: Sequence[HoursLeft]) -> list[Flowable]:
    if not groups:
        return []
    rows: list[list[Cell]] = [
        [
            words(" › ".join(group.path) or group.name, STRONG_BODY),
            words(str(group.steps), RIGHT),
            words(str(group.ready), RIGHT),
            words(f"{group.hours:.1f}", RIGHT),
        ]
        for group in groups
    ]
    heads = ["where", "steps left", "can begin", "person hours"]
    return [*part(title), table(heads, [108, 22, 22, 26], rows, right=3)]
