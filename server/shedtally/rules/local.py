"""A site's own rules: a TOML file in the data folder, checked row by row, added to the rules.

A local rule set stands on one of ours. It may give our streams its own names and codes, ask more,
and handle things more strictly; what would make a stream milder is refused.
"""

from __future__ import annotations

import dataclasses
import datetime
from collections.abc import Mapping, Sequence

from shedtally.domain.rulebook import LocalFile, Rules, Source
from shedtally.domain.rulebook.law import Apart, Ask, Basis, Entry, Note, RuleSet, Stream
from shedtally.rules.check import HOLDERS
from shedtally.rules.local_check import (
    TABLES,
    BadLocalRules,
    Reader,
    Row,
    decoded,
    parsed,
    rows_of,
    top,
)

SOURCE = "local"


def with_local(
    rules: Rules, sets: Sequence[RuleSet], files: Sequence[LocalFile], version: str
) -> Rules:
    """Our rules with local rule sets; ``version`` is that of all of them together."""
    source = Source(SOURCE, "Local rules of the site", "seen", "the file in the data folder")
    return dataclasses.replace(
        rules,
        version=version,
        rule_sets={**rules.rule_sets, **{one.id: one for one in sets}},
        sources={**rules.sources, SOURCE: source},
        local_files=tuple(files),
    )


def read_local(name: str, raw: bytes, rules: Rules) -> RuleSet:
    """The rule set of a file of local rules; ``rules`` are ours, without any local ones.

    Raises: BadLocalRules: every fault with its line and what to do about it.
    """
    reader = Reader(name, decoded(name, raw), rules)
    doc = parsed(reader)
    base = top(reader, doc)
    rows = {table: tuple(rows_of(reader, doc, table)) for table in TABLES}
    made = _made(reader, doc, base, rows) if base and not reader.faults else None
    if made is None or reader.faults:
        told = [f"line {line}: {what}" for line, what in sorted(reader.faults)]
        raise BadLocalRules(name, told)
    return made


def _made(
    reader: Reader, doc: Row, base: RuleSet, rows: Mapping[str, Sequence[tuple[int, Row]]]
) -> RuleSet:
    named = doc.get("publication") or f"{doc['name']}, local rules"
    basis = Basis("local", named, (SOURCE,), seen="as the file of local rules has it")
    entries = {key: list(old) for key, old in base.entries.items()}
    streams: dict[str, Stream] = {}
    for number, row in rows["category"]:
        own = reader.rules.streams[row["stream"]]
        streams[own.id] = _stream(streams.get(own.id, own), row)
        for holder in HOLDERS if "holder" not in row else (row["holder"],):
            entries[own.id, holder] = _entries(reader, number, row, entries[own.id, holder], basis)
    asks: dict[str, list[Ask]] = {}
    for _, row in rows["ask"]:
        asks.setdefault(row["stream"], []).append(Ask(row["field"], row["ask"], row["assumed"]))
    return dataclasses.replace(
        base,
        id=doc["id"],
        name=doc["name"],
        standing=f"{doc['standing']} {base.standing}" if doc.get("standing") else base.standing,
        edition=doc.get("dated", base.edition),
        entries={key: tuple(made) for key, made in entries.items()},
        notes=(*(Note(row["text"], (SOURCE,)) for _, row in rows["note"]), *base.notes),
        based_on=base.id,
        local=True,
        streams=streams,
        apart=tuple(
            Apart(**row, sources=(SOURCE,), only_if_source=SOURCE if row.get("only_if") else "")
            for _, row in rows["apart"]
        ),
        also_ask={stream: tuple(made) for stream, made in asks.items()},
    )


def _stream(own: Stream, row: Row) -> Stream:
    """Our stream with the site's name; its handling is added to ours, never instead of it."""

    def more(key: str) -> tuple[str, ...]:
        return tuple(dict.fromkeys((*row.get(key, ()), *getattr(own, key))))

    keep_in = f"{row['keep_in']}. {own.keep_in}" if row.get("keep_in") else own.keep_in
    return dataclasses.replace(
        own,
        name=row.get("name", own.name),
        keep_in=keep_in,
        keep_apart=more("keep_apart"),
        cautions=more("cautions"),
        call=more("call"),
        measured=row.get("measured", own.measured),
        sources=tuple(dict.fromkeys((SOURCE, *own.sources))),
    )


def _entries(
    reader: Reader, number: int, row: Row, old: Sequence[Entry], basis: Basis
) -> list[Entry]:
    """The rows of one stream and holder with the site's code, from its day on."""
    if not {"code", "title", "why", "hazardous"} & set(row):
        return list(old)
    start = row.get("valid_from", datetime.date.min)
    before = [entry for entry in old if entry.valid_from < start]
    made: list[Entry] = []
    # What changes later in the set below goes on changing beneath the site's own code.
    for entry in (*before[-1:], *(one for one in old if one.valid_from >= start)):
        hazardous = row.get("hazardous", entry.hazardous or "*" in row.get("code", ""))
        if entry.hazardous and not hazardous:
            what = (
                f"{row['stream']} is hazardous in {entry.basis.publication}; a local rule may be "
                "stricter, never milder. Take hazardous = false out."
            )
            reader.fault(reader.line("category", number, "hazardous"), what)
            break
        code = row.get("code", entry.code)
        own = code != entry.code
        made.append(
            dataclasses.replace(
                entry,
                code=code,
                title=row.get("title", f"{entry.code} {entry.title}" if own else entry.title),
                hazardous=hazardous,
                why=f"{row['why']} {entry.why}" if row.get("why") else entry.why,
                sources=tuple(dict.fromkeys((SOURCE, *entry.sources))),
                basis=dataclasses.replace(
                    basis, publication=f"{basis.publication}, on {entry.basis.words(entry.section)}"
                ),
                section="",
                valid_from=max(entry.valid_from, start),
            )
        )
    return [*before, *made]
