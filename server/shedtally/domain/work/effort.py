"""What a piece of work takes: hours with a spread, hands, and what it is like to do.

A person's own number counts most, then area or length by the usual rate, then the usual time of
the kind, the task or the system. Source of what is usual: rules/effort.toml, all of it estimates.
"""

from __future__ import annotations

import functools
from dataclasses import dataclass

from shedtally.domain.aboard.out import pieces, system_of
from shedtally.domain.records import Item, Job
from shedtally.domain.rulebook import Effort, Rules, Three, Toil

# A person's own estimate of hours may well be off by this much, either way.
OWN_LOW, OWN_HIGH = 0.7, 1.6


@dataclass(frozen=True, slots=True)
class Toll:
    """Hours of one crew of ``people``; ``said`` if a person wrote the hours down."""

    hours: Three
    people: int
    toil: Toil
    dirty: bool
    sparks: bool
    vapour: bool
    said: bool

    @classmethod
    def nothing(cls) -> Toll:
        """The toll of what nobody has to do."""
        return cls(Three(0.0, 0.0, 0.0), 1, "light", False, False, False, True)


def toll_of_item(item: Item, rules: Rules) -> Toll:
    """What it takes to get an item out, all its pieces."""
    kind = rules.kinds.get(item.kind or "")
    efforts = rules.efforts
    usual = efforts.kinds.get(item.kind or "") or efforts.systems.get(system_of(item, kind))
    row = usual or efforts.unknown
    if item.work_hours is not None:
        return _toll(row, _own(item.work_hours), said=True)
    return _of_pieces(row, pieces(item))


def toll_of_job(job: Job, rules: Rules) -> Toll:
    """What a job takes: its own hours, else its area or length by the rate of its task."""
    row, size = _rate(job, rules)
    said = job.hours is not None
    hours = _own(job.hours) if job.hours is not None else _times(row.hours, size)
    return Toll(
        hours=hours,
        people=job.people or row.people,
        toil=job.toil or row.toil,
        dirty=row.dirty if job.dirty is None else job.dirty,
        sparks=row.sparks if job.sparks is None else job.sparks,
        vapour=row.vapour if job.vapour is None else job.vapour,
        said=said,
    )


def toll_of_making_safe(system: str, rules: Rules) -> Toll:
    """What it takes to make a system safe, where nobody has written the job down."""
    row = rules.efforts.make_safe.get(system) or rules.efforts.tasks["make safe"][0]
    return _toll(row, row.hours, said=False)


@functools.lru_cache(maxsize=4096)
def _of_pieces(row: Effort, count: int) -> Toll:
    """Ten alike don't take ten times as long: the second is learnt from the first."""
    return _toll(row, _times(row.hours, count**0.8), said=False)


def _rate(job: Job, rules: Rules) -> tuple[Effort, float]:
    """The row of effort.toml that fits what was measured, and how much there is of it."""
    efforts = rules.efforts
    rows = {row.per: row for row in efforts.tasks.get(job.task or "other", ())}
    safe = efforts.make_safe.get(job.system or "")
    if job.task == "make safe" and safe:
        return safe, 1.0
    if job.area_m2 and "m2" in rows:
        return rows["m2"], job.area_m2
    if job.length_m and "m" in rows:
        return rows["m"], job.length_m
    return rows.get("piece", efforts.unknown), 1.0


def _toll(row: Effort, hours: Three, *, said: bool) -> Toll:
    return Toll(hours, row.people, row.toil, row.dirty, row.sparks, row.vapour, said)


def _own(hours: float) -> Three:
    return Three(hours * OWN_LOW, hours, hours * OWN_HIGH)


def _times(hours: Three, by: float) -> Three:
    return Three(*(value * by for value in hours))
