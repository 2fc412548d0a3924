"""What is joined and doesn't go together: threads of two families, a hose on another tail.

Both sides count as they were: a wrong pair that leaked for years must not be bought again.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from shedtally.domain.boat import BoatRecords
from shedtally.domain.clamp import hose_of
from shedtally.domain.recipe import readable_size
from shedtally.domain.records import End, Item
from shedtally.domain.renewal_parts import thread_text
from shedtally.domain.rulebook import Rules
from shedtally.domain.run_ends import called
from shedtally.domain.section import nominal_hose
from shedtally.domain.thread import Thread, mismatch, parse_thread
from shedtally.domain.unreadable import Unreadable

TAIL = "hose-tail"


@dataclass(frozen=True, slots=True)
class JointFault:
    """Two items that are joined and don't fit, with the reason in a sentence."""

    items: tuple[str, str]
    say: str


def joint_faults(boat: BoatRecords, rules: Rules) -> tuple[JointFault, ...]:
    """Every joint of two items whose threads or sizes don't fit; each pair once for each reason."""
    found: dict[tuple[frozenset[str], str], JointFault] = {}
    for _, end in sorted(boat.ends.items()):
        one, other = boat.items.get(end.item or ""), boat.items.get(end.to_item or "")
        if one is None or other is None:
            continue
        for why in _faults(boat, rules, end, one, other):
            say = f"{called(boat, rules, one)} to {called(boat, rules, other)}: {why}"
            fault = JointFault((one.key, other.key), say)
            found.setdefault((frozenset(fault.items), _reason(why)), fault)
    return tuple(found.values())


def by_item(faults: tuple[JointFault, ...]) -> Mapping[str, tuple[str, ...]]:
    """The sentences that concern each item, by its key."""
    found: defaultdict[str, list[str]] = defaultdict(list)
    for fault in faults:
        for key in fault.items:
            found[key].append(fault.say)
    return {key: tuple(says) for key, says in found.items()}


def _reason(why: str) -> str:
    return why.partition(": ")[2]


def _faults(boat: BoatRecords, rules: Rules, end: End, one: Item, other: Item) -> Iterator[str]:
    back = next(
        (row for row in boat.ends_by_item.get(other.key, ()) if row.to_item == one.key), None
    )
    first = _cut(end.thread or thread_text(one), rules)
    second = _cut((back.thread if back else None) or thread_text(other), rules)
    if first and second:
        why = mismatch(first, second, rules.renewal)
        if why:
            yield why
    yield from _wrong_tail(rules, one, other)
    yield from _wrong_tail(rules, other, one)


def _cut(text: str, rules: Rules) -> Thread | None:
    if not text:
        return None
    try:
        return parse_thread(text, rules.renewal)
    except Unreadable:
        return None


def _wrong_tail(rules: Rules, hose: Item, tail: Item) -> Iterator[str]:
    bore = hose_of(hose, rules.kinds.get(hose.kind or ""), rules)
    size = readable_size(tail.size) if tail.kind == TAIL else None
    if bore is None or size is None or size.thread or size.mm is None:
        return
    fits = nominal_hose(size.mm, rules.sizes)
    if fits is not None and fits != bore:
        yield f"hose {bore.shown} on a tail for {fits.shown}: measure both before you order."
