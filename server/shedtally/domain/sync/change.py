"""A change: one edit of one record by one device, kept for ever as it was sent.

Tables and fields that this version doesn't know are accepted and kept, since a newer phone may
have written them. Whatever would make the log unreadable for others (text that is no Unicode,
numbers that JSON or JavaScript can't hold) is refused here, one change at a time.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import cast

from shedtally.domain import records
from shedtally.domain.errors import BadChange
from shedtally.domain.records import tag
from shedtally.domain.records.shape import JsonValue, faults
from shedtally.domain.sync import stamp

MAX_FIELDS = 100
MAX_WHOLE_NUMBER = 2**53 - 1

_UUID = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}")
_TABLE = re.compile(r"[a-z][a-z0-9_-]{0,39}")
_KEY = re.compile(r"[A-Za-z0-9_-]{1,64}")
_FIELD = re.compile(r"[a-z][a-z0-9_]{0,63}")


@dataclass(frozen=True, slots=True)
class Change:
    """``seq`` is the device's own running number; ``base`` the cursor that its author had seen.

    ``values`` maps field to new value (``set`` on the wire); None clears a field. ``restates``
    names the lost change of which this one says again what a phone knew from a snapshot: device
    and stamp are its author's then, and ``seq`` is below zero, in nobody's count. ``again`` says
    that a log had this change already, which is lost since; its stamp is the one of that log.
    """

    id: str
    device: str
    seq: int
    stamp: str
    table: str
    key: str
    values: Mapping[str, JsonValue]
    base: int
    restates: str | None = None
    again: bool = False

    @property
    def comes_from_a_log(self) -> bool:
        """Whether its stamp was judged by a server before."""
        return self.again or self.restates is not None

    @property
    def merges_as(self) -> str:
        """The id by which it merges: that of the change which wrote these values first."""
        return self.restates or self.id

    def as_sent(self) -> dict[str, object]:
        """The change as JSON has it on the wire, when it is sent the first time."""
        sent: dict[str, object] = {
            "id": self.id,
            "device": self.device,
            "seq": self.seq,
            "stamp": self.stamp,
            "table": self.table,
            "key": self.key,
            "set": dict(self.values),
            "base": self.base,
        }
        return {**sent, "restates": self.restates} if self.restates else sent

    def is_same(self, other: Change) -> bool:
        """Whether both say the same, as JSON: 1 and 1.0 are the same, 1 and true are not."""
        return self == other and all(
            isinstance(value, bool) == isinstance(other.values[name], bool)
            for name, value in self.values.items()
        )


@dataclass(frozen=True, slots=True)
class LoggedChange:
    """A change in the log at ``cursor``; it merges by ``stamp``, the server's, not by its own.

    The two differ only if the author's clock was too far ahead.
    """

    cursor: int
    stamp: str
    received_ms: int
    change: Change

    def is_of(self, change: Change) -> bool:
        """Whether this is the entry of ``change``: the same edit by the same device.

        Stamp and base don't count. The server puts a stamp right on arrival, and after a restored
        backup phones send what they hold again with the stamp put right and with no base.
        """
        own = replace(self.change, stamp=change.stamp, base=change.base, again=change.again)
        return own.is_same(change)

    def holds(self, part: Change) -> bool:
        """Whether ``part`` restates this entry: the same author and record, values that it has."""
        own = self.change
        if any(name not in own.values for name in part.values):
            return False
        values = {name: own.values[name] for name in part.values}
        whole = replace(part, device=own.device, table=own.table, key=own.key, values=values)
        return whole.is_same(part)


def parse(sent: object) -> Change:
    """Read one change as sent.

    Raises: BadChange, naming the first thing that is wrong with it.
    """
    if not isinstance(sent, dict):
        raise BadChange("", "is not a change: an object was expected")
    members = cast("dict[str, object]", sent)
    restates = _restates(members)
    change = Change(
        id=_matching(members, "id", _UUID, "a UUID in lower case"),
        device=_matching(members, "device", _UUID, "a UUID in lower case"),
        seq=_whole(members, "seq", 1) if restates is None else _below_zero(members, "seq"),
        stamp=_stamp(members),
        table=_matching(members, "table", _TABLE, "the name of a table"),
        key=_matching(members, "key", _KEY, "1 to 64 letters, digits, - or _"),
        values=_values(members.get("set")),
        base=_whole(members, "base", 0),
        restates=restates,
        again=_again(members),
    )
    _check_known(change)
    return change


def id_of(sent: object) -> str | None:
    """The id of a change that may be unreadable otherwise, so that its fate can be told."""
    found = cast("dict[str, object]", sent).get("id") if isinstance(sent, dict) else None
    return found if isinstance(found, str) and _UUID.fullmatch(found) else None


def _matching(sent: dict[str, object], name: str, form: re.Pattern[str], wanted: str) -> str:
    value = sent.get(name)
    if not isinstance(value, str) or form.fullmatch(value) is None:
        raise BadChange(name, f"must be {wanted}")
    return value


def _whole(sent: dict[str, object], name: str, least: int) -> int:
    value = sent.get(name)
    if isinstance(value, bool) or not isinstance(value, int):
        raise BadChange(name, "must be a whole number")
    if not least <= value <= MAX_WHOLE_NUMBER:
        raise BadChange(name, f"must lie from {least} to 2^53 - 1")
    return value


def _restates(sent: dict[str, object]) -> str | None:
    if sent.get("restates") is None:
        return None
    return _matching(sent, "restates", _UUID, "the id of a change")


def _again(sent: dict[str, object]) -> bool:
    value = sent.get("again", False)
    if not isinstance(value, bool):
        raise BadChange("again", "must be true or false")
    return value


def _below_zero(sent: dict[str, object], name: str) -> int:
    value = sent.get(name)
    if isinstance(value, bool) or not isinstance(value, int):
        raise BadChange(name, "must be a whole number")
    if not -MAX_WHOLE_NUMBER <= value <= -1:
        raise BadChange(name, "must lie from -2^53 + 1 to -1 in a change that restates another")
    return value


def _stamp(sent: dict[str, object]) -> str:
    value = sent.get("stamp")
    if not stamp.is_stamp(value):
        raise BadChange("stamp", "must be 16 hexadecimal digits in lower case")
    return cast("str", value)


def _values(sent: object) -> dict[str, JsonValue]:
    if not isinstance(sent, dict) or not 1 <= len(sent) <= MAX_FIELDS:
        raise BadChange("set", f"must hold 1 to {MAX_FIELDS} fields")
    for name, value in sent.items():
        if not isinstance(name, str) or _FIELD.fullmatch(name) is None:
            raise BadChange("set", "holds a field whose name is not lower case letters and digits")
        if not _can_be_kept(value):
            raise BadChange(name, "holds a value that can't be kept; type it again")
    return cast("dict[str, JsonValue]", sent)


def _can_be_kept(value: object) -> bool:
    if isinstance(value, str):
        # Half a surrogate pair is legal in JSON and unwritable everywhere else.
        whole = value.isascii() or value == value.encode("utf-8", "replace").decode("utf-8")
        return whole and "\x00" not in value
    if isinstance(value, int):
        return abs(value) <= MAX_WHOLE_NUMBER
    return value is None or (isinstance(value, float) and math.isfinite(value))


def _check_known(change: Change) -> None:
    record = records.TABLES.get(change.table, records.Record)
    for fault in faults(record, change.values):
        raise BadChange(fault.field, fault.detail)
    if change.table == "tag":
        try:
            code = tag.parse(change.key)
        except tag.BadCode as bad:
            raise BadChange("key", bad.detail) from bad
        if code != change.key:
            raise BadChange("key", f"must be written {code}")
