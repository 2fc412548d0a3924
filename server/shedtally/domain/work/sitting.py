"""What to do in one sitting: a half day of one or more people, from what is ready and what opens.

First what holds up most behind it, then what opens most, then what lies where the last work was.
On request hard work is followed by lighter. What makes sparks and what opens fuel or gas are never
in one sitting: vapour stays when the lid is back on.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from shedtally.domain.work.steps import Step, Steps, opened

# No point in beginning what is less than this far along at the end of the day, in hours.
LEAST_START = 1.0
TOILS = {"light": 0, "steady": 1, "hard": 2}


@dataclass(frozen=True, slots=True)
class Turn:
    """One step of a sitting; hours count from its beginning. ``goes_on``: not done at its end."""

    target: str
    name: str
    compartment: str
    start: float
    hours: float
    people: int
    toil: str
    dirty: bool
    sparks: bool
    vapour: bool
    opens: int
    goes_on: bool


@dataclass(frozen=True, slots=True)
class Sitting:
    """Turns in the order of their start; and what was ready but could not be taken, with why."""

    hours: float
    people: int
    turns: tuple[Turn, ...]
    passed_over: tuple[tuple[str, str], ...]


@dataclass(slots=True)
class _Day:
    """The state of a sitting while it is planned."""

    steps: Mapping[str, Step]
    tail: Mapping[str, float]
    waiting: dict[str, int]
    free: list[float]
    ready: set[str]
    last_place: str = ""
    last_toil: str = ""
    sparks: bool = False
    vapour: bool = False
    long: bool = False


def plan_sitting(open_steps: Steps, hours: float, people: int, pace: float, mix: bool) -> Sitting:
    """The turns of one sitting.

    Args: hours: how long it lasts, above 0; pace: share of the estimates, above 0; mix: whether
        hard work is followed by lighter where there is any.
    Raises: ValueError: no hours, no people or no pace.
    """
    if hours <= 0 or people < 1 or pace <= 0:
        raise ValueError("a sitting needs hours, people and a pace above zero")
    day = _morning(open_steps, people)
    turns: list[Turn] = []
    ending: list[tuple[float, str]] = []
    while day.ready or ending:
        now = _when_free(day, ending)
        if now is None or now >= hours - 1e-9:
            break
        _finish(day, open_steps, ending, now)
        step = _next(day, hours - now, pace, mix, now)
        if step is None:
            if not _wait(day, ending, now):
                break
            continue
        turn = _take(day, open_steps, step, (now, hours, step.toll.hours.likely * pace))
        turns.append(turn)
        if not turn.goes_on:
            heapq.heappush(ending, (turn.start + turn.hours, turn.target))
    turns.sort(key=lambda turn: (turn.start, turn.target))
    return Sitting(hours, people, tuple(turns), tuple(_passed_over(day, people, turns)))


def _morning(open_steps: Steps, people: int) -> _Day:
    network = open_steps.network
    tail = [0.0] * len(network.keys)
    for step in reversed(network.order):
        behind = max((tail[then] for then in network.after[step]), default=0.0)
        tail[step] = network.hours[step] + behind
    waiting = dict(zip(network.keys, network.waiting, strict=True))
    return _Day(
        steps=open_steps.steps,
        tail=dict(zip(network.keys, tail, strict=True)),
        waiting=waiting,
        free=[0.0] * people,
        ready={key for key, count in waiting.items() if not count},
    )


def _when_free(day: _Day, ending: list[tuple[float, str]]) -> float | None:
    """The first moment at which somebody is free."""
    return min(day.free, default=None) if day.ready or ending else None


def _finish(day: _Day, open_steps: Steps, ending: list[tuple[float, str]], now: float) -> None:
    """What has ended by now opens what waited for it."""
    while ending and ending[0][0] <= now + 1e-9:
        _, target = heapq.heappop(ending)
        _unlock(day, open_steps, target)


def _unlock(day: _Day, open_steps: Steps, target: str) -> None:
    network = open_steps.network
    for then in network.after[network.number[target]]:
        key = network.keys[then]
        day.waiting[key] -= 1
        if day.waiting[key]:
            continue
        if day.steps[key].gate:
            _unlock(day, open_steps, key)
        else:
            day.ready.add(key)


def _next(day: _Day, left: float, pace: float, mix: bool, now: float) -> Step | None:
    """The step to take now, if any can be taken."""
    hands = sum(1 for free in day.free if free <= now + 1e-9)
    fits = [
        day.steps[key]
        for key in day.ready
        if day.steps[key].toll.people <= hands and _may(day, day.steps[key])
    ]
    short = [step for step in fits if step.toll.hours.likely * pace <= left + 1e-9]
    # What is longer than the day must begin some day: by one of several, or for want of others.
    begin = now == 0 and len(day.free) > 1 and not day.long
    choice = fits if begin else short or (fits if left >= LEAST_START else [])
    return min(choice, key=lambda step: _rank(day, step, mix), default=None)


def _may(day: _Day, step: Step) -> bool:
    sparks, vapour = day.sparks or step.toll.sparks, day.vapour or step.toll.vapour
    return not ((step.toll.sparks and vapour) or (step.toll.vapour and sparks))


def _rank(day: _Day, step: Step, mix: bool) -> tuple[object, ...]:
    tired = mix and day.last_toil == "hard" and step.toll.toil == "hard"
    return (
        tired,
        -round(day.tail[step.target], 6),
        step.compartment != day.last_place,
        TOILS[step.toll.toil],
        step.name,
        step.target,
    )


def _take(day: _Day, open_steps: Steps, step: Step, span: tuple[float, float, float]) -> Turn:
    now, end, lasts = span
    goes_on = now + lasts > end + 1e-9
    hours = min(lasts, end - now)
    for _ in range(step.toll.people):
        day.free.remove(min(day.free))
        day.free.append(now + hours)
    day.ready.discard(step.target)
    day.last_place, day.last_toil = step.compartment, step.toll.toil
    day.long |= goes_on
    day.sparks |= step.toll.sparks
    day.vapour |= step.toll.vapour
    return Turn(
        target=step.target,
        name=step.name,
        compartment=step.compartment,
        start=now,
        hours=hours,
        people=step.toll.people,
        toil=step.toll.toil,
        dirty=step.toll.dirty,
        sparks=step.toll.sparks,
        vapour=step.toll.vapour,
        opens=len(opened(open_steps, step.target)),
        goes_on=goes_on,
    )


def _wait(day: _Day, ending: list[tuple[float, str]], now: float) -> bool:
    """Let those who have nothing to do wait for the next end; False if there is none."""
    later = [moment for moment in (*day.free, *(end for end, _ in ending)) if moment > now + 1e-9]
    if not later:
        return False
    until = min(later)
    day.free = [max(free, until) if free <= now + 1e-9 else free for free in day.free]
    return True


def _passed_over(day: _Day, people: int, turns: list[Turn]) -> Iterator[tuple[str, str]]:
    """Why what is ready was left out, where it was not for want of time."""
    for key in sorted(day.ready):
        step = day.steps[key]
        if step.toll.people > people:
            yield step.name, f"needs {step.toll.people} people"
        elif not _may(day, step):
            if step.toll.sparks and step.toll.vapour:
                yield step.name, "makes sparks while fuel or gas is open: part it into two jobs"
            else:
                other = "fuel or gas is opened" if step.toll.sparks else "there are sparks"
                yield step.name, f"not in one sitting with what is planned: {other}"
