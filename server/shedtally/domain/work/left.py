"""What is left to take out: what can come out today, and what the rest waits for.

An item waits for
* every open make-safe job of a system that its kind needs safe. A make-safe job without a system
  holds back everything in its compartment that needs any; without both, everything that does;
* making safe that nobody has written down, where the system is strict (`steps.py`);
* whatever an order puts before it, until that is out or done.

Counts are pieces. What nobody has said to be out counts as aboard.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence, Set
from dataclasses import dataclass

from shedtally.domain.aboard.named import name_of
from shedtally.domain.aboard.out import is_to_take_out, pieces, system_of, systems_to_make_safe
from shedtally.domain.boat import BoatRecords
from shedtally.domain.lists import LeftGroup, LeftItem, LeftList
from shedtally.domain.records import Item
from shedtally.domain.rulebook import Kind, Rules
from shedtally.domain.work.steps import Steps, steps_of

NOT_PLACED = "Not placed"
NO_SYSTEM = "No system"
UNKNOWN_ORDER = "An order names something that is not known here: check what comes first."


@dataclass(frozen=True, slots=True)
class Case:
    """What every item is judged by, gathered once."""

    boat: BoatRecords
    rules: Rules
    open: Steps
    tried: frozenset[str]
    lost: frozenset[str]
    waits: Mapping[str, tuple[str, ...]]


def left_to_take_out(boat: BoatRecords, rules: Rules, open_steps: Steps | None = None) -> LeftList:
    """Everything still aboard, by compartment and by system.

    A new part that was put in is nothing to take out, and what was put back has come out.

    Returns: compartments by path, *Not placed* last; systems in the order of systems.toml. A
        group is there as soon as anything belongs to it, also when nothing of it is left.
    """
    case = _case(boat, rules, open_steps or steps_of(boat, rules))
    everything = [item for item in boat.items.values() if not item.never_aboard]
    lines = {item.key: _line(case, item) for item in everything if is_to_take_out(item)}
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


def _case(boat: BoatRecords, rules: Rules, open_steps: Steps) -> Case:
    safe_jobs = [job for job in boat.jobs.values() if job.task == "make safe"]
    return Case(
        boat=boat,
        rules=rules,
        open=open_steps,
        tried=frozenset(job.system for job in safe_jobs if job.system),
        lost=frozenset(_lost(boat)),
        waits=waits_for(open_steps),
    )


def waits_for(open_steps: Steps, among: Set[str] | None = None) -> dict[str, tuple[str, ...]]:
    """What each step waits for, in words, by its target; steps that are ready are not there.

    Args: among: the targets that are asked for, where not all are.
    """
    words: defaultdict[str, list[str]] = defaultdict(list)
    # What many steps wait for is put into words once.
    said: dict[str, list[str]] = dict(_into_gates(open_steps))
    orders = open_steps.orders
    for first, then in orders if among is None else [o for o in orders if o[1] in among]:
        texts = said.get(first)
        if texts is None:
            texts = said[first] = [_words(open_steps, first)]
        words[then] += texts
    for ring in open_steps.network.rings:
        names = [open_steps.steps[target].name for target in ring]
        text = f"Orders in a ring, mend one: {' before '.join([*names, names[0]])}"
        for target in ring:
            if among is None or target in among:
                words[target].append(text)
    return {target: tuple(dict.fromkeys(texts)) for target, texts in words.items()}


def _into_gates(open_steps: Steps) -> Mapping[str, list[str]]:
    """What holds the way into each compartment shut, in words."""
    found: defaultdict[str, list[str]] = defaultdict(list)
    for first, then in open_steps.orders:
        if then.startswith("compartment/"):
            found[then].append(_words(open_steps, first))
    return found


def _words(open_steps: Steps, target: str) -> str:
    step = open_steps.steps[target]
    if target.startswith("item/"):
        return f"Take out first: {step.name}"
    if step.gate:
        return f"Wait until {step.name}" if target.startswith("empty/") else step.name
    return step.name if step.name.startswith("Make safe: ") else f"Do first: {step.name}"


def _lost(boat: BoatRecords) -> Iterator[str]:
    """The targets before which an order puts something that is not known here."""
    known = {"item": boat.items, "job": boat.jobs, "compartment": boat.compartments}
    for order in boat.befores.values():
        table, _, key = (order.first or "").partition("/")
        if order.then and order.first and key not in known.get(table, {}):
            yield order.then


def _line(case: Case, item: Item) -> LeftItem:
    kind = case.rules.kinds.get(item.kind or "")
    target = f"item/{item.key}"
    waits = case.waits.get(target, ())
    return LeftItem(
        key=item.key,
        name=name_of(item, kind),
        kind=item.kind or "",
        system=system_of(item, kind),
        tags=case.boat.codes.get(target, ()),
        ready=not waits,
        waits_for=waits,
        cautions=tuple(_cautions(case, kind, systems_to_make_safe(item, kind), target)),
    )


def _cautions(case: Case, kind: Kind | None, needed: frozenset[str], target: str) -> Iterator[str]:
    yield from kind.cautions if kind else ()
    for system in case.rules.systems.values():
        if system.id in needed and system.id not in case.tried and system.make_safe:
            why = f" Nothing of it is ready before: {system.strict}." if system.strict else ""
            yield (
                f"Nobody has written down that {system.name} was made safe: "
                f"{system.make_safe}.{why}"
            )
    if target in case.lost:
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
