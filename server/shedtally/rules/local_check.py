"""Whether a file of local rules can be used: every fault with its line and what to do about it."""

from __future__ import annotations

import datetime
import difflib
import re
import tomllib
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from shedtally.domain.records import Item
from shedtally.domain.records.shape import fields_of
from shedtally.domain.rulebook import Rules
from shedtally.domain.rulebook.law import RuleSet
from shedtally.rules.check import HOLDERS

Row = dict[str, Any]
TOP = {"id", "name", "based_on", "dated", "publication", "standing"}
TABLES = ("category", "ask", "apart", "note")
KEYS: Mapping[str, Mapping[str, type | tuple[type, ...]]] = {
    "category": {
        "stream": str,
        "name": str,
        "code": str,
        "title": str,
        "why": str,
        "holder": str,
        "hazardous": bool,
        "valid_from": datetime.date,
        "keep_in": str,
        "keep_apart": list,
        "cautions": list,
        "call": list,
        "measured": str,
    },
    "ask": {"stream": str, "field": str, "ask": str, "assumed": str},
    "apart": {"first": str, "second": str, "level": str, "why": str, "only_if": str},
    "note": {"text": str},
}
NEEDED = {
    "category": ("stream",),
    "ask": ("stream", "field", "ask", "assumed"),
    "apart": ("first", "second", "level", "why"),
    "note": ("text",),
}


class BadLocalRules(ValueError):
    """A file of local rules can't be used; ``faults`` are lines like ``line 12: ...``."""

    def __init__(self, name: str, faults: Sequence[str]) -> None:
        super().__init__(f"{name}: {faults[0]}")
        self.name = name
        self.faults = tuple(faults)


@dataclass
class Reader:
    """One file being read; every fault is collected with its line, so that all are told at once."""

    name: str
    text: str
    rules: Rules
    faults: list[tuple[int, str]] = field(default_factory=list)

    def fault(self, line: int, what: str) -> None:
        """Note what is wrong, and go on reading."""
        self.faults.append((line, what))

    def line(self, table: str, number: int, key: str = "") -> int:
        """Where the ``number``th row of a table stands, or one of its keys; 1-based."""
        lines = self.text.splitlines()
        heads = [n for n, line in enumerate(lines) if re.match(rf"\s*\[\[\s*{table}\s*\]\]", line)]
        start = heads[number] if number < len(heads) else 0
        return _key_line(lines, start + 1, key) or start + 1

    def top_line(self, key: str) -> int:
        """Where a key stands before the first table; 1-based, 1 where it is missing."""
        return _key_line(self.text.splitlines(), 0, key) or 1


def decoded(name: str, raw: bytes) -> str:
    """The text of a file.

    Raises: BadLocalRules: not UTF-8.
    """
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        what = "it isn't text in UTF-8. Save the file again with the encoding UTF-8"
        raise BadLocalRules(name, [f"line {line}: {what}."]) from error


def parsed(reader: Reader) -> Row:
    """The document.

    Raises: BadLocalRules: no TOML, with the line.
    """
    try:
        return tomllib.loads(reader.text)
    except tomllib.TOMLDecodeError as error:
        at = re.search(r"line (\d+)", str(error))
        line = at.group(1) if at else str(reader.text.count("\n") + 1)
        said = re.sub(r"\s*\(at .*\)$", "", str(error))
        what = f"line {line}: this can't be read ({said}). Put text in double quotes"
        raise BadLocalRules(reader.name, [f"{what}."]) from error


def top(reader: Reader, doc: Row) -> RuleSet | None:
    """What stands before the tables; the rule set that it is based on, if that is known."""
    for key in sorted(set(doc) - TOP - set(TABLES)):
        reader.fault(
            reader.top_line(key),
            f"{key} isn't known here. Known: {_list(TOP)}, and tables {_list(TABLES)}.",
        )
    for key in ("id", "name", "based_on"):
        if not isinstance(doc.get(key), str) or not doc[key].strip():
            reader.fault(
                reader.top_line(key),
                f'{key} is missing. Write {key} = "..." at the top of the file.',
            )
    ours = [law for law in reader.rules.rule_sets.values() if not law.local]
    ident = doc.get("id")
    if isinstance(ident, str) and ident and not re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", ident):
        reader.fault(
            reader.top_line("id"),
            f'id is "{ident}". Use small letters, digits and hyphens, like "harbour-site".',
        )
    if ident in {law.id for law in ours}:
        reader.fault(
            reader.top_line("id"),
            f'id "{ident}" is one of the sets that come with the program. Choose another.',
        )
    if "dated" in doc and not isinstance(doc["dated"], datetime.date):
        reader.fault(
            reader.top_line("dated"),
            "dated is no day. Write it without quotes, like dated = 2026-11-25.",
        )
    base = next((law for law in ours if law.id == doc.get("based_on")), None)
    if base is None and isinstance(doc.get("based_on"), str):
        known = _list(law.id for law in ours)
        reader.fault(
            reader.top_line("based_on"),
            f'based_on "{doc["based_on"]}" isn\'t known. Choose one of {known}.',
        )
    return base


def rows_of(reader: Reader, doc: Row, table: str) -> Iterator[tuple[int, Row]]:
    """The rows of a table that can be used, with their numbers; faults of the others are told."""
    given = doc.get(table, [])
    if not isinstance(given, list):
        reader.fault(reader.top_line(table), f"{table} must be rows. Begin each with [[{table}]].")
        return
    for number, row in enumerate(given):
        if _row_holds(reader, table, number, row):
            yield number, row


def _row_holds(reader: Reader, table: str, number: int, row: Row) -> bool:
    before = len(reader.faults)
    for key in NEEDED[table]:
        if key not in row:
            reader.fault(
                reader.line(table, number), f"this [[{table}]] has no {key}. Add {key} = ..."
            )
    for key, value in row.items():
        wanted = KEYS[table].get(key)
        line = reader.line(table, number, key)
        if wanted is None:
            reader.fault(line, f"{key} isn't known in [[{table}]]. Known: {_list(KEYS[table])}.")
        elif not _is_a(value, wanted):
            reader.fault(line, f"{key} must be {_WORDS[wanted]}.")
        elif wanted is str and not str(value).strip():
            reader.fault(line, f"{key} is empty. Write something, or leave the line out.")
    for rule in _RULES[table]:
        if len(reader.faults) == before:
            rule(reader, table, number, row)
    return len(reader.faults) == before


def _known_stream(reader: Reader, table: str, number: int, row: Row) -> None:
    if row["stream"] not in reader.rules.streams:
        close = _close(row["stream"], reader.rules.streams)
        all_of_them = "`shedtally rules list --streams` names them all."
        what = f'no stream is called "{row["stream"]}".{close} {all_of_them}'
        reader.fault(reader.line(table, number, "stream"), what)


def _known_holder(reader: Reader, table: str, number: int, row: Row) -> None:
    if row.get("holder", "business") not in HOLDERS:
        what = 'holder must be "business" or "household"; without it the row holds for both.'
        reader.fault(reader.line(table, number, "holder"), what)


def _known_field(reader: Reader, table: str, number: int, row: Row) -> None:
    asked = {ask.field for stream in reader.rules.streams.values() for ask in stream.asks}
    fields = (asked | {"soaked_in", "lead", "asbestos", "note"}) & set(fields_of(Item))
    if row["field"] not in fields:
        what = f'field "{row["field"]}" can\'t be asked for. Choose one of {_list(fields)}.'
        reader.fault(reader.line(table, number, "field"), what)


def _known_ends(reader: Reader, table: str, number: int, row: Row) -> None:
    sets = {f"set:{name}" for name in reader.rules.stream_sets} | {"any", "hazard"}
    classes = {f"class:{name}" for one in reader.rules.streams.values() for name in one.classes}
    for key in ("first", "second"):
        if row[key] not in {*sets, *classes, *reader.rules.streams}:
            form = "Write a stream, or any, hazard, set:NAME, class:3."
            what = f'{key} "{row[key]}" is no stream, set or class. {form}'
            reader.fault(reader.line(table, number, key), what)
    if row["level"] not in {"container", "shelf"}:
        reader.fault(reader.line(table, number, "level"), 'level must be "container" or "shelf".')


_WORDS: Mapping[Any, str] = {
    str: 'text in double quotes, like "Used oil"',
    bool: "true or false, without quotes",
    datetime.date: "a day without quotes, like 2026-11-25",
    list: 'a list of texts, like ["one", "two"]',
}
_Rule = Callable[[Reader, str, int, Row], None]
_RULES: Mapping[str, tuple[_Rule, ...]] = {
    "category": (_known_stream, _known_holder),
    "ask": (_known_stream, _known_field),
    "apart": (_known_ends,),
    "note": (),
}


def _key_line(lines: Sequence[str], start: int, key: str) -> int:
    """The line on which a key stands, from a 0-based start to the next row; 0: not there."""
    for number, line in enumerate(lines[start:], start + 1):
        if key and re.match(rf"\s*{re.escape(key)}\s*=", line):
            return number
        if re.match(r"\s*\[", line):
            break
    return 0


def _is_a(value: object, wanted: type | tuple[type, ...]) -> bool:
    if isinstance(value, list):
        texts = all(isinstance(one, str) and one.strip() for one in value)
        return wanted is list and texts
    # A moment is a day to Python, but the two can't be compared.
    return isinstance(value, wanted) and not isinstance(value, datetime.datetime)


def _list(words: Iterable[str]) -> str:
    return ", ".join(sorted(words))


def _close(word: str, known: Iterable[str]) -> str:
    near = difflib.get_close_matches(word, list(known), 1)
    return f' Did you mean "{near[0]}"?' if near else ""
