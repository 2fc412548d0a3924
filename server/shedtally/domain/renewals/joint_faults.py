"""What is joined and doesn't go together: threads of two families, a hose on another tail.

Both sides count as they were: a wrong pair that leaked for years must not be bought again.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from shedtally.domain.aboard.run_ends import RunEnds
from shedtally.domain.boat import BoatRecords
from shedtally.domain.masses.recipe import readable_size
from shedtally.domain.masses.section import nominal_hose
from shedtally.domain.records import End, Item
from shedtally.domain.renewals.clamp import hose_of
from shedtally.domain.renewals.parts import thread_text
from shedtally.domain.renewals.thread import ThreadReader
from shedtally.domain.rulebook import Rules

TAIL = "hose-tail"


@dataclass(frozen=True, slots=True)
class JointFault:
    """Two items that are joined and don't fit, with the reason in a sentence."""

    items: tuple[str, str]
    say: str


def joint_faults(ends: RunEnds, rules: Rules) -> tuple[JointFault, ...]:
    """Every joint of two items whose threads or sizes don't fit; each pair once for each reason."""
    boat, threads = ends.boat, _Threads(ends.boat, rules)
    items = boat.items
    found: dict[tuple[frozenset[str], str], JointFault] = {}
    for end in boat.ends_in_order:
        one, other = items.get(end.item or ""), items.get(end.to_item or "")
        if one is None or other is None:
            continue
        for why in _faults(rules, threads, end, one, other):
            say = f"{ends.called(one)} to {ends.called(other)}: {why}"
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


class _Threads:
    """What is cut on both sides of a joint: on that end, else on the whole item."""

    def __init__(self, boat: BoatRecords, rules: Rules) -> None:
        self._reader = ThreadReader(rules.renewal)
        self._of_ends: dict[tuple[str | None, str | None], str] = {}
        for end in boat.ends_in_order:
            if end.thread:
                self._of_ends.setdefault((end.item, end.to_item), end.thread)

    def mismatch(self, end: End, one: Item, other: Item) -> str:
        """Why the threads of two items that an end joins don't go together; empty if they do."""
        first = end.thread or thread_text(one)
        if not first:
            return ""
        second = self._of_ends.get((other.key, one.key)) or thread_text(other)
        return self._reader.mismatch(first, second) if second else ""


def _faults(rules: Rules, threads: _Threads, end: End, one: Item, other: Item) -> Sequence[str]:
    thread = threads.mismatch(end, one, other)
    # Most ends have no tail and no misfit, and boats have thousands of ends.
    if not thread and TAIL not in (one.kind, other.kind):
        return ()
    tails = (
        _wrong_tail(rules, hose, tail)
        for hose, tail in ((one, other), (other, one))
        if tail.kind == TAIL
    )
    return [why for why in (thread, *tails) if why]


def _wrong_tail(rules: Rules, hose: Item, tail: Item) -> str:
    bore = hose_of(hose, rules.kinds.get(hose.kind or ""), rules)
    size = readable_size(tail.size)
    if bore is None or size is None or size.thread or size.mm is None:
        return ""
    fits = nominal_hose(size.mm, rules.sizes)
    if fits is None or fits == bore:
        return ""
    return f"hose {bore.shown} on a tail for {fits.shown}: measure both before you order."
