"""All records of one boat, as the calculations read them.

Built from plain field values (`from_values`); binned records are left out, unknown tables and
fields are ignored. Dangling references are normal while changes are still on their way, so every
lookup answers ``None`` rather than failing.
"""

from __future__ import annotations

import functools
from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TypeVar

from shedtally.domain import records
from shedtally.domain.records.shape import Field, JsonValue, faults, fields_of

R = TypeVar("R", bound=records.Record)

# Photographs and their pins are many and no calculation looks at them: a boat is read without.
READ: Mapping[str, type[records.Record]] = {
    name: record for name, record in records.TABLES.items() if name not in ("photo", "pin")
}


@dataclass(frozen=True)
class BoatRecords:
    """One boat and everything recorded of it; each mapping is keyed by the record's key."""

    boat: records.Boat
    compartments: Mapping[str, records.Compartment] = field(default_factory=dict)
    items: Mapping[str, records.Item] = field(default_factory=dict)
    ends: Mapping[str, records.End] = field(default_factory=dict)
    tags: Mapping[str, records.Tag] = field(default_factory=dict)
    places: Mapping[str, records.Place] = field(default_factory=dict)
    containers: Mapping[str, records.Container] = field(default_factory=dict)
    jobs: Mapping[str, records.Job] = field(default_factory=dict)
    befores: Mapping[str, records.Before] = field(default_factory=dict)
    handovers: Mapping[str, records.Handover] = field(default_factory=dict)
    corrections: Mapping[str, records.Correction] = field(default_factory=dict)
    mixings: Mapping[str, records.Mixing] = field(default_factory=dict)
    works: Mapping[str, records.Work] = field(default_factory=dict)
    prices: Mapping[str, records.Price] = field(default_factory=dict)
    specs: Mapping[str, records.Spec] = field(default_factory=dict)
    purchases: Mapping[str, records.Purchase] = field(default_factory=dict)
    leftovers: Mapping[str, records.Leftover] = field(default_factory=dict)
    weighings: Mapping[str, records.Weighing] = field(default_factory=dict)
    weighed: Mapping[str, records.Weighed] = field(default_factory=dict)
    tanks: Mapping[str, records.Tank] = field(default_factory=dict)
    dip_marks: Mapping[str, records.DipMark] = field(default_factory=dict)
    soundings: Mapping[str, records.Sounding] = field(default_factory=dict)
    lifts: Mapping[str, records.Lift] = field(default_factory=dict)
    eyes: Mapping[str, records.Eye] = field(default_factory=dict)

    def path(self, compartment: str | None) -> tuple[str, ...]:
        """Names from the outermost compartment inwards; empty for an unknown key.

        A compartment that was moved under its own child on two phones makes a ring; the path
        stops where it would repeat.
        """
        names: list[str] = []
        seen: set[str] = set()
        at = compartment
        while at is not None and at not in seen and at in self.compartments:
            seen.add(at)
            names.append(self.compartments[at].name or "unnamed")
            at = self.compartments[at].within
        return tuple(reversed(names))

    @functools.cached_property
    def compartment_rings(self) -> tuple[tuple[str, ...], ...]:
        """Rings of compartments that lie in each other, by their names, each once.

        Each phone refuses to make one; two that were apart still can. All that reads the tree stops
        where it would repeat.
        """
        found: list[tuple[str, ...]] = []
        done: set[str] = set()
        for key in sorted(self.compartments):
            way: list[str] = []
            at: str | None = key
            while at is not None and at in self.compartments and at not in done:
                done.add(at)
                way.append(at)
                at = self.compartments[at].within
            if at in way:
                ring = way[way.index(at) :]
                found.append(tuple(self.compartments[one].name or "unnamed" for one in ring))
        return tuple(found)

    @functools.cached_property
    def codes(self) -> Mapping[str, tuple[str, ...]]:
        """Tag codes by target (``item/key``), in code order."""
        found: defaultdict[str, list[str]] = defaultdict(list)
        for code in sorted(self.tags):
            target = self.tags[code].on
            if target:
                found[target].append(code)
        return {target: tuple(codes) for target, codes in found.items()}

    @functools.cached_property
    def items_in(self) -> Mapping[str, Sequence[records.Item]]:
        """The items in each container, by its key."""
        return _by(self.items.values(), lambda item: item.container)

    @functools.cached_property
    def went_in(self) -> Mapping[str, Sequence[records.Container]]:
        """The containers that went with each handover, by its key."""
        return _by(self.containers.values(), lambda box: box.handover)

    @functools.cached_property
    def went_loose(self) -> Mapping[str, Sequence[records.Item]]:
        """The items that went with each handover outside of its containers, by its key."""
        return _by(self.items.values(), lambda item: item.handover)

    @functools.cached_property
    def corrections_of(self) -> Mapping[str, Sequence[records.Correction]]:
        """What was written of each handover after its list was frozen, by its key."""
        return _by(self.corrections.values(), lambda row: row.handover)

    @functools.cached_property
    def mixing_of(self) -> Mapping[tuple[str, str], records.Mixing]:
        """Who put an item into a container all the same, by both keys; the first who said so."""
        found: dict[tuple[str, str], records.Mixing] = {}
        for one in self.mixings.values():
            found.setdefault((one.container or "", one.item or ""), one)
        return found

    @functools.cached_property
    def ends_in_order(self) -> tuple[records.End, ...]:
        """All ends, in key order."""
        return tuple(self.ends[key] for key in sorted(self.ends))

    @functools.cached_property
    def ends_by_item(self) -> Mapping[str, Sequence[records.End]]:
        """The ends of each item, by its key, in key order."""
        return _by(self.ends_in_order, lambda end: end.item)

    @functools.cached_property
    def ends_to_item(self) -> Mapping[str, Sequence[records.End]]:
        """The ends of other items that are joined to each item, by its key, in key order."""
        return _by((end for end in self.ends_in_order if end.item), lambda end: end.to_item)


def from_values(
    boat_key: str, rows: Iterable[tuple[str, str, Mapping[str, JsonValue]]]
) -> BoatRecords:
    """Build the records of a boat from ``(table, key, values)`` rows in any order.

    Rows of tables outside ``READ`` are passed over. A value that a newer or faulty phone wrote in
    a form this version can't use reads as missing.
    """
    tables: dict[str, dict[str, records.Record]] = {table: {} for table in READ}
    for table, key, values in rows:
        record = READ.get(table)
        if record is not None and not values.get("binned"):
            tables[table][key] = read(record, key, values)
    boat = tables["boat"].get(boat_key)
    return BoatRecords(
        boat=boat if isinstance(boat, records.Boat) else records.Boat(key=boat_key),
        compartments=_only(records.Compartment, tables["compartment"]),
        items=_only(records.Item, tables["item"]),
        ends=_only(records.End, tables["end"]),
        tags=_only(records.Tag, tables["tag"]),
        places=_only(records.Place, tables["place"]),
        containers=_only(records.Container, tables["container"]),
        jobs=_only(records.Job, tables["job"]),
        befores=_only(records.Before, tables["before"]),
        handovers=_only(records.Handover, tables["handover"]),
        corrections=_only(records.Correction, tables["correction"]),
        mixings=_only(records.Mixing, tables["mixing"]),
        works=_only(records.Work, tables["work"]),
        prices=_only(records.Price, tables["price"]),
        specs=_only(records.Spec, tables["spec"]),
        purchases=_only(records.Purchase, tables["purchase"]),
        leftovers=_only(records.Leftover, tables["leftover"]),
        weighings=_only(records.Weighing, tables["weighing"]),
        weighed=_only(records.Weighed, tables["weighed"]),
        tanks=_only(records.Tank, tables["tank"]),
        dip_marks=_only(records.DipMark, tables["dipmark"]),
        soundings=_only(records.Sounding, tables["sounding"]),
        lifts=_only(records.Lift, tables["lift"]),
        eyes=_only(records.Eye, tables["eye"]),
    )


def read(record: type[R], key: str, values: Mapping[str, JsonValue]) -> R:
    """One record from its field values; unknown fields and unusable values are left out."""
    known: Mapping[str, Field] = fields_of(record)  # type: ignore[arg-type]  # a class is hashable
    unusable = {fault.field for fault in faults(record, values)}
    usable = {
        name: _whole(value) if known[name].type is int else value
        for name, value in values.items()
        if name in known and name not in unusable
    }
    return record(key=key, **usable)  # type: ignore[arg-type]  # checked by `faults` just above


def _whole(value: JsonValue) -> JsonValue:
    """``3.0`` as 3: the same number in JSON, but nothing can be repeated 3.0 times."""
    return int(value) if isinstance(value, float) else value


def _by(rows: Iterable[R], key: Callable[[R], str | None]) -> dict[str, list[R]]:
    """Rows by what they name, in their order; those that name nothing are left out."""
    found: defaultdict[str, list[R]] = defaultdict(list)
    for row in rows:
        if name := key(row):
            found[name].append(row)
    return dict(found)


def _only(record: type[R], rows: Mapping[str, records.Record]) -> dict[str, R]:
    return {key: row for key, row in rows.items() if isinstance(row, record)}
