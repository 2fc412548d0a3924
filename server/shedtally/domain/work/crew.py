"""Who does what when: steps under orders and limited hands, one after the other or side by side.

The serial schedule generation scheme: steps in the order of a rule, each as early as orders and
hands allow (J. E. Kelley, 1963; the latest finish first rule and the pass backwards and forwards
again after R. Kolisch, 1996, and K. Y. Li and R. J. Willis, 1992). While a schedule is longer than
`lower_bound`, a few steps are moved and it is tried again, with a fixed seed and effort counted in
steps, not in seconds: the same work has the same schedule. It finds good ones, not proven best.
"""

from __future__ import annotations

import bisect
import dataclasses
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from random import Random

from shedtally.domain.work.network import Network, Times, by_value, times_of

Needs = Mapping[str, float]

SEED = 20260829
# So many steps are moved about in further tries, seconds of work; a list that somebody waits for
# spares itself most of it. In each try one step of ten is moved by up to so much of the whole:
# found by trial on the instances in tests/outside/.
THOROUGH = 20_000
QUICK = 400
MOVED = 0.1
SHAKE = 0.4


@dataclass(frozen=True, slots=True)
class Schedule:
    """When each step starts, by number, and when the last one ends; in the unit of the steps."""

    starts: tuple[float, ...]
    length: float


class TooFewHands(ValueError):
    """A step needs more of something than there is."""

    def __init__(self, step: str, resource: str, needs: float, there_are: float) -> None:
        super().__init__(f"{step} needs {needs:g} of {resource}, there are {there_are:g}")
        self.step, self.resource, self.needs, self.there_are = step, resource, needs, there_are


def schedule(
    network: Network,
    needs: Sequence[Needs],
    limits: Needs,
    times: Times | None = None,
    effort: int = THOROUGH,
) -> Schedule:
    """A short schedule of all steps.

    Args: needs: what each step uses while it lasts, by resource; limits: how much there is;
        times: of the network, if they are known; effort: steps to move in tries for a shorter one.
    Raises: TooFewHands: a step that can never start.
    """
    for key, need in zip(network.keys, needs, strict=True):
        for resource, amount in need.items():
            if amount > limits.get(resource, 0):
                raise TooFewHands(key, resource, amount, limits.get(resource, 0))
    times = times or times_of(network)
    latest = [late + time for late, time in zip(times.latest, network.hours, strict=True)]
    best = _tightened(network, needs, limits, latest)
    bound = lower_bound(network, needs, limits, times)
    draws = Random(SEED)  # noqa: S311  # a search, no secret
    values = list(best.starts)
    for _ in range(effort // max(1, len(network.keys))):
        if best.length <= bound + 1e-9:
            break
        shaken = [
            value + SHAKE * best.length * draws.uniform(-1, 1) if draws.random() < MOVED else value
            for value in values
        ]
        made = _tightened(network, needs, limits, shaken)
        if made.length <= best.length + 1e-9:
            best, values = made, list(made.starts)
    return best


def _tightened(
    network: Network, needs: Sequence[Needs], limits: Needs, value: Sequence[float]
) -> Schedule:
    """Steps of least value first, then pushed backwards and forwards while it gets shorter."""
    best = _in_order(network, needs, limits, by_value(network.before, network.after, value))
    for _ in range(4):
        better = _justified(network, needs, limits, best)
        if better.length >= best.length - 1e-9:
            return best
        best = better
    return best


def lower_bound(
    network: Network, needs: Sequence[Needs], limits: Needs, times: Times | None = None
) -> float:
    """No schedule is shorter: the longest chain, or the work of the scarcest resource."""
    bound = (times or times_of(network)).length
    for resource, limit in limits.items():
        pairs = zip(needs, network.hours, strict=True)
        work = math.fsum(need.get(resource, 0.0) * time for need, time in pairs)
        bound = max(bound, work / limit)
    return bound


def _justified(network: Network, needs: Sequence[Needs], limits: Needs, made: Schedule) -> Schedule:
    """Push everything as late as it goes, then as early as it goes: it is never longer."""
    ends = [start + time for start, time in zip(made.starts, network.hours, strict=True)]
    mirror = dataclasses.replace(network, before=network.after, after=network.before)
    back = _in_order(
        mirror, needs, limits, by_value(network.after, network.before, [-e for e in ends])
    )
    late = [
        back.length - start - time for start, time in zip(back.starts, network.hours, strict=True)
    ]
    return _in_order(network, needs, limits, by_value(network.before, network.after, late))


class _Profile:
    """How much of one resource is in use from each moment on."""

    def __init__(self, limit: float) -> None:
        self.limit = limit
        self.moments = [0.0]
        self.used = [0.0]

    def first_fit(self, after: float, hours: float, amount: float) -> float:
        """The first moment from ``after`` on at which ``amount`` is free for ``hours``."""
        start = after
        at = bisect.bisect_right(self.moments, start) - 1
        while at < len(self.moments) and self.moments[at] < start + hours - 1e-9:
            if self.used[at] + amount > self.limit + 1e-9:
                at += 1
                start = self.moments[at]
            else:
                at += 1
        return start

    def take(self, start: float, hours: float, amount: float) -> None:
        """Use ``amount`` from ``start`` for ``hours``."""
        first, last = self._split(start), self._split(start + hours)
        for at in range(first, last):
            self.used[at] += amount

    def _split(self, moment: float) -> int:
        at = bisect.bisect_left(self.moments, moment - 1e-9)
        if at < len(self.moments) and abs(self.moments[at] - moment) <= 1e-9:
            return at
        self.moments.insert(at, moment)
        self.used.insert(at, self.used[at - 1])
        return at


def _in_order(
    network: Network, needs: Sequence[Needs], limits: Needs, order: Sequence[int]
) -> Schedule:
    profiles = {resource: _Profile(limit) for resource, limit in limits.items()}
    starts = [0.0] * len(network.keys)
    length = 0.0
    for step in order:
        hours = network.hours[step]
        start = max((starts[b] + network.hours[b] for b in network.before[step]), default=0.0)
        used = [(profiles[name], amount) for name, amount in needs[step].items() if amount]
        while hours:
            fits = max((p.first_fit(start, hours, amount) for p, amount in used), default=start)
            if fits <= start:
                break
            start = fits
        if hours:
            for profile, amount in used:
                profile.take(start, hours, amount)
        starts[step] = start
        length = max(length, start + hours)
    return Schedule(tuple(starts), length)
