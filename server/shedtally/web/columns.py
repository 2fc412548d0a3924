"""A page of a snapshot as JSON by columns, which packs to two thirds of what rows would take.

Records of one table with the same fields stand together: first all their keys, then all values of
the first field, and so on. Names of devices and versions stand once each. The phone's counterpart
is `pwa/src/sync/columns.ts`; `fixtures/contract/snapshot.json` holds both to the same form.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from shedtally.domain.records.shape import JsonValue
from shedtally.domain.sync.packing import split
from shedtally.usecases.send_snapshot import SnapshotPage

_UUID = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}")


def text_of(page: SnapshotPage) -> str:
    """The page as JSON text; its form is told in `sync_schemas.Snapshot`."""
    records = page.records
    # One reading of all the rows' texts is several times faster than one for each.
    values = json.loads(f"[{','.join(row[2] for row in records)}]")
    packed = json.loads(f"[{','.join(row[3] for row in records)}]")
    groups = _grouped(records, values, packed)
    versions = _Versions()
    body = {
        "epoch": page.epoch,
        "cursor": page.cursor,
        "last": page.last,
        "more": page.more,
        "after": "/".join(records[-1][:2]) if records else None,
        "records": [group.as_json(versions) for group in groups],
        "devices": list(versions.devices),
        "versions": versions.as_json(),
    }
    return json.dumps(body, separators=(",", ":"), ensure_ascii=False)


@dataclass
class _Versions:
    """Versions in the order in which they are first needed."""

    places: dict[str, int] = field(default_factory=dict)
    devices: dict[str, int] = field(default_factory=dict)
    found: list[tuple[str, int]] = field(default_factory=list)

    def number(self, version: list[Any]) -> int:
        """0 for the next new one, n for the n-th that came before."""
        stamp, device, change, _cursor = version
        known = self.places.setdefault(change, len(self.places))
        if known < len(self.found):
            return known + 1
        self.found.append((stamp, self.devices.setdefault(device, len(self.devices))))
        return 0

    def as_json(self) -> dict[str, Any]:
        """By columns; times as steps from the one before, ids without their hyphens."""
        times = [int(stamp[:12], 16) for stamp, _ in self.found]
        return {
            "ms": [time - before for before, time in zip([0, *times], times, strict=False)],
            "counters": [int(stamp[12:], 16) for stamp, _ in self.found],
            "devices": [device for _, device in self.found],
            "changes": "".join(self.places).replace("-", ""),
        }


@dataclass
class _Group:
    """Records of one table that have the same fields."""

    table: str
    fields: tuple[str, ...]
    keys: list[str] = field(default_factory=list)
    rows: list[Mapping[str, JsonValue]] = field(default_factory=list)
    packed: list[Any] = field(default_factory=list)

    def as_json(self, versions: _Versions) -> dict[str, Any]:
        """By columns; a key that is a UUID has no hyphens, and nothing between it and the next."""
        are_ids = all(map(_UUID.fullmatch, self.keys))
        return {
            "table": self.table,
            "fields": self.fields,
            "keys": "".join(self.keys).replace("-", "") if are_ids else self.keys,
            "values": [[row[name] for row in self.rows] for name in self.fields],
            "versions": [self._numbers(one, versions) for one in self.packed],
        }

    def _numbers(self, packed: Any, versions: _Versions) -> int | list[int]:  # noqa: ANN401
        found, of = split(packed)
        if isinstance(of, int):
            return versions.number(found[of])
        return [versions.number(found[of[name]]) for name in self.fields]


def _grouped(
    records: Iterable[tuple[str, str, str, str]], values: list[Any], packed: list[Any]
) -> list[_Group]:
    groups: dict[tuple[str, ...], _Group] = {}
    as_met: dict[tuple[str, ...], _Group] = {}
    for (table, key, _, _), row, by in zip(records, values, packed, strict=True):
        met = (table, *row)
        group = as_met.get(met)
        if group is None:
            fields = tuple(sorted(row))
            group = groups.setdefault((table, *fields), _Group(table, fields))
            as_met[met] = group
        group.keys.append(key)
        group.rows.append(row)
        group.packed.append(by)
    return list(groups.values())
