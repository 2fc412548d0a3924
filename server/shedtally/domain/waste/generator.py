"""Categories by amount: which step of a ladder an amount belongs to, and until when it may stand.

All amounts are kilograms; source: the rows of amounts.toml, each names its own.
"""

from __future__ import annotations

import datetime
import math
from collections.abc import Collection
from dataclasses import dataclass

from shedtally.domain.rulebook.amounts import Episode, Ladder, Step, Trip
from shedtally.domain.waste.box_lists import Warn

NEAR = 0.8


def step_of(ladder: Ladder, kg: float, acute_kg: float = 0.0, site_kg: float = 0.0) -> Step:
    """The lowest step that an amount of one period, its acute part and what stands here fit.

    Args: kg: what is counted without the acute waste; site_kg: on site at any one time.
    Returns: the last step where nothing lower fits.
    Raises: ValueError for a negative amount or one that is no number.

    More of anything never gives a lower step.
    """
    for amount in (kg, acute_kg, site_kg):
        if not math.isfinite(amount) or amount < 0:
            message = f"{amount} kg is no amount of waste: it takes 0 kg or more"
            raise ValueError(message)
    return next(
        (step for step in ladder.steps if _fits(step, kg, acute_kg, site_kg)), ladder.steps[-1]
    )


def _fits(step: Step, kg: float, acute_kg: float, site_kg: float) -> bool:
    return (
        (step.most_kg is None or kg <= step.most_kg)
        and (step.below_kg is None or kg < step.below_kg)
        and (step.acute_most_kg is None or acute_kg <= step.acute_most_kg)
        and (step.site_most_kg is None or site_kg <= step.site_most_kg)
    )


def warning(limit_kg: float, likely_kg: float, high_kg: float) -> Warn:
    """How near a limit is: over, over by the high value, from 80 % on near, else nothing."""
    if likely_kg > limit_kg:
        return "over"
    if high_kg > limit_kg:
        return "may be over"
    return "near" if likely_kg >= NEAR * limit_kg else ""


def day_reached(
    limit_kg: float, now_kg: float, kg_a_day: float, today: datetime.date
) -> datetime.date | None:
    """The day on which an amount is over its limit at a steady rate; None: it never is.

    Today, where it is over it already.
    """
    if now_kg > limit_kg:
        return today
    if kg_a_day <= 0:
        return None
    days = (limit_kg - now_kg) / kg_a_day
    last = (datetime.date.max - today).days
    return today + datetime.timedelta(days=math.floor(days) + 1) if days < last else None


@dataclass(frozen=True, slots=True)
class EpisodeDays:
    """Until when an episodic event must be told, and until when all of it must have left."""

    notify_by: datetime.date
    ship_by: datetime.date
    needs_petition: bool


def episode_days(
    rule: Episode, begins: datetime.date, earlier_this_year: int, *, planned: bool
) -> EpisodeDays:
    """The days of an event that begins on a day. Args: earlier_this_year: events of that year."""
    if planned:
        notify = begins - datetime.timedelta(days=rule.notify_days)
    else:
        notify = begins + datetime.timedelta(hours=rule.unplanned_hours)
    ship = begins + datetime.timedelta(days=rule.ship_days)
    return EpisodeDays(notify, ship, earlier_this_year >= rule.a_year)


def trip_faults(rule: Trip, packages: Collection[tuple[str, float, Collection[str]]]) -> list[str]:
    """Why packages can't be carried by their owner in one go; empty where they can.

    Args: packages: name, gross mass in kg and classes for the road of each.
    """
    found = []
    total = math.fsum(kg for _, kg, _ in packages)
    if total > rule.total_kg:
        found.append(
            f"{total:.4g} kg gross in all; by own vehicle up to {rule.total_kg:g} kg. "
            "Take it in two trips, or call a carrier."
        )
    for name, kg, classes in packages:
        if kg > rule.package_kg and not set(classes) & set(rule.free_classes):
            found.append(
                f"{name}: {kg:.4g} kg gross; a package may weigh {rule.package_kg:g} kg. "
                "Divide it, or call a carrier."
            )
    return found
