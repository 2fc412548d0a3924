"""How the versions of a record stand in its row.

Most records were written by one change, or by few, so each version is named once:
``[version]`` where one wrote all fields, else ``[version, ..., {field: place in this list}]``.
Rows of version 0.1.0 have ``{field: version}``; they are read, and written anew with their next
change. A version is ``[stamp, device, change, cursor]``.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any, TypeAlias

from shedtally.domain.sync.merge import Version

Packed: TypeAlias = "list[Any] | dict[str, Any]"


def packed(versions: Mapping[str, Version]) -> Packed:
    """The versions of the fields of a record, as its row has them."""
    first = next(iter(versions.values()))
    if all(version is first for version in versions.values()):
        return [[first.stamp, first.device, first.change, first.cursor]]
    places: dict[Version, int] = {}
    of = {field: places.setdefault(version, len(places)) for field, version in versions.items()}
    found: list[Any] = [[one.stamp, one.device, one.change, one.cursor] for one in places]
    return found if len(found) == 1 else [*found, of]


def unpacked(row: Packed, fields: Iterable[str]) -> dict[str, Version]:
    """The version of each of the ``fields`` of a record, from its row."""
    found, of = split(row)
    versions = [Version(*one) for one in found]
    if isinstance(of, int):
        return dict.fromkeys(fields, versions[of])
    return {field: versions[place] for field, place in of.items()}


def split(row: Packed) -> tuple[list[list[Any]], int | dict[str, int]]:
    """The versions in a row, and the place of each field's among them, or of the only one."""
    if isinstance(row, dict):
        return list(row.values()), {field: place for place, field in enumerate(row)}
    if len(row) == 1:
        return row, 0
    return row[:-1], row[-1]
