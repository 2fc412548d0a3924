"""What is left to take out: what can come out today, and what the rest waits for.

An item waits for
* every open make-safe job of a system that its kind needs safe. A make-safe job without a system
  holds back everything in its compartment that needs any; without both, everything that does;
* whatever an order puts before it, until that is out or done.

Counts are pieces. What nobody has said to be out counts as aboard.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from shedtally.domain.boat import BoatRecords
from shedtally.domain.classify import name_of
from shedtally.domain.lists import LeftGroup, LeftItem, LeftList
from shedtally.domain.records import Item, Job
from shedtally.domain.rulebook import Kind, Rules

NOT_PLACED = "Not placed"
NO_SYSTEM = "No system"
UNKNOWN_ORDER = "An order names something that is not known here: check what comes first."


@dataclass(frozen=True, slots=True)
class Case:
    """What every item is judged by, gathered once."""

    boat: BoatRecords
    rules: Rules
    unsafe: tuple[Job, ...]
    tried: frozenset[str]
    befores: Mapping[str, tuple[str, ...]]


def left_to_take_out(boat: BoatRecords, rules: Rules) -> LeftList:
    """Everything still aboard, by compartment and by system.

    Returns: compartments by path, *Not placed* last; systems in the order of systems.toml. A
        group is there as soon as anything belongs to it, also when nothing of it is left.
    """
    case = _case(boat, rules)
    lines = {item.key: _line(case, item) for item in boat.items.values() if not is_out(item)}
    everything = list(boat.items.values())
    left = sum(pieces(item) for item in everything if item.key in lines)
    total = sum(map(pieces, everything))
    return LeftList(
        total=total,
        out=total - left,
        left=left,
        ready=sum(pieces(boat.items[key]) for key, line in lines.items() if line.ready),
        by_compartment=_by_compartment(case, everything, lines),
        by_system=_by_system(case, everything, lines),
    )


def is_out(item: Item) -> bool:
    """Out of the boat: ashore, gone, or with nothing said but the moment it came out."""
    if item.whereabouts is None:
        return item.out_at is not None
    return item.whereabouts != "aboard"


def pieces(item: Item) -> int:
    """How many pieces a record stands for."""
    return max(1, item.count or 1)


def systems_to_make_safe(item: Item, kind: Kind | None) -> frozenset[str]:
    """The systems that must be safe before an item may come out.

    A kind that needs none needs none; an item of no known kind needs its own system's.
    """
    own = frozenset({item.system} if item.system else ())
    if kind is None:
        return own
    return frozenset(kind.make_safe) | (own if kind.make_safe else frozenset())


def _case(boat: BoatRecords, rules: Rules) -> Case:
    safe_jobs = [job for job in boat.jobs.values() if job.task == "make safe"]
    befores: defaultdict[str, list[str]] = defaultdict(list)
    for _, order in sorted(boat.befores.items()):
        if order.then and order.first:
            befores[order.then].append(order.first)
    return Case(
        boat=boat,
        rules=rules,
        unsafe=tuple(job for job in safe_jobs if not job.done_at),
        tried=frozenset(job.system for job in safe_jobs if job.system),
        befores={then: tuple(dict.fromkeys(firsts)) for then, firsts in befores.items()},
    )


def _line(case: Case, item: Item) -> LeftItem:
    kind = case.rules.kinds.get(item.kind or "")
    needed = systems_to_make_safe(item, kind)
    firsts = case.befores.get(f"item/{item.key}", ())
    waits = (*_unsafe(case, item, needed), *_open_orders(case, firsts))
    return LeftItem(
        key=item.key,
        name=name_of(item, kind),
        kind=item.kind or "",
        system=system_of(item, kind),
        tags=case.boat.codes.get(f"item/{item.key}", ()),
        ready=not waits,
        waits_for=tuple(dict.fromkeys(waits)),
        cautions=tuple(_cautions(case, kind, needed, firsts)),
    )


def system_of(item: Item, kind: Kind | None) -> str:
    """The system as written on the item, else that of its kind, else empty."""
    return item.system or (kind.system if kind else "")


def _unsafe(case: Case, item: Item, needed: frozenset[str]) -> Iterator[str]:
    """The open make-safe jobs that hold an item back, in words."""
    if not needed:
        return
    for job in case.unsafe:
        if job.system:
            holds = job.system in needed
        else:
            holds = not job.compartment or job.compartment in _around(case.boat, item)
        if holds:
            yield _job(case.rules, job)


def _job(rules: Rules, job: Job) -> str:
    """An open job in words; the same job reads the same whichever way it holds an item back."""
    row = rules.systems.get(job.system or "")
    if job.task == "make safe":
        usual = (row.make_safe or row.name) if row else "a job without a name"
        return f"Make safe: {job.name or usual}"
    return f"Do first: {job.name or job.task or 'a job without a name'}"


def _around(boat: BoatRecords, item: Item) -> Iterator[str]:
    """The keys of an item's compartment and of those around it."""
    seen: set[str] = set()
    at = item.compartment
    while at is not None and at not in seen:
        seen.add(at)
        yield at
        inner = boat.compartments.get(at)
        at = inner.within if inner else None


def _open_orders(case: Case, firsts: Sequence[str]) -> Iterator[str]:
    """What an order puts before an item and is not out or done yet, in words."""
    for target in firsts:
        table, _, key = target.partition("/")
        item, job = case.boat.items.get(key), case.boat.jobs.get(key)
        if table == "item" and item is not None and not is_out(item):
            yield f"Take out first: {name_of(item, case.rules.kinds.get(item.kind or ''))}"
        elif table == "job" and job is not None and not job.done_at:
            yield _job(case.rules, job)


def _cautions(
    case: Case, kind: Kind | None, needed: frozenset[str], firsts: Sequence[str]
) -> Iterator[str]:
    yield from kind.cautions if kind else ()
    for system in case.rules.systems.values():
        if system.id in needed and system.id not in case.tried and system.make_safe:
            yield f"Nobody has written down that {system.name} was made safe: {system.make_safe}."
    for target in firsts:
        table, _, key = target.partition("/")
        known = case.boat.items if table == "item" else case.boat.jobs
        if key not in known:
            yield UNKNOWN_ORDER


def _by_compartment(
    case: Case, items: Iterable[Item], lines: Mapping[str, LeftItem]
) -> tuple[LeftGroup, ...]:
    boat = case.boat
    groups: defaultdict[str, list[Item]] = defaultdict(list)
    for item in items:
        placed = item.compartment if item.compartment in boat.compartments else None
        groups[placed or ""].append(item)
    made = []
    for key, members in groups.items():
        path = boat.path(key) if key else ()
        made.append(_group(key, path[-1] if path else NOT_PLACED, path, members, lines))
    return tuple(sorted(made, key=lambda group: (not group.path, group.path, group.key)))


def _by_system(
    case: Case, items: Iterable[Item], lines: Mapping[str, LeftItem]
) -> tuple[LeftGroup, ...]:
    systems, kinds = case.rules.systems, case.rules.kinds
    groups: defaultdict[str, list[Item]] = defaultdict(list)
    for item in items:
        system = system_of(item, kinds.get(item.kind or ""))
        groups[system if system in systems else ""].append(item)
    order = [key for key in (*systems, "") if key in groups]
    return tuple(
        _group(key, systems[key].name if key else NO_SYSTEM, (), groups[key], lines)
        for key in order
    )


def _group(
    key: str,
    name: str,
    path: tuple[str, ...],
    members: Sequence[Item],
    lines: Mapping[str, LeftItem],
) -> LeftGroup:
    left = [lines[item.key] for item in members if item.key in lines]
    total = sum(map(pieces, members))
    out = sum(pieces(item) for item in members if item.key not in lines)
    return LeftGroup(
        key=key,
        name=name,
        path=path,
        total=total,
        out=out,
        left=total - out,
        items=tuple(sorted(left, key=lambda line: (not line.ready, line.name, line.key))),
    )
