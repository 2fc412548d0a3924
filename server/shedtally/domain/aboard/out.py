"""What has come out of the boat, and what must be made safe first."""

from __future__ import annotations

from collections.abc import Iterator

from shedtally.domain.boat import BoatRecords
from shedtally.domain.records import Item
from shedtally.domain.rulebook import Kind


def is_out(item: Item) -> bool:
    """Out of the boat: ashore, gone, or with nothing said but the moment it came out."""
    if item.whereabouts is None:
        return item.out_at is not None
    return item.whereabouts != "aboard"


def is_to_take_out(item: Item) -> bool:
    """Aboard, and neither put there as a new part nor put back after it had come out."""
    return not is_out(item) and not item.never_aboard and not item.back_at


def pieces(item: Item) -> int:
    """How many pieces a record stands for."""
    return max(1, item.count or 1)


def system_of(item: Item, kind: Kind | None) -> str:
    """The system as written on the item, else that of its kind, else empty."""
    return item.system or (kind.system if kind else "")


def systems_to_make_safe(item: Item, kind: Kind | None) -> frozenset[str]:
    """The systems that must be safe before an item may come out.

    A kind that needs none needs none; an item of no known kind needs its own system's.
    """
    own = frozenset({item.system} if item.system else ())
    if kind is None:
        return own
    return frozenset(kind.make_safe) | (own if kind.make_safe else frozenset())


def around(boat: BoatRecords, compartment: str | None) -> Iterator[str]:
    """The keys of a compartment and of those around it, inside first; a ring is walked once."""
    seen: set[str] = set()
    at = compartment
    while at is not None and at not in seen:
        seen.add(at)
        yield at
        inner = boat.compartments.get(at)
        at = inner.within if inner else None
