"""Steps and what comes before what: an order to do them in, the longest chain, what is in the way.

Activity on node, after the critical path method (J. E. Kelley and M. R. Walker, 1959): a step takes
a time, and starts when everything before it has ended. Two phones with no signal can each write an
order that is right alone and wrong with the other's; such a ring must not take the lists down. The
orders inside a ring don't count for times, and none of its steps is ever ready.
"""

from __future__ import annotations

import heapq
import operator
from collections import deque
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass

Links = Sequence[Sequence[int]]


@dataclass(frozen=True, slots=True)
class Network:
    """Steps by number, in the order given: ``keys`` names, ``number`` finds them.

    ``after`` and ``before`` hold the orders that count, ``order`` is one in which every step comes
    after all that is before it. ``waiting`` counts the orders into a step, those of rings included.
    ``rings`` has a shortest ring of each knot, its first step not repeated at the end.
    """

    keys: tuple[str, ...]
    number: Mapping[str, int]
    hours: tuple[float, ...]
    before: Links
    after: Links
    order: tuple[int, ...]
    waiting: tuple[int, ...]
    rings: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Times:
    """Earliest and latest start of each step, by number, and how long everything takes.

    In the unit of the steps' times. ``slack`` is how much a step may slip before all do.
    """

    earliest: tuple[float, ...]
    latest: tuple[float, ...]
    length: float

    def slack(self, step: int) -> float:
        """How much later a step may start without making everything longer."""
        return self.latest[step] - self.earliest[step]


def arrange(hours: Mapping[str, float], orders: Iterable[tuple[str, str]]) -> Network:
    """The network of steps and their times under orders ``(first, then)``.

    Orders that name an unknown step are passed over; one that is given twice counts once.
    Raises: ValueError: a time below zero.
    """
    return arrange_distinct(hours, dict.fromkeys(orders))


def arrange_distinct(hours: Mapping[str, float], orders: Iterable[tuple[str, str]]) -> Network:
    """The same where it is known that no order is given twice."""
    keys = tuple(hours)
    times = tuple(hours.values())
    if times and min(times) < 0:
        raise ValueError("a step takes less than no time")
    number = {key: at for at, key in enumerate(keys)}
    after: list[list[int]] = [[] for _ in keys]
    waiting = [0] * len(keys)
    for one, other in orders:
        first, then = number.get(one, -1), number.get(other, -1)
        if first >= 0 and then >= 0:
            after[first].append(then)
            waiting[then] += 1
    order = _sorted(after, waiting)
    rings: tuple[tuple[str, ...], ...] = ()
    if len(order) < len(keys):
        knots = _knots(after, set(range(len(keys))).difference(order))
        rings = tuple(tuple(keys[step] for step in _ring(after, knot)) for knot in knots)
        after = _untied(after, knots)
        order = _sorted(after, _counted(after))
    before: list[list[int]] = [[] for _ in keys]
    for first, thens in enumerate(after):
        for then in thens:
            before[then].append(first)
    return Network(keys, number, times, before, after, tuple(order), tuple(waiting), rings)


def times_of(network: Network) -> Times:
    """Earliest and latest starts: once forwards and once backwards through the network."""
    hours, after = network.hours, network.after
    # Compared by hand: a call of max and min for each order would take longer than all the rest.
    earliest = [0.0] * len(hours)
    for step in network.order:
        end = earliest[step] + hours[step]
        for then in after[step]:
            if end > earliest[then]:  # noqa: PLR1730
                earliest[then] = end
    length = max(map(operator.add, earliest, hours), default=0.0)
    latest = [length - time for time in hours]
    for step in reversed(network.order):
        thens = after[step]
        if thens:
            last = min([latest[then] for then in thens]) - hours[step]
            latest[step] = min(latest[step], last)
    return Times(tuple(earliest), tuple(latest), length)


def longest_chain(network: Network, times: Times | None = None) -> tuple[int, ...]:
    """The steps of a longest chain, first to last; of several the one given first."""
    if not network.keys:
        return ()
    found = times or times_of(network)
    ends = [start + time for start, time in zip(found.earliest, network.hours, strict=True)]
    step = max(range(len(ends)), key=ends.__getitem__)
    chain = [step]
    while network.before[step]:
        step = max(network.before[step], key=ends.__getitem__)
        chain.append(step)
    return tuple(reversed(chain))


def opened_by(network: Network, step: int) -> tuple[int, ...]:
    """The steps that wait for this one alone: doing it makes them ready."""
    return tuple(then for then in network.after[step] if network.waiting[then] == 1)


def by_value(before: Links, after: Links, value: Sequence[float]) -> list[int]:
    """An order of work that takes, of all steps that may come next, the one of least value."""
    waiting = [len(firsts) for firsts in before]
    ready = [(value[step], step) for step, count in enumerate(waiting) if not count]
    heapq.heapify(ready)
    order: list[int] = []
    while ready:
        _, step = heapq.heappop(ready)
        order.append(step)
        for then in after[step]:
            waiting[then] -= 1
            if not waiting[then]:
                heapq.heappush(ready, (value[then], then))
    return order


class Orders:
    """Orders as they come in, and the ring that a further one would close.

    ``also`` gives what follows on a step without an order of its own, like a compartment's gates.
    """

    def __init__(
        self,
        orders: Iterable[tuple[str, str]] = (),
        also: Callable[[str], Iterable[str]] = lambda _: (),
    ) -> None:
        self._after: dict[str, list[str]] = {}
        self._also = also
        for first, then in orders:
            self.add(first, then)

    def add(self, first: str, then: str) -> None:
        """Take an order in, whatever it closes."""
        self._after.setdefault(first, []).append(then)

    def ring(self, first: str, then: str) -> tuple[str, ...]:
        """The ring that ``first`` before ``then`` would close; empty if it closes none.

        Returns: the steps from ``first`` round to the one before it, in the order of work.
        """
        if first == then:
            return (first,)
        came: dict[str, str] = {then: first}
        queue = deque([then])
        while queue:
            at = queue.popleft()
            for onward in (*self._after.get(at, ()), *self._also(at)):
                if onward == first:
                    return _walked(came, first, at)
                if onward not in came:
                    came[onward] = at
                    queue.append(onward)
        return ()


def _walked(came: Mapping[str, str], first: str, last: str) -> tuple[str, ...]:
    steps = [last]
    while steps[-1] != first:
        steps.append(came[steps[-1]])
    return tuple(reversed(steps))


def _sorted(after: Links, waiting: Sequence[int]) -> list[int]:
    """Kahn's sort; what lies in or behind a ring is missing from the result."""
    open_before = list(waiting)
    order = [step for step, count in enumerate(open_before) if not count]
    for step in order:
        for then in after[step]:
            open_before[then] -= 1
            if not open_before[then]:
                order.append(then)
    return order


def _counted(after: Links) -> list[int]:
    counts = [0] * len(after)
    for thens in after:
        for then in thens:
            counts[then] += 1
    return counts


def _untied(after: Links, knots: Iterable[frozenset[int]]) -> list[list[int]]:
    """The orders without those inside a knot."""
    knot_of = {step: at for at, knot in enumerate(knots) for step in knot}
    return [
        [then for then in thens if step not in knot_of or knot_of.get(then) != knot_of[step]]
        for step, thens in enumerate(after)
    ]


def _knots(after: Links, among: set[int]) -> list[frozenset[int]]:
    """Strongly connected steps (R. Tarjan, 1972), without recursion: chains may be long."""
    index: dict[int, int] = {}
    low: dict[int, int] = {}
    stack: list[int] = []
    on_stack: set[int] = set()
    knots: list[frozenset[int]] = []
    for root in sorted(among):
        if root in index:
            continue
        work = [(root, iter(after[root]))]
        index[root] = low[root] = len(index)
        stack.append(root)
        on_stack.add(root)
        while work:
            step, thens = work[-1]
            onward = next((then for then in thens if then in among), None)
            if onward is None:
                work.pop()
                if work:
                    low[work[-1][0]] = min(low[work[-1][0]], low[step])
                if low[step] == index[step]:
                    knots += _cut_off(step, stack, on_stack, after)
            elif onward not in index:
                index[onward] = low[onward] = len(index)
                stack.append(onward)
                on_stack.add(onward)
                work.append((onward, iter(after[onward])))
            elif onward in on_stack:
                low[step] = min(low[step], index[onward])
    return knots


def _cut_off(
    step: int, stack: list[int], on_stack: set[int], after: Links
) -> Iterable[frozenset[int]]:
    """Take a knot off the stack; one step alone is one only if it is before itself."""
    at = stack.index(step)
    knot = frozenset(stack[at:])
    del stack[at:]
    on_stack -= knot
    if len(knot) > 1 or step in after[step]:
        yield knot


def _ring(after: Links, knot: frozenset[int]) -> list[int]:
    """A shortest ring of a knot through its first step."""
    start = min(knot)
    came: dict[int, int] = {}
    queue = deque([start])
    while queue:
        at = queue.popleft()
        for then in after[at]:
            if then == start:
                ring = [at]
                while ring[-1] != start:
                    ring.append(came[ring[-1]])
                return ring[::-1]
            if then in knot and then not in came:
                came[then] = at
                queue.append(then)
    return [start]
