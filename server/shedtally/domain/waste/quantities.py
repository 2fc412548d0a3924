"""Quantities over time: what came up in each month, what stands here, what went, what it means.

What came out on a day nobody wrote down counts in the present period: a category must not get
lower because a field is empty. What is still aboard has not come up and counts nowhere yet.
"""

from __future__ import annotations

import datetime
from collections import defaultdict
from collections.abc import Iterator, Sequence

from shedtally.domain.rulebook.amounts import Ladder, Step
from shedtally.domain.waste.amounts import Amount, amounts_of, not_counted, total
from shedtally.domain.waste.box import Box, day_of
from shedtally.domain.waste.box_lists import MonthLine, Quantities, Standing, StreamAmount
from shedtally.domain.waste.by_stream import Case
from shedtally.domain.waste.generator import NEAR, step_of
from shedtally.domain.waste.limits import Now, limits_of, titles
from shedtally.domain.waste.stream import Row

RATE_DAYS = 90
NO_LIMITS = "No amounts or days are in the data of this rule set: ask the authority."
HOME = (
    "The waste of a home is in no category by amount and has no day by which it must go. "
    "Local rules come first: ask where it may be taken."
)


def quantities(case: Case, rows: Sequence[Row]) -> Quantities:
    """The amounts of a boat under the case's rules, as of its day.

    Args: rows: all lines, as `by_stream.waste_rows` makes them.
    Returns: masses in kg; days as ISO 8601. Source: rules/amounts.toml, a source in each row.
    """
    amounts = amounts_of(case, rows)
    ladder = ladder_of(case)
    here = [one for one in amounts if one.here]
    gone = [one for one in amounts if one.row.line.gone]
    up = [one for one in amounts if not one.aboard]
    counted = [one for one in up if one.counted]
    now = total(one for one in counted if _in_period(one, case.on, ladder))
    site = total(one for one in here if one.counted)
    step, high = (_step(ladder, *kg) for kg in ((now.likely, site.likely), (now.high, site.high)))
    recent = [one for one in counted if one.came and (case.on - one.came).days < RATE_DAYS]
    a_day = total(recent).likely / RATE_DAYS
    months = tuple(_months(case, up, ladder))
    return Quantities(
        rule_set=case.law.id,
        rule_set_name=case.law.name,
        dated=case.on.isoformat(),
        holder=case.holder,
        applies=ladder is not None,
        ladder=ladder.name if ladder else "",
        step=step.name if step else "",
        step_high=high.name if high else "",
        counted_now=now,
        on_site=total(here),
        on_site_counted=site,
        aboard=total(one for one in amounts if one.aboard),
        gone=total(gone),
        gone_undated=total(one for one in gone if _went(case, one) is None),
        undated=total(one for one in up if one.came is None),
        undated_counted=total(one for one in counted if one.came is None),
        kg_a_month=a_day * 365.25 / 12,
        months=months,
        limits=tuple(limits_of(ladder, Now(case.on, now, site, a_day), case.rules)),
        standing=tuple(_standing(case, _strictest(ladder, high, months, here), here)),
        streams=tuple(_streams(case, up)),
        sayings=tuple(_sayings(case)),
        no_limits=_no_limits(case, ladder),
    )


def ladder_of(case: Case) -> Ladder | None:
    """The categories that hold for this holder where the boat lies; None: none are in the data."""
    area = case.boat.boat.rule_area
    if case.holder == "household":
        return None
    for ladder in case.rules.amounts.ladders:
        if ladder.rule_set == case.law.law and (not ladder.areas or area in ladder.areas):
            return ladder
    return None


def _no_limits(case: Case, ladder: Ladder | None) -> str:
    if ladder:
        return ""
    return HOME if case.holder == "household" else NO_LIMITS


def _step(ladder: Ladder | None, kg: float, site_kg: float) -> Step | None:
    # No acute waste is expected from a boat; amounts.toml says so where it matters.
    return step_of(ladder, kg, site_kg=site_kg) if ladder else None


def _in_period(one: Amount, today: datetime.date, ladder: Ladder | None) -> bool:
    """Whether something came up in the present period, or on a day that nobody knows."""
    length = 4 if ladder and ladder.period == "year" else 7
    return one.came is None or one.came.isoformat()[:length] == today.isoformat()[:length]


def _went(case: Case, one: Amount) -> datetime.date | None:
    item = case.boat.items.get(one.row.line.key)
    alone = case.boat.handovers.get(item.handover or "") if item else None
    if alone:
        return day_of(alone.on)
    box = case.boxes.get(one.row.box)
    return box.gone_on if box else None


def _months(case: Case, up: Sequence[Amount], ladder: Ladder | None) -> Iterator[MonthLine]:
    """Every calendar month from the first with anything in it to the present, the latest first.

    The steps are those of the month's own dated amounts; ``Quantities.step`` is the present one.
    """
    came: defaultdict[str, list[Amount]] = defaultdict(list)
    went: defaultdict[str, list[Amount]] = defaultdict(list)
    for one in up:
        if one.came:
            came[one.came.isoformat()[:7]].append(one)
        day = _went(case, one)
        if one.row.line.gone and day:
            went[day.isoformat()[:7]].append(one)
    by_month = ladder if ladder and ladder.period == "month" else None
    for month in _calendar({*came, *went}, case.on):
        counted = total(one for one in came[month] if one.counted)
        steps = [_step(by_month, kg, 0.0) for kg in (counted.likely, counted.high)]
        yield MonthLine(
            period=month,
            came_up=total(came[month]),
            hazardous=total(one for one in came[month] if one.row.entry.hazardous),
            counted=counted,
            gone=total(went[month]),
            step=steps[0].name if steps[0] else "",
            step_high=steps[1].name if steps[1] else "",
        )


def _calendar(months: set[str], today: datetime.date) -> Iterator[str]:
    if not months:
        return
    known = {*months, today.isoformat()[:7]}
    first, last = min(known), max(known)
    year, month = int(last[:4]), int(last[5:])
    while (name := f"{year:04}-{month:02}") >= first:
        yield name
        year, month = (year, month - 1) if month > 1 else (year - 1, 12)


def _strictest(
    ladder: Ladder | None, high: Step | None, months: Sequence[MonthLine], here: Sequence[Amount]
) -> Step | None:
    """The highest step of the present and of the months in which what still stands here came up."""
    since = {one.came.isoformat()[:7] for one in here if one.counted and one.came}
    names = {row.step_high for row in months if row.period in since}
    steps = ladder.steps if ladder else ()
    found = [step for step in steps if step is high or step.name in names]
    return found[-1] if found else None


def _standing(case: Case, step: Step | None, here: Sequence[Amount]) -> Iterator[Standing]:
    """How long containers and loose things may stand, the one due first at the top.

    Args: step: the highest category in question, which has the shortest time. What has no day at
        all can't be dated, and stands at the top with no days.
    """
    if step is None or step.days is None:
        return
    groups: defaultdict[str, list[Amount]] = defaultdict(list)
    for one in here:
        if one.counted:
            box = one.row.box
            groups[f"container/{box}" if box else f"item/{one.row.line.key}"].append(one)
    found = [_stands(case, step.days, key, rows) for key, rows in groups.items()]
    yield from sorted(found, key=lambda row: (row.due, row.name, row.key))


def _stands(case: Case, days: int, key: str, rows: Sequence[Amount]) -> Standing:
    table, _, own = key.partition("/")
    box = case.boxes.get(rows[0].row.box)
    known = [day for day in (*(one.came for one in rows), _opened(case, box)) if day]
    name = box.name if box else rows[0].row.line.name
    if not known:
        return Standing(own, table, name, "", "", None, "may be over", days)
    due = min(known) + datetime.timedelta(days=days)
    left = (due - case.on).days
    near = left <= days * (1 - NEAR)
    return Standing(
        key=own,
        table=table,
        name=name,
        since=min(known).isoformat(),
        due=due.isoformat(),
        left=left,
        warn="over" if left < 0 else "near" if near else "",
        days=days,
    )


def _opened(case: Case, box: Box | None) -> datetime.date | None:
    return day_of(case.boat.containers[box.key].opened_at) if box else None


def _streams(case: Case, up: Sequence[Amount]) -> Iterator[StreamAmount]:
    why = dict(not_counted(case))
    groups: defaultdict[tuple[str, str], list[Amount]] = defaultdict(list)
    for one in up:
        groups[one.row.stream, one.row.entry.code].append(one)
    place = {stream: n for n, stream in enumerate(case.rules.streams)}
    for stream, code in sorted(groups, key=lambda key: (place[key[0]], key[1])):
        rows = groups[stream, code]
        entry = rows[0].row.entry
        yield StreamAmount(
            id=stream,
            name=case.rules.streams[stream].name,
            code=code,
            hazardous=entry.hazardous,
            on_site=total([one for one in rows if one.here]),
            gone=total([one for one in rows if one.row.line.gone]),
            left_out=why.get(stream, "") if entry.hazardous else "",
        )


def _sayings(case: Case) -> Iterator[str]:
    area = case.boat.boat.rule_area
    for saying in case.rules.amounts.sayings:
        if (
            saying.rule_set == case.law.law
            and (not saying.areas or area in saying.areas)
            and (not saying.holders or case.holder in saying.holders)
        ):
            named = "; ".join(titles(case.rules, saying.sources))
            # A source may be our memory itself, and says so in its title.
            told = not saying.from_memory or named.lower().startswith("from memory")
            yield f"{saying.text} [{named}]" if told else f"{saying.text} [{named}; from memory]"
