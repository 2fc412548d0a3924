"""Orders that usually hold, offered to a person who may accept each with a tap.

From kinds and how near two things are: joined by an end, in one compartment, in or under the same
part of the boat, bolted together. Only what is still aboard is looked at, nothing that is written
already is offered, and nothing that would close a ring. Source: rules/orders.toml.
"""

from __future__ import annotations

import functools
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from shedtally.domain.aboard.named import name_of
from shedtally.domain.aboard.out import around, is_to_take_out
from shedtally.domain.boat import BoatRecords
from shedtally.domain.records import Item
from shedtally.domain.rulebook import OrderRule, Rules
from shedtally.domain.work.network import Orders
from shedtally.domain.work.steps import Steps, steps_of

# More than so many at once nobody reads; the next ones come when these are settled.
MOST = 60


@dataclass(frozen=True, slots=True)
class Proposal:
    """``first`` before ``then``, both targets, with their names and the reason."""

    first: str
    then: str
    first_name: str
    then_name: str
    why: str
    rule: str


@dataclass(frozen=True)
class _Aboard:
    """What is still aboard by kind, and how things hang together."""

    boat: BoatRecords
    rules: Rules
    by_kind: Mapping[str, Sequence[Item]]
    joined: Mapping[str, frozenset[str]]


def proposals(
    boat: BoatRecords, rules: Rules, most: int = MOST, open_steps: Steps | None = None
) -> tuple[Proposal, ...]:
    """Orders to offer, in the order of the rules; ``most`` of them at most.

    Args: open_steps: of the boat, where they have been made already.
    """
    aboard = _aboard(boat, rules)
    open_steps = open_steps or steps_of(boat, rules)
    taken = set(open_steps.orders)
    orders = Orders(also=_Through(boat, open_steps))
    found: list[Proposal] = []
    for rule in rules.orders:
        for first, then in _pairs(aboard, rule):
            pair = (f"item/{first.key}", then)
            if pair in taken or orders.ring(*pair):
                continue
            taken.add(pair)
            orders.add(*pair)
            found.append(_proposal(aboard, rule, first, then))
            if len(found) == most:
                return tuple(found)
    return tuple(found)


class _Through:
    """What follows on a step: by orders, or through the gates of a whole compartment."""

    def __init__(self, boat: BoatRecords, open_steps: Steps) -> None:
        self.boat, self.open = boat, open_steps

    def __call__(self, target: str) -> Iterable[str]:
        """All that follows on a target at once; on the way into a compartment what lies in it."""
        network = self.open.network
        number = network.number.get(target)
        if number is not None:
            yield from (network.keys[then] for then in network.after[number])
        elif target.startswith("compartment/"):
            yield from self._inside.get(target.removeprefix("compartment/"), ())

    @functools.cached_property
    def _inside(self) -> Mapping[str, Sequence[str]]:
        """What is still to be done in each compartment and below it."""
        found: defaultdict[str, list[str]] = defaultdict(list)
        for target, step in self.open.steps.items():
            if not step.gate:
                for key in around(self.boat, step.compartment or None):
                    found[key].append(target)
        return found


def _aboard(boat: BoatRecords, rules: Rules) -> _Aboard:
    by_kind: defaultdict[str, list[Item]] = defaultdict(list)
    for item in boat.items.values():
        if is_to_take_out(item):
            by_kind[item.kind or ""].append(item)
    joined: defaultdict[str, set[str]] = defaultdict(set)
    for end in boat.ends.values():
        if end.item and end.to_item:
            joined[end.item].add(end.to_item)
            joined[end.to_item].add(end.item)
    return _Aboard(boat, rules, by_kind, {key: frozenset(keys) for key, keys in joined.items()})


def _pairs(aboard: _Aboard, rule: OrderRule) -> Iterator[tuple[Item, str]]:
    firsts = [item for kind in rule.first for item in aboard.by_kind.get(kind, ())]
    levels = {then.removeprefix("level:") for then in rule.then if then.startswith("level:")}
    for first in firsts:
        if levels:
            yield from ((first, place) for place in _places(aboard.boat, first, levels))
        for then in _candidates(aboard, rule, first):
            if then.key != first.key:
                yield first, f"item/{then.key}"


def _candidates(aboard: _Aboard, rule: OrderRule, first: Item) -> Iterator[Item]:
    """The items of the right kinds that are near enough."""
    wanted = [item for kind in rule.then for item in aboard.by_kind.get(kind, ())]
    if rule.where == "joined":
        near = aboard.joined.get(first.key, frozenset())
        yield from (item for item in wanted if item.key in near)
    elif rule.where == "part of":
        yield from (item for item in wanted if first.part_of == item.key)
    elif first.compartment:
        at = set(around(aboard.boat, first.compartment))
        for item in wanted:
            same = item.compartment == first.compartment
            inside = (
                rule.where == "in or under"
                and item.compartment
                and (
                    first.compartment in set(around(aboard.boat, item.compartment))
                    or item.compartment in at
                )
            )
            if same or inside:
                yield item


def _places(boat: BoatRecords, first: Item, levels: set[str]) -> Iterator[str]:
    """The compartments of a level that lie in or below the one in which an item sits."""
    if first.compartment:
        for key, place in sorted(boat.compartments.items()):
            below = place.level in levels and key != first.compartment
            if below and first.compartment in set(around(boat, place.within)):
                yield f"compartment/{key}"


def _proposal(aboard: _Aboard, rule: OrderRule, first: Item, then: str) -> Proposal:
    table, _, key = then.partition("/")
    kinds = aboard.rules.kinds
    if table == "item":
        item = aboard.boat.items[key]
        name = name_of(item, kinds.get(item.kind or ""))
    else:
        name = " › ".join(aboard.boat.path(key))
    return Proposal(
        first=f"item/{first.key}",
        then=then,
        first_name=name_of(first, kinds.get(first.kind or "")),
        then_name=name,
        why=rule.why,
        rule=rule.id,
    )
