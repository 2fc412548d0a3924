"""What a field may hold, read off the record classes, and the check of an incoming change.

A table or field that this version doesn't know is no fault: it was written by a newer phone, and
is kept as it came. A known field with a value that can't be is one; the change that carries it is
refused with a sentence that a person can act on, and every other change goes in.
"""

from __future__ import annotations

import dataclasses
import functools
import math
import re
import types
import typing
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

JsonValue: typing.TypeAlias = str | int | float | bool | None

MAX_UNKNOWN_TEXT = 4_000


@dataclass(frozen=True, slots=True)
class Range:
    """A number from ``low`` to ``high``, both allowed, in ``unit``."""

    low: float
    high: float
    unit: str


@dataclass(frozen=True, slots=True)
class Text:
    """Text of at most ``longest`` characters, matching ``pattern`` where there is one."""

    longest: int
    pattern: str | None = None


@dataclass(frozen=True, slots=True)
class Moment:
    """A date (``2026-05-04``) or an ISO 8601 time with its offset."""


@dataclass(frozen=True, slots=True)
class Ref:
    """The key of a record of ``table``, which may not have arrived yet."""

    table: str


class Target:
    """Text ``table/key``; ``tables`` limits which tables, none given means any."""

    __slots__ = ("tables",)

    def __init__(self, *tables: str) -> None:
        self.tables = tables


Constraint: typing.TypeAlias = Range | Text | Moment | Ref | Target


@dataclass(frozen=True, slots=True)
class Field:
    """One field of a table: its Python type, its limits and, for a choice, the words allowed."""

    name: str
    type: type
    constraint: Constraint | None
    choices: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Fault:
    """Why a value can't be kept: ``field`` and a sentence that says what to do."""

    field: str
    detail: str


@functools.cache
def fields_of(record: type) -> Mapping[str, Field]:
    """The fields of a record class by name, without its key, in the order of declaration."""
    hints = typing.get_type_hints(record, include_extras=True)
    names = [field.name for field in dataclasses.fields(record) if field.name != "key"]
    return types.MappingProxyType({name: _field(name, hints[name]) for name in names})


def faults(record: type, values: Mapping[str, JsonValue]) -> list[Fault]:
    """Everything wrong with ``values`` for ``record``; empty means that all may be kept.

    ``None`` is always allowed: it clears a field. Unknown fields are allowed up to
    ``MAX_UNKNOWN_TEXT`` characters.
    """
    known = fields_of(record)
    found = []
    for name, value in values.items():
        detail = _fault(known[name], value) if name in known else _unknown_fault(value)
        if detail:
            found.append(Fault(name, detail))
    return found


def _field(name: str, hint: object) -> Field:
    constraint: Constraint | None = None
    inner = _without_none(hint)
    if typing.get_origin(inner) is typing.Annotated:
        inner, constraint = typing.get_args(inner)[:2]
    if typing.get_origin(inner) is typing.Literal:
        return Field(name, str, constraint, typing.get_args(inner))
    return Field(name, typing.cast("type", inner), constraint, ())


def _without_none(hint: object) -> object:
    if typing.get_origin(hint) in (types.UnionType, typing.Union):
        (inner,) = (part for part in typing.get_args(hint) if part is not type(None))
        return inner
    return hint


def _unknown_fault(value: object) -> str:
    if value is None or isinstance(value, bool | int | float):
        return ""
    if isinstance(value, str) and len(value) <= MAX_UNKNOWN_TEXT:
        return ""
    return f"only text of at most {MAX_UNKNOWN_TEXT} characters, a number, yes or no can be kept"


def _fault(field: Field, value: object) -> str:
    if value is None:
        return ""
    if field.choices:
        return "" if value in field.choices else f"must be one of: {', '.join(field.choices)}"
    if field.type is bool:
        return "" if isinstance(value, bool) else "must be yes (true) or no (false)"
    if field.type in (int, float):
        return _number_fault(field, value)
    return _text_fault(field.constraint, value)


def _number_fault(field: Field, value: object) -> str:
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        return "must be a number"
    if field.type is int and not float(value).is_integer():
        return "must be a whole number"
    limits = field.constraint
    if isinstance(limits, Range) and not limits.low <= value <= limits.high:
        return f"must lie from {limits.low:g} to {limits.high:g} {limits.unit}"
    return ""


def _text_fault(constraint: Constraint | None, value: object) -> str:
    if not isinstance(value, str):
        return "must be text"
    if "\x00" in value:
        return "holds a character that can't be kept; type it again"
    match constraint:
        case Text(longest=longest, pattern=pattern):
            if len(value) > longest:
                return f"is longer than {longest} characters; shorten it"
            if pattern and not re.fullmatch(pattern, value):
                return "is not in the expected form"
        case Moment():
            return _moment_fault(value)
        case Target(tables=tables):
            return _target_fault(tables, value)
        case Ref() if not 1 <= len(value) <= 64:
            return "must be the key of a record"
        case _:
            pass
    return ""


def _moment_fault(value: str) -> str:
    try:
        moment = datetime.fromisoformat(value)
    except ValueError:
        return "must be a date like 2026-05-04, or a time like 2026-05-04T18:30:00+01:00"
    if len(value) > len("2026-05-04") and moment.tzinfo is None:
        return "must carry its offset from UTC, like +01:00 or Z"
    return ""


def _target_fault(tables: tuple[str, ...], value: str) -> str:
    table, slash, key = value.partition("/")
    if not slash or not table or not 1 <= len(key) <= 64:
        return "must name a table and a key, like item/0190..."
    if tables and table not in tables:
        return f"must belong to one of: {', '.join(tables)}"
    return ""
