"""Versions as a row has them, in today's form and in that of version 0.1.0."""

from __future__ import annotations

from shedtally.domain.sync.merge import Version
from shedtally.domain.sync.packing import packed, unpacked

ONE = Version("0199c82cc0000003", "device", "change-1", 4)
TWO = Version("0199c82cc0000004", "device", "change-2", 5)


def cursors(versions: dict[str, Version]) -> dict[str, int]:
    """Versions compare without their cursors."""
    return {field: version.cursor for field, version in versions.items()}


def test_each_version_is_named_once_and_read_back() -> None:
    for versions in ({"a": ONE, "b": ONE}, {"a": ONE, "b": TWO, "c": ONE}, {"a": TWO}):
        row = packed(versions)
        assert str(row).count("change-1") <= 1
        read = unpacked(row, versions)
        assert (read, cursors(read)) == (versions, cursors(versions))


def test_rows_of_the_first_version_are_read() -> None:
    row = {
        "a": ["0199c82cc0000003", "device", "change-1", 4],
        "b": ["0199c82cc0000004", "device", "change-2", 5],
    }
    read = unpacked(row, ["a", "b"])
    assert (read, cursors(read)) == ({"a": ONE, "b": TWO}, {"a": 4, "b": 5})
