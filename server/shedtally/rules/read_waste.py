"""One TOML row about waste into one dataclass of the lawbook."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from typing import Any

from shedtally.domain.rulebook.law import (
    Answer,
    Apart,
    Area,
    Ask,
    Basis,
    Contradiction,
    Entry,
    HouseholdTest,
    LabelWords,
    Note,
    RuleSet,
    Signs,
    Stream,
    StreamGroup,
    When,
)
from shedtally.domain.rulebook.paths import DangerPath
from shedtally.rules.check import BadRules
from shedtally.rules.read import Row, frozen, texts


def stream(row: Row, cautions: Mapping[str, str]) -> Stream:
    """A row of streams.toml with its questions and answers."""
    rest = {key: value for key, value in row.items() if key not in {"ask", "answer", "cautions"}}
    return Stream(
        cautions=texts(row["cautions"], cautions),
        asks=tuple(map(ask, row.get("ask", []))),
        answers=tuple(map(answer, row.get("answer", []))),
        **frozen(rest),
    )


def ask(row: Row) -> Ask:
    """A question of a stream."""
    return Ask(**frozen(row))


def answer(row: Row) -> Answer:
    """An answer that leads to another stream."""
    return Answer(
        row["field"],
        tuple(row.get("is", ())),
        row["stream"],
        row.get("or_unanswered", False),
        row.get("above"),
    )


def rule_set(doc: Row) -> RuleSet:
    """A file of sets/; a code is hazardous if it carries ``*``, or if its row says so.

    A row without a ``basis`` stands on the first one of the file.
    """
    bases = {row["id"]: Basis(**frozen(row)) for row in doc["basis"]}
    entries: defaultdict[tuple[str, str], list[Entry]] = defaultdict(list)
    for row in doc["entry"]:
        made = entry(row, doc.get("titles", {}), bases)
        entries[made.stream, made.holder].append(made)
    household = doc.get("household")
    return RuleSet(
        id=doc["id"],
        name=doc["name"],
        standing=doc["standing"],
        edition=doc["edition"],
        entries=in_order(entries),
        flash_below_c=doc.get("limits", {}).get("flash_below_c"),
        household=HouseholdTest(household["ask"], household["assumed"]) if household else None,
        areas=tuple(Area(**row) for row in doc.get("area", [])),
        notes=tuple(Note(**frozen(row)) for row in doc.get("note", [])),
    )


def entry(row: Row, titles: Mapping[str, str], bases: Mapping[str, Basis]) -> Entry:
    """One code; its title may stand in the table of titles."""
    named = row.get("basis", next(iter(bases)))
    if named not in bases:
        raise BadRules(f"the row of {row['stream']}: no basis is called {named}")
    filled = {
        "title": titles.get(row["code"], ""),
        "hazardous": row["code"].endswith("*"),
        **row,
        "basis": bases[named],
    }
    return Entry(**frozen(filled))


def in_order(
    entries: Mapping[tuple[str, str], Sequence[Entry]],
) -> dict[tuple[str, str], tuple[Entry, ...]]:
    """The rows of each stream and holder in the order of time."""
    return {
        key: tuple(sorted(rows, key=lambda row: row.valid_from)) for key, rows in entries.items()
    }


def apart(row: Row) -> Apart:
    """A ban of apart.toml."""
    where = {law: tuple(keys) for law, keys in row.get("where", {}).items()}
    return Apart(**{**frozen(row), "where": where})


def contradictions(
    rows: Sequence[Row], streams: Sequence[str]
) -> dict[str, tuple[Contradiction, ...]]:
    """The rows of contradictions.toml by the stream that the kind leads to."""
    made = [contradiction(row) for row in rows]
    return {
        stream: tuple(row for row in made if not row.streams or stream in row.streams)
        for stream in streams
    }


def contradiction(row: Row) -> Contradiction:
    """A row of contradictions.toml."""
    when = tuple(
        When(one["field"], tuple(one.get("is", ())), one.get("below"), one.get("from"))
        for one in row["when"]
    )
    return Contradiction(**{**frozen(row), "when": when})


def danger_path(row: Row) -> DangerPath:
    """What to do with a dangerous thing."""
    return DangerPath(**frozen(row))


def group(row: Row) -> StreamGroup:
    """A row of groups.toml."""
    return StreamGroup(**frozen(row))


def signs(rows: Sequence[Row]) -> dict[str, Signs]:
    """The rows of signs.toml by stream."""
    found: dict[str, Signs] = {}
    for row in rows:
        rest = {key: value for key, value in row.items() if key != "streams"}
        for name in row["streams"]:
            if name in found:
                raise BadRules(f"signs of {name} are there twice")
            found[name] = Signs(**frozen(rest))
    return found


def labels(rows: Sequence[Row]) -> dict[str, LabelWords]:
    """The rows of labels.toml by rule set; the row for all others has an empty name."""
    return {
        row["rule_set"]: LabelWords(
            **frozen({key: value for key, value in row.items() if key != "rule_set"})
        )
        for row in rows
    }


def stream_sets(rows: Sequence[Any]) -> dict[str, frozenset[str]]:
    """The sets of apart.toml by name."""
    return {row["id"]: frozenset(row["streams"]) for row in rows}
