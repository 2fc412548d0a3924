"""The records of a boat, as its changes have made them."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from typing import TypeAlias

from sqlalchemy import Text, cast, exists, literal, select, tuple_
from sqlalchemy.orm import Session

from shedtally.domain.aboard.pinned import PinnedPhoto, pinned_photos
from shedtally.domain.boat import READ, BoatRecords, from_values, read
from shedtally.domain.records import Photo, Pin
from shedtally.domain.records.shape import JsonValue
from shedtally.domain.sync import merge
from shedtally.domain.sync.merge import State
from shedtally.domain.sync.packing import Packed, packed, unpacked
from shedtally.storage import tables
from shedtally.storage.among import among, by_first
from shedtally.storage.bulk import json_text, replace_rows

Name: TypeAlias = tuple[str, str]
# Table, key, and the JSON text of values and packed versions.
StoredRecord: TypeAlias = tuple[str, str, str, str]

_record = tables.record


class RecordStore:
    """The records of one boat, by (table, key)."""

    def __init__(self, session: Session, boat: str) -> None:
        self._session = session
        self._boat = boat

    def states(self, names: Collection[Name]) -> dict[Name, State]:
        """The states of those of these records that exist."""
        found = {}
        for table, keys in by_first(names).items():
            query = select(_record.c.key, _record.c["values"], _record.c.versions).where(
                _record.c.boat == self._boat,
                _record.c.table_name == table,
                among(self._session, _record.c.key, keys),
            )
            for key, values, versions in self._session.execute(query):
                found[table, key] = _state(values, versions)
        return found

    def keep(self, states: Mapping[Name, State], cursor: int) -> None:
        """Write these records, last changed at ``cursor``."""
        rows = [
            (
                self._boat,
                table,
                key,
                json_text(dict(state.values)),
                json_text(packed(state.versions)),
                cursor,
            )
            for (table, key), state in states.items()
        ]
        replace_rows(self._session, _record, rows)

    def stored(self, after: Name | None, limit: int) -> list[StoredRecord]:
        """At most ``limit`` records as they are stored, in order of name, from past ``after``."""
        query = (
            select(
                _record.c.table_name,
                _record.c.key,
                cast(_record.c["values"], Text),
                cast(_record.c.versions, Text),
            )
            .where(_record.c.boat == self._boat)
            .order_by(_record.c.table_name, _record.c.key)
            .limit(limit)
        )
        if after is not None:
            past = tuple_(literal(after[0]), literal(after[1]))
            query = query.where(tuple_(_record.c.table_name, _record.c.key) > past)
        return [(table, key, vals, by) for table, key, vals, by in self._session.execute(query)]

    def read_boat(self) -> BoatRecords:
        """All records, as the calculations read them."""
        return from_values(self._boat, self._shown(READ))

    def read_boat_with(self, others: Mapping[Name, State]) -> BoatRecords:
        """All records, with ``others`` in the place of those that are stored."""
        rows = [
            (table, key, values)
            for table, key, values in self._shown(READ)
            if (table, key) not in others
        ]
        rows += [(table, key, merge.shown(state)) for (table, key), state in others.items()]
        return from_values(self._boat, sorted(rows, key=lambda row: row[:2]))

    def pinned(self) -> tuple[PinnedPhoto, ...]:
        """The photographs that have pins on them; of the others nothing is read."""
        pins = {
            key: read(Pin, key, values)
            for _, key, values in self._shown(["pin"])
            if not values.get("binned")
        }
        names = {("photo", pin.photo) for pin in pins.values() if pin.photo}
        shown = {key: merge.shown(state) for (_, key), state in self.states(names).items()}
        photos = {
            key: read(Photo, key, values)
            for key, values in shown.items()
            if not values.get("binned")
        }
        return pinned_photos(pins, photos)

    def missing_photos(self) -> list[str]:
        """Digests that photo records name and whose bytes haven't arrived, sorted."""
        # The database looks into the values: reading 60,000 of them here takes over a second.
        digest, binned = (_record.c["values"][name].as_string() for name in ("sha256", "binned"))
        query = select(_record.c.key, digest, binned).where(
            _record.c.boat == self._boat,
            _record.c.table_name == "photo",
            ~exists().where(tables.photo.c.sha256 == digest),
        )
        rows = self._session.execute(query).all()
        # Of those that were ever in the bin, merging says whether they still are.
        unclear = {("photo", key) for key, _, was_binned in rows if was_binned is not None}
        inside = {
            key
            for (_, key), state in self.states(unclear).items()
            if merge.shown(state).get("binned")
        }
        return sorted({one for key, one, _ in rows if one is not None and key not in inside})

    def _shown(self, wanted: Iterable[str]) -> Iterator[tuple[str, str, Mapping[str, JsonValue]]]:
        query = select(
            _record.c.table_name, _record.c.key, _record.c["values"], _record.c.versions
        ).where(_record.c.boat == self._boat, _record.c.table_name.in_(list(wanted)))
        # PostgreSQL hands rows out as they lie, and rewritten ones lie elsewhere.
        query = query.order_by(_record.c.table_name, _record.c.key)
        for table_name, key, values, versions in self._session.execute(query):
            if "binned" in values:
                yield table_name, key, merge.shown(_state(values, versions))
            else:
                yield table_name, key, values


def boats(session: Session) -> list[tuple[str, str]]:
    """Key and name of every boat that isn't in the bin, in order of name."""
    query = select(_record).where(_record.c.table_name == "boat", _record.c.key == _record.c.boat)
    found = []
    for row in session.execute(query).mappings():
        values = merge.shown(_state(row["values"], row["versions"]))
        if not values.get("binned"):
            found.append((str(row["key"]), str(values.get("name") or "unnamed")))
    return sorted(found, key=lambda boat: (boat[1].casefold(), boat[0]))


def _state(values: Mapping[str, JsonValue], versions: Packed) -> State:
    return State(values, unpacked(versions, values))
