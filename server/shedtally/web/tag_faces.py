"""What is printed on the tag of something, so that it can be told without a phone."""

from __future__ import annotations

from collections.abc import Sequence

from shedtally.domain.boat import BoatRecords
from shedtally.domain.rulebook import Rules
from shedtally.printing.tags import TagFace


def blank_faces(codes: Sequence[str]) -> list[TagFace]:
    """Tags printed in advance, with lines to write on."""
    return [TagFace(code) for code in codes]


def filled_faces(codes: Sequence[str], boat: BoatRecords, rules: Rules) -> list[TagFace]:
    """Tags with what the records say of the thing; blank where a code is not in use yet."""
    return [_face(code, boat, rules) for code in codes]


def _face(code: str, boat: BoatRecords, rules: Rules) -> TagFace:
    tag = boat.tags.get(code)
    table, _, key = ((tag.on if tag else None) or "").partition("/")
    if table == "item" and key in boat.items:
        item = boat.items[key]
        kind = rules.kinds.get(item.kind or "")
        title = item.name or (kind.name if kind else "") or "item"
        where = " · ".join(boat.path(item.compartment))
        day = (item.out_at or "")[: len("2026-05-04")]
        return TagFace(code, title, _said(where, item.sat, day), "item")
    if table == "place" and key in boat.places:
        place = boat.places[key]
        return TagFace(code, place.name or "place", _said(place.sort), "place")
    if table == "container" and key in boat.containers:
        container = boat.containers[key]
        stream = rules.streams.get(container.stream or "")
        name = stream.name if stream else container.stream
        return TagFace(code, container.name or name or "container", _said(name), "container")
    return TagFace(code)


def _said(*lines: str | None) -> tuple[str, ...]:
    return tuple(line for line in lines if line)
