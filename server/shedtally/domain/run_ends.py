"""What the two ends of a run are joined to, as far as anybody wrote it down on either side."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from shedtally.domain import tag
from shedtally.domain.boat import BoatRecords
from shedtally.domain.classify import name_of
from shedtally.domain.records import End, Item
from shedtally.domain.rulebook import Rules


@dataclass(frozen=True, slots=True)
class Joint:
    """One end of a run. ``to`` is the item it leads to, else ``point`` names where it ends.

    ``end`` is the record that says so: the run's own, or one of what it is joined to.
    """

    end: End
    label: str
    to: Item | None
    point: str
    held: str


def joints(boat: BoatRecords, run: Item) -> tuple[Joint, ...]:
    """The ends of a run: its own first, then what says of itself that it is joined to the run.

    An end that both sides wrote down counts once.
    """
    own = [_own(boat, end) for end in boat.ends_by_item.get(run.key, ())]
    known = {joint.to.key for joint in own if joint.to}
    others = [
        Joint(end, end.label or "", boat.items[end.item], "", end.joined or "")
        for end in boat.ends_to_item.get(run.key, ())
        if end.item and end.item in boat.items and end.item not in known
    ]
    return (*own, *others)


def said(boat: BoatRecords, rules: Rules, joint: Joint) -> str:
    """Where an end leads, for people: ``Fuel filter (K4F2-X), inlet``; empty if nobody said."""
    return called(boat, rules, joint.to) if joint.to else joint.point


def called(boat: BoatRecords, rules: Rules, item: Item) -> str:
    """An item as people find it: ``Fuel filter (K4F2-X)``."""
    name = name_of(item, rules.kinds.get(item.kind or ""))
    codes = boat.codes.get(f"item/{item.key}", ())
    return f"{name} ({tag.shown(codes[0])})" if codes else name


def same_ends(boat: BoatRecords, runs: Iterator[Item] | list[Item]) -> dict[str, tuple[str, ...]]:
    """Of each run the other runs that join the same two things, by key; without those alone."""
    found: dict[frozenset[str], list[str]] = {}
    for run in runs:
        ends = [joint.to.key if joint.to else f"?{joint.point}" for joint in joints(boat, run)]
        if len(ends) == 2 and "?" not in ends:
            found.setdefault(frozenset(ends), []).append(run.key)
    return {
        key: tuple(other for other in keys if other != key)
        for keys in found.values()
        if len(keys) > 1
        for key in keys
    }


def _own(boat: BoatRecords, end: End) -> Joint:
    to = boat.items.get(end.to_item or "")
    return Joint(end, end.label or "", to, (end.to_point or "").strip(), end.joined or "")
