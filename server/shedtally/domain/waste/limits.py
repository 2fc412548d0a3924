"""How near the limits of a ladder are, and the day on which each would be reached."""

from __future__ import annotations

import datetime
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from shedtally.domain.lists import Spread
from shedtally.domain.rulebook import Rules
from shedtally.domain.rulebook.amounts import Ladder, Step
from shedtally.domain.waste.box_lists import Limit
from shedtally.domain.waste.generator import day_reached, warning


@dataclass(frozen=True, slots=True)
class Now:
    """What is counted as of a day: in the present period, on site, and kg a day lately."""

    on: datetime.date
    made: Spread
    site: Spread
    kg_a_day: float


def limits_of(ladder: Ladder | None, now: Now, rules: Rules) -> Iterator[Limit]:
    """Each top of a step, for what is made in a period and for what stands here.

    A day is told only where it comes before the present period ends.
    """
    if ladder is None:
        return
    for step, after in zip(ladder.steps, ladder.steps[1:], strict=False):
        top = step.below_kg if step.most_kg is None else step.most_kg
        if top is not None:
            begins = "From it on" if step.most_kg is None else "Over it"
            meaning = f"{begins}: {after.name}."
            made = _Measure(f"Made in this {ladder.period}", now.made, now.kg_a_day, meaning)
            yield _limit(made, step, top, now.on, _last_of(ladder, now.on), rules)
        if step.site_most_kg is not None:
            meaning = f"More may not stand here at any time as a {step.name}."
            site = _Measure("Standing here", now.site, now.kg_a_day, meaning)
            yield _limit(site, step, step.site_most_kg, now.on, None, rules)


@dataclass(frozen=True, slots=True)
class _Measure:
    name: str
    kg: Spread
    a_day: float
    meaning: str


def _limit(  # noqa: PLR0917  # plain values, each named where it is called
    measure: _Measure,
    step: Step,
    top: float,
    on: datetime.date,
    last: datetime.date | None,
    rules: Rules,
) -> Limit:
    # "From ... on" is over at the limit itself, so the highest that still fits lies below it.
    most = math.nextafter(top, 0.0) if top == step.below_kg else top
    kg = measure.kg
    up = kg.high / kg.likely if kg.likely else 1.0
    days = [
        day_reached(most, kg.likely, measure.a_day, on),
        day_reached(most, kg.high, measure.a_day * up, on),
    ]
    said = [day.isoformat() if day and (last is None or day <= last) else "" for day in days]
    return Limit(
        name=measure.name,
        limit_kg=top,
        now=kg,
        share=kg.likely / top,
        warn=warning(most, kg.likely, kg.high),
        day=said[0],
        day_high=said[1],
        meaning=measure.meaning,
        sources=titles(rules, step.sources),
    )


def _last_of(ladder: Ladder, on: datetime.date) -> datetime.date:
    """The last day of the present period."""
    if ladder.period == "year":
        return on.replace(month=12, day=31)
    following = datetime.date(on.year + on.month // 12, on.month % 12 + 1, 1)
    return following - datetime.timedelta(days=1)


def titles(rules: Rules, keys: Sequence[str]) -> tuple[str, ...]:
    """The titles of sources by their keys."""
    return tuple(rules.sources[key].title for key in keys)
