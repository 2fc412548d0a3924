"""How it goes back: the reverse of how it came out, with joins, fasteners and what is missing.

The order is that of the orders turned round: what had to come out first goes back last. Orders that
were never written can't be turned round; there, what came out last goes back first.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from shedtally.domain.aboard.named import name_of
from shedtally.domain.aboard.out import around, is_out, pieces, system_of
from shedtally.domain.boat import BoatRecords
from shedtally.domain.buying.new_parts import buying, new_parts
from shedtally.domain.records import End, Item
from shedtally.domain.renewals.lines import is_renewed
from shedtally.domain.rulebook import Rules
from shedtally.domain.work.left import NO_SYSTEM, NOT_PLACED
from shedtally.domain.work.network import arrange, by_value

GOES_BACK = frozenset({"refit", "renew", None, "undecided"})


@dataclass(frozen=True, slots=True)
class BackJoin:
    """Where one end goes: to a tagged item or to a point in words, and how it was joined."""

    label: str
    to: str
    tags: tuple[str, ...]
    joined: str


@dataclass(frozen=True, slots=True)
class BackItem:
    """One thing that goes back. ``after`` names what must be in place before it.

    ``state``: ``here`` in the shed, ``new`` wanted, ``gone``, ``back`` in its place. ``order``
    counts from 1 through the whole boat. ``in_place_of`` is the old item where this is a new part:
    name, tags and shelf are those of the new one, the rest is how the old one sat, and ``old_name``
    and ``old_tags`` say which that was.
    """

    key: str
    order: int
    name: str
    tags: tuple[str, ...]
    system: str
    path: tuple[str, ...]
    sat: str
    count: int
    fastened: str
    note: str
    place: tuple[str, ...]
    joins: tuple[BackJoin, ...]
    after: tuple[str, ...]
    state: str
    missing: str
    in_place_of: str = ""
    old_name: str = ""
    old_tags: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class BackGroup:
    """A compartment or a system, and what goes back there, in order."""

    key: str
    name: str
    path: tuple[str, ...]
    back: int
    total: int
    items: tuple[BackItem, ...]


@dataclass(frozen=True, slots=True)
class PutBackList:
    """Everything that goes back, twice; and how much of it already has."""

    total: int
    back: int
    missing: int
    by_compartment: tuple[BackGroup, ...]
    by_system: tuple[BackGroup, ...]
    rings: tuple[tuple[str, ...], ...]


def put_back(boat: BoatRecords, rules: Rules) -> PutBackList:
    """What goes back and in which order.

    Scrap, waste and what is sold doesn't, unless a new part is there for it; what nobody has
    decided does, until somebody decides. A new part stands where the old one stood.
    What never came out is already in its place and only named where others come after it.
    """
    new = new_parts(boat)
    going = {
        item.key: item
        for item in boat.items.values()
        if (is_out(item) or item.back_at)
        and (item.key in new or (item.fate in GOES_BACK and not _always_waste(item, rules)))
        and not (item.replaces and item.replaces in boat.items)
    }
    wanted = frozenset(key for key, item in going.items() if is_renewed(item, rules))
    renewal = Renewal(new, buying(boat, rules), wanted)
    orders = list(_reversed_orders(boat, going))
    # Latest out first, so that of those that no order binds the last out is the first in.
    by_time = sorted(going, key=lambda key: (going[key].out_at or "", key), reverse=True)
    network = arrange(dict.fromkeys(by_time, 0.0), orders)
    steps = by_value(network.before, network.after, range(len(by_time)))
    after: defaultdict[str, list[str]] = defaultdict(list)
    for first, then in orders:
        after[then].append(first)
    lines = {}
    for number, step in enumerate(steps, start=1):
        key = network.keys[step]
        behind = [going[first] for first in after[key] if _state(going[first], renewal) != "back"]
        lines[key] = _line(boat, rules, going[key], number, behind, renewal)
    ordered = list(lines.values())
    return PutBackList(
        total=sum(line.count for line in ordered),
        back=sum(line.count for line in ordered if line.state == "back"),
        missing=sum(line.count for line in ordered if line.missing),
        by_compartment=_by_compartment(boat, going, ordered),
        by_system=_by_system(rules, going, ordered),
        rings=tuple(tuple(lines[key].name for key in reversed(ring)) for ring in network.rings),
    )


def _always_waste(item: Item, rules: Rules) -> bool:
    kind = rules.kinds.get(item.kind or "")
    return kind is not None and kind.always_waste


def _reversed_orders(boat: BoatRecords, going: Mapping[str, Item]) -> Iterable[tuple[str, str]]:
    """Each order turned round; a compartment stands for all that goes back into it."""
    inside: defaultdict[str, list[str]] = defaultdict(list)
    for item in going.values():
        for place in around(boat, item.compartment):
            inside[place].append(item.key)
    found: dict[tuple[str, str], None] = {}
    for _, order in sorted(boat.befores.items()):
        firsts = _members(order.first, going, inside)
        thens = _members(order.then, going, inside)
        for first in firsts:
            for then in thens:
                if first != then:
                    found[then, first] = None
    return found


def _members(
    target: str | None, going: Mapping[str, Item], inside: Mapping[str, Sequence[str]]
) -> Sequence[str]:
    table, _, key = (target or "").partition("/")
    if table == "compartment":
        return inside.get(key, ())
    return (key,) if table == "item" and key in going else ()


@dataclass(frozen=True, slots=True)
class Renewal:
    """New parts by the old ones, how far buying has got for each old one, and which are renewed."""

    new: Mapping[str, Item]
    buying: Mapping[str, str]
    wanted: frozenset[str]


def _line(  # noqa: PLR0917  # all of a line's own
    boat: BoatRecords,
    rules: Rules,
    old: Item,
    number: int,
    after: Sequence[Item],
    renewal: Renewal,
) -> BackItem:
    item = renewal.new.get(old.key, old)
    kind = rules.kinds.get(item.kind or old.kind or "")
    state = _state(old, renewal)
    return BackItem(
        key=item.key,
        order=number,
        name=name_of(item, kind),
        tags=boat.codes.get(f"item/{item.key}", ()),
        system=system_of(old, rules.kinds.get(old.kind or "")),
        path=boat.path(old.compartment),
        sat=old.sat or "",
        count=pieces(old),
        fastened=old.fastened or "",
        note=item.note or "",
        place=_place(boat, item),
        joins=tuple(_join(boat, rules, end, renewal) for end in boat.ends_by_item.get(old.key, ())),
        after=tuple(name_of(first, rules.kinds.get(first.kind or "")) for first in after),
        state=state,
        missing=_missing(old, state, renewal),
        in_place_of="" if item is old else old.key,
        old_name="" if item is old else name_of(old, rules.kinds.get(old.kind or "")),
        old_tags=() if item is old else boat.codes.get(f"item/{old.key}", ()),
    )


def _state(item: Item, renewal: Renewal) -> str:
    new = renewal.new.get(item.key)
    if new is not None:
        if new.whereabouts == "gone":
            return "gone"
        return "here" if is_out(new) else "back"
    if not is_out(item):  # taken out a second time, it is out, whatever day it was back
        return "back"
    if item.key in renewal.wanted:
        return _WITHOUT_A_TAG.get(renewal.buying.get(item.key, ""), "new")
    return "gone" if item.whereabouts == "gone" else "here"


def _missing(item: Item, state: str, renewal: Renewal) -> str:
    if state == "gone":
        return "It has gone: a new one is wanted, or it is not put back"
    if state == "new":
        return _BUYING.get(renewal.buying.get(item.key, ""), _BUYING["to buy"])
    known = item.key in renewal.new or item.key in renewal.wanted
    if state == "here" and item.fate in (None, "undecided") and not known:
        return "Nobody has decided whether it goes back"
    return ""


# Why a part that is renewed can't go in yet; once the new one is here, nothing is missing.
_BUYING = {
    "to buy": "To be renewed, and not bought yet",
    "bought": "To be renewed: bought, and not here yet",
}
# What has come and got no tag of its own stands under the old one's name.
_WITHOUT_A_TAG = {"arrived": "here", "fitted": "back"}


def _place(boat: BoatRecords, item: Item) -> tuple[str, ...]:
    """Where it lies in the shed, outermost place first."""
    names: list[str] = []
    seen: set[str] = set()
    at = item.place
    while at and at not in seen and at in boat.places:
        seen.add(at)
        names.append(boat.places[at].name or "unnamed")
        at = boat.places[at].within
    return tuple(reversed(names))


def _join(boat: BoatRecords, rules: Rules, end: End, renewal: Renewal) -> BackJoin:
    """Where an end goes now: to the new part where there is one for what it was joined to."""
    other = boat.items.get(end.to_item or "")
    if other is not None:
        other = renewal.new.get(other.key, other)
        name = name_of(other, rules.kinds.get(other.kind or ""))
        tags = boat.codes.get(f"item/{other.key}", ())
        return BackJoin(end.label or "", name, tags, end.joined or "")
    return BackJoin(end.label or "", end.to_point or "", (), end.joined or "")


def _by_compartment(
    boat: BoatRecords, going: Mapping[str, Item], lines: Sequence[BackItem]
) -> tuple[BackGroup, ...]:
    groups: defaultdict[str, list[BackItem]] = defaultdict(list)
    for line in lines:
        at = going[line.in_place_of or line.key].compartment or ""
        groups[at if at in boat.compartments else ""].append(line)
    made = []
    for key, members in groups.items():
        path = boat.path(key) if key else ()
        made.append(_group(key, path[-1] if path else NOT_PLACED, path, members))
    return tuple(sorted(made, key=lambda group: (not group.path, group.path, group.key)))


def _by_system(
    rules: Rules, going: Mapping[str, Item], lines: Sequence[BackItem]
) -> tuple[BackGroup, ...]:
    groups: defaultdict[str, list[BackItem]] = defaultdict(list)
    for line in lines:
        groups[line.system if line.system in rules.systems else ""].append(line)
    return tuple(
        _group(key, rules.systems[key].name if key else NO_SYSTEM, (), groups[key])
        for key in (*rules.systems, "")
        if key in groups
    )


def _group(key: str, name: str, path: tuple[str, ...], members: Sequence[BackItem]) -> BackGroup:
    return BackGroup(
        key=key,
        name=name,
        path=path,
        back=sum(line.count for line in members if line.state == "back"),
        total=sum(line.count for line in members),
        items=tuple(sorted(members, key=lambda line: line.order)),
    )
