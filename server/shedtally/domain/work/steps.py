"""The open work of a boat as steps: what is still aboard, open jobs, and what comes before what.

A step is named by its target, ``item/key`` or ``job/key``. Two sorts have no record: ``safe/fuel``
is the making safe that nobody has written down yet, ``compartment/key`` the moment from which a
compartment may be worked in, ``empty/key`` the one at which nothing is left in it.

Fuel, gas, batteries and shore power are strict: nothing of them is ready before somebody has
written down that they were made safe. Elsewhere a missing make-safe job is a caution (`left.py`).
"""

from __future__ import annotations

import functools
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from shedtally.domain.aboard.named import name_of
from shedtally.domain.aboard.out import around, is_to_take_out, system_of, systems_to_make_safe
from shedtally.domain.boat import BoatRecords
from shedtally.domain.records import Item, Job
from shedtally.domain.rulebook import Rules
from shedtally.domain.work.effort import Toll, toll_of_item, toll_of_job, toll_of_making_safe
from shedtally.domain.work.network import Network, arrange_distinct, opened_by

Order = tuple[str, str]
# What the toll of an item comes from: kind, system, count, hours that somebody wrote.
Alike = tuple[str | None, str | None, int | None, float | None]

# Systems whose vapour a spark sets off.
EXPLOSIVE = ("fuel", "gas")


@dataclass(frozen=True, slots=True)
class Step:
    """One piece of open work. A gate takes no time and nobody does it."""

    target: str
    name: str
    system: str
    compartment: str
    toll: Toll
    gate: bool = False


@dataclass(frozen=True)
class Steps:
    """All open steps by target, and the orders among them, none of them twice."""

    steps: Mapping[str, Step]
    orders: tuple[Order, ...]

    @functools.cached_property
    def network(self) -> Network:
        """The steps as a network, in likely hours."""
        hours = {target: step.toll.hours.likely for target, step in self.steps.items()}
        return arrange_distinct(hours, self.orders)


def steps_of(boat: BoatRecords, rules: Rules) -> Steps:
    """The open work of a boat.

    What is out, gone, back, done or new is no step, and orders that name it hold nothing back any
    more.
    """
    steps: dict[str, Step] = {}
    alike: dict[Alike, Toll] = {}
    for item in boat.items.values():
        if is_to_take_out(item):
            steps[f"item/{item.key}"] = _of_item(item, rules, alike)
    for job in boat.jobs.values():
        if not job.done_at:
            steps[f"job/{job.key}"] = _of_job(job, rules)
    orders = [*_written(boat, steps), *_making_safe(boat, rules, steps)]
    orders += _no_sparks(boat, rules, steps)
    among = {order: None for order in orders if order[0] in steps and order[1] in steps}
    return Steps(steps, _without_open_gates(steps, tuple(among)))


def opened(open_steps: Steps, target: str) -> tuple[str, ...]:
    """The steps that wait for this one alone, also through gates: doing it makes them ready."""
    network = open_steps.network
    found: list[str] = []
    for then in opened_by(network, network.number[target]):
        key = network.keys[then]
        found += opened(open_steps, key) if open_steps.steps[key].gate else [key]
    return tuple(found)


def job_name(job: Job, rules: Rules) -> str:
    """What a job is called, also one that nobody named."""
    row = rules.systems.get(job.system or "")
    if job.task == "make safe":
        usual = (row.make_safe or row.name) if row else "a job without a name"
        return f"Make safe: {job.name or usual}"
    return job.name or (job.task or "a job without a name").capitalize()


def _of_item(item: Item, rules: Rules, alike: dict[Alike, Toll]) -> Step:
    kind = rules.kinds.get(item.kind or "")
    # A boat has tens of thousands of items, of some hundred sorts.
    sort = item.kind, item.system, item.count, item.work_hours
    toll = alike.get(sort)
    if toll is None:
        toll = alike[sort] = toll_of_item(item, rules)
    return Step(
        target=f"item/{item.key}",
        name=name_of(item, kind),
        system=system_of(item, kind),
        compartment=item.compartment or "",
        toll=toll,
    )


def _of_job(job: Job, rules: Rules) -> Step:
    return Step(
        target=f"job/{job.key}",
        name=job_name(job, rules),
        system=job.system or "",
        compartment=job.compartment or "",
        toll=toll_of_job(job, rules),
    )


def _written(boat: BoatRecords, steps: dict[str, Step]) -> Iterator[Order]:
    """The orders that people wrote or accepted, with gates for whole compartments."""
    gates: set[str] = set()
    for key in sorted(boat.befores):
        before = boat.befores[key]
        first, then = before.first, before.then
        if not first or not then:
            continue
        if first.startswith("compartment/"):
            first = f"empty/{first.removeprefix('compartment/')}"
            gates.add(first)
        if then.startswith("compartment/"):
            gates.add(then)
        yield first, then
    if gates:
        yield from _through_gates(boat, steps, gates)


def _through_gates(boat: BoatRecords, steps: dict[str, Step], gates: set[str]) -> Iterator[Order]:
    """Each gate as a step, before or after everything that lies in its compartment."""
    for gate in sorted(gates):
        steps[gate] = _gate(boat, gate)
    for target, step in list(steps.items()):
        if step.gate:
            continue
        for key in around(boat, step.compartment or None):
            if f"compartment/{key}" in gates:
                yield f"compartment/{key}", target
            if f"empty/{key}" in gates:
                yield target, f"empty/{key}"


def _without_open_gates(steps: dict[str, Step], orders: tuple[Order, ...]) -> tuple[Order, ...]:
    """Take out the gates that nothing holds shut any more, and the orders from them."""
    while True:
        held = {then for _, then in orders}
        opened = {target for target, step in steps.items() if step.gate and target not in held}
        if not opened:
            return orders
        for target in opened:
            del steps[target]
        orders = tuple(order for order in orders if order[0] not in opened)


def _gate(boat: BoatRecords, target: str) -> Step:
    sort, _, key = target.partition("/")
    path = boat.path(key)
    name = path[-1] if path else "a compartment that is not known here"
    words = f"{name} is empty" if sort == "empty" else f"Way into {name}"
    return Step(target, words, "", key, toll=Toll.nothing(), gate=True)


def _no_sparks(boat: BoatRecords, rules: Rules, steps: dict[str, Step]) -> Iterator[Order]:
    """Fuel and gas are made safe before anything that makes sparks, whatever it belongs to."""
    sparks = [target for target, step in steps.items() if step.toll.sparks]
    if not sparks:
        return
    safety = _safety(boat)
    aboard = {step.system for target, step in steps.items() if target.startswith("item/")}
    for system in EXPLOSIVE:
        first = list(safety.by_system.get(system, ()))
        if system not in safety.written and system in aboard:
            first.append(_missing(system, rules, steps))
        yield from ((one, other) for one in first for other in sparks if one != other)


@dataclass(frozen=True, slots=True)
class _Safety:
    """The open make-safe jobs by what they hold back, and the systems somebody thought of."""

    by_system: Mapping[str, Sequence[str]]
    by_compartment: Mapping[str, Sequence[str]]
    everywhere: Sequence[str]
    written: frozenset[str]


def _safety(boat: BoatRecords) -> _Safety:
    jobs = [job for job in boat.jobs.values() if job.task == "make safe"]
    by_system: defaultdict[str, list[str]] = defaultdict(list)
    by_compartment: defaultdict[str, list[str]] = defaultdict(list)
    everywhere: list[str] = []
    for job in jobs:
        if job.done_at:
            continue
        if job.system:
            held = by_system[job.system]
        elif job.compartment:
            held = by_compartment[job.compartment]
        else:
            held = everywhere
        held.append(f"job/{job.key}")
    written = frozenset(job.system for job in jobs if job.system)
    return _Safety(by_system, by_compartment, everywhere, written)


def _making_safe(boat: BoatRecords, rules: Rules, steps: dict[str, Step]) -> Iterator[Order]:
    """Make-safe jobs, written down or not, before everything that needs them."""
    safety = _safety(boat)
    alike: dict[tuple[str | None, str | None], Sequence[str]] = {}
    for item in boat.items.values():
        sort = item.kind, item.system
        needed = alike.get(sort)
        if needed is None:
            kind = rules.kinds.get(item.kind or "")
            needed = alike[sort] = sorted(systems_to_make_safe(item, kind))
        if needed and f"item/{item.key}" in steps:
            yield from _made_safe(boat, rules, steps, safety, (item, needed))


def _made_safe(
    boat: BoatRecords,
    rules: Rules,
    steps: dict[str, Step],
    safety: _Safety,
    wanted: tuple[Item, Sequence[str]],
) -> Iterator[Order]:
    item, needed = wanted
    target = f"item/{item.key}"
    for system in needed:
        for job in safety.by_system.get(system, ()):
            yield job, target
        if system not in safety.written and _is_strict(system, rules):
            yield _missing(system, rules, steps), target
    if safety.everywhere or safety.by_compartment:
        yield from _places_made_safe(boat, safety, steps[target], target)


def _places_made_safe(
    boat: BoatRecords, safety: _Safety, step: Step, target: str
) -> Iterator[Order]:
    yield from ((job, target) for job in safety.everywhere)
    if safety.by_compartment:
        for key in around(boat, step.compartment or None):
            yield from ((job, target) for job in safety.by_compartment.get(key, ()))


def _is_strict(system: str, rules: Rules) -> bool:
    row = rules.systems.get(system)
    return row is not None and bool(row.strict)


def _missing(system: str, rules: Rules, steps: dict[str, Step]) -> str:
    """The step for a make-safe job that nobody has written down."""
    target = f"safe/{system}"
    if target not in steps:
        name = f"Make safe: {rules.systems[system].make_safe}"
        steps[target] = Step(target, name, system, "", toll_of_making_safe(system, rules))
    return target
