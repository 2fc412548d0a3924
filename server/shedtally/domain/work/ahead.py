"""The work that is left: hours, what can be done now, what holds the rest up, when it ends."""

from __future__ import annotations

import datetime as dt
import heapq
import math
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Set
from dataclasses import dataclass

from shedtally.domain.boat import BoatRecords
from shedtally.domain.rulebook import Rules
from shedtally.domain.work.crew import QUICK, lower_bound, schedule
from shedtally.domain.work.forecast import Forecast, forecast
from shedtally.domain.work.left import NO_SYSTEM, NOT_PLACED, waits_for
from shedtally.domain.work.network import Times, longest_chain, times_of
from shedtally.domain.work.pace import Pace, day_of, pace_of
from shedtally.domain.work.progress import WeekDone, progress
from shedtally.domain.work.proposals import Proposal, proposals
from shedtally.domain.work.steps import Step, Steps, opened, steps_of

# Beyond this many steps the shortest schedule takes too long to look for; the bound still stands.
MOST_SCHEDULED = 1_000
# Nobody reads further down.
MOST_HOLD_UPS = 1_000


@dataclass(frozen=True, slots=True)
class WorkStep:
    """One piece of open work; hours are of its whole crew of ``people``, by the clock.

    ``opens``: the names of what it alone holds up. ``said``: a person wrote the hours down.
    """

    target: str
    name: str
    system: str
    path: tuple[str, ...]
    tags: tuple[str, ...]
    hours_low: float
    hours: float
    hours_high: float
    people: int
    toil: str
    dirty: bool
    sparks: bool
    vapour: bool
    said: bool
    opens: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class HoldUp:
    """An open step that others wait for, how many do, and what it waits for itself."""

    target: str
    name: str
    holds: int
    ready: bool
    waits_for: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class HoursLeft:
    """Open steps and person hours of a compartment (its key) or a system (its id)."""

    key: str
    name: str
    path: tuple[str, ...]
    steps: int
    ready: int
    hours: float


@dataclass(frozen=True, slots=True)
class CrewTime:
    """What a crew needs by the clock: a schedule, where one was made, and what none can beat."""

    people: int
    hours: float | None
    at_least: float


@dataclass(frozen=True, slots=True)
class PaceSaid:
    """The crew's hours beside the estimates, as a share; 0 sittings: the usual share.

    ``week_hours``: person hours of a week, the mean of those worked or the usual.
    """

    low: float
    share: float
    high: float
    sittings: int
    week_hours: float
    own_weeks: int


@dataclass(frozen=True, slots=True)
class WorkAhead:
    """All of it as of a day. ``chain`` is a longest chain of steps, each waiting for the last."""

    dated: str
    steps: int
    ready: tuple[WorkStep, ...]
    hold_ups: tuple[HoldUp, ...]
    chain: tuple[WorkStep, ...]
    chain_hours: float
    rings: tuple[tuple[str, ...], ...]
    by_compartment: tuple[HoursLeft, ...]
    by_system: tuple[HoursLeft, ...]
    crews: tuple[CrewTime, ...]
    pace: PaceSaid
    forecast: Forecast
    progress: tuple[WeekDone, ...]
    proposals: tuple[Proposal, ...]
    cautions: tuple[str, ...]


def work_ahead(boat: BoatRecords, rules: Rules, today: dt.date) -> WorkAhead:
    """Everything about the open work of a boat, as of a day."""
    open_steps = steps_of(boat, rules)
    network = open_steps.network
    waits = {then for _, then in open_steps.orders}
    work = [step for step in open_steps.steps.values() if not step.gate]
    ready = [step for step in work if step.target not in waits]
    pace = pace_of(boat, rules, today)
    times = times_of(network)
    chain = [open_steps.steps[network.keys[at]] for at in longest_chain(network, times)]
    made = {step.target: _line(boat, open_steps, step) for step in (*ready, *chain)}
    return WorkAhead(
        dated=today.isoformat(),
        steps=len(work),
        ready=tuple(sorted((made[step.target] for step in ready), key=_first_wanted)),
        hold_ups=_hold_ups(open_steps),
        chain=tuple(made[step.target] for step in chain if not step.gate),
        chain_hours=times.length,
        rings=tuple(tuple(open_steps.steps[key].name for key in ring) for ring in network.rings),
        by_compartment=_by_compartment(boat, work, waits),
        by_system=_by_system(rules, work, waits),
        crews=tuple(_crew(open_steps, times, people) for people in (1, 2)),
        pace=_said(pace),
        forecast=forecast(work, pace, today),
        progress=progress(boat, rules, today, open_steps.steps),
        proposals=proposals(boat, rules, open_steps=open_steps),
        cautions=(*_to_mend(boat, today), *rules.efforts.cautions),
    )


def _to_mend(boat: BoatRecords, today: dt.date) -> Iterator[str]:
    """What phones that were apart wrote and no phone would let one person write."""
    for ring in boat.compartment_rings:
        yield (
            f"Compartments lie in each other: {' in '.join([*ring, ring[0]])}. "
            "Open one of them and say what it lies in."
        )
    days = [day_of(work.on) for work in boat.works.values()]
    ahead = sum(1 for day in days if day and day > today)
    if ahead:
        yield f"{_times(ahead)} on a day to come: they don't count before it. Put the day right."
    lost = sum(1 for work in boat.works.values() if work.job and work.job not in boat.jobs)
    if lost:
        yield f"{_times(lost)} on a job that is not here or in the bin: they count all the same."


def _times(count: int) -> str:
    return (
        "Hours were written down once" if count == 1 else f"Hours were written down {count} times"
    )


def _said(pace: Pace) -> PaceSaid:
    week = math.fsum(pace.weeks) / len(pace.weeks) if pace.weeks else pace.usual_week.likely
    return PaceSaid(*pace.share, pace.sittings, week, len(pace.weeks))


def _first_wanted(line: WorkStep) -> tuple[object, ...]:
    """What opens most comes first, then what takes least."""
    return -len(line.opens), line.hours, line.name, line.target


def _line(boat: BoatRecords, open_steps: Steps, step: Step) -> WorkStep:
    toll = step.toll
    return WorkStep(
        target=step.target,
        name=step.name,
        system=step.system,
        path=boat.path(step.compartment or None),
        tags=boat.codes.get(step.target, ()),
        hours_low=toll.hours.low,
        hours=toll.hours.likely,
        hours_high=toll.hours.high,
        people=toll.people,
        toil=toll.toil,
        dirty=toll.dirty,
        sparks=toll.sparks,
        vapour=toll.vapour,
        said=toll.said,
        opens=tuple(open_steps.steps[key].name for key in opened(open_steps, step.target)),
    )


def _hold_ups(open_steps: Steps) -> tuple[HoldUp, ...]:
    """What holds up most comes first, `MOST_HOLD_UPS` at most; gates are looked through."""
    holds = Counter([first for first, _ in open_steps.orders])
    gates = {target for target, step in open_steps.steps.items() if step.gate}
    if gates:
        through = [(first, then) for first, then in open_steps.orders if then in gates]
        for first, then in through:
            holds[first] += holds.get(then, 0)
        holds.subtract(first for first, _ in through)
    steps = open_steps.steps
    ranked = [(-count, steps[key].name, key) for key, count in holds.items() if key not in gates]
    most = heapq.nsmallest(MOST_HOLD_UPS, ranked)
    waits = waits_for(open_steps, {key for _, _, key in most})
    return tuple(
        HoldUp(
            target=key,
            name=name,
            holds=-count,
            ready=key not in waits,
            waits_for=waits.get(key, ()),
        )
        for count, name, key in most
    )


def _by_compartment(
    boat: BoatRecords, work: Iterable[Step], waits: Set[str]
) -> tuple[HoursLeft, ...]:
    groups: defaultdict[str, list[Step]] = defaultdict(list)
    for step in work:
        groups[step.compartment if step.compartment in boat.compartments else ""].append(step)
    made = []
    for key, steps in groups.items():
        path = boat.path(key) if key else ()
        made.append(_hours(key, path[-1] if path else NOT_PLACED, path, steps, waits))
    return tuple(sorted(made, key=lambda row: (not row.path, row.path, row.key)))


def _by_system(rules: Rules, work: Iterable[Step], waits: Set[str]) -> tuple[HoursLeft, ...]:
    groups: defaultdict[str, list[Step]] = defaultdict(list)
    for step in work:
        groups[step.system if step.system in rules.systems else ""].append(step)
    return tuple(
        _hours(key, rules.systems[key].name if key else NO_SYSTEM, (), groups[key], waits)
        for key in (*rules.systems, "")
        if key in groups
    )


def _hours(
    key: str,
    name: str,
    path: tuple[str, ...],
    steps: list[Step],
    waits: Set[str],
) -> HoursLeft:
    hours = math.fsum(step.toll.hours.likely * step.toll.people for step in steps)
    ready = sum(1 for step in steps if step.target not in waits)
    return HoursLeft(key, name, path, len(steps), ready, hours)


def _crew(open_steps: Steps, times: Times, people: int) -> CrewTime:
    """The clock hours of a crew; what needs more hands counts with all that there are."""
    network = open_steps.network
    needs = [
        {} if step.gate else {"hands": float(min(people, step.toll.people))}
        for step in open_steps.steps.values()
    ]
    limits = {"hands": float(people)}
    bound = lower_bound(network, needs, limits, times)
    if len(network.keys) > MOST_SCHEDULED:
        return CrewTime(people, None, bound)
    return CrewTime(people, schedule(network, needs, limits, times, QUICK).length, bound)
