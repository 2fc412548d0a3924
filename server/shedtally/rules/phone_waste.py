"""What a phone needs of the rules about waste to ask, warn and contradict while it is offline."""

from __future__ import annotations

from shedtally.domain.rulebook import LocalFile, Rules
from shedtally.domain.rulebook.law import Answer, Apart, Ask, Contradiction, RuleSet, Stream, When
from shedtally.domain.rulebook.paths import DangerPath

Json = dict[str, object]


def waste_for_phone(rules: Rules) -> Json:
    """Streams with their questions, contradictions, rule sets and the state of local files."""
    rows = {id(row): row for made in rules.contradictions.values() for row in made}
    return {
        "rule_sets": [_rule_set(row, rules) for row in rules.rule_sets.values()],
        "streams": [_stream(row) for row in rules.streams.values()],
        "contradictions": [_contradiction(row) for row in rows.values()],
        "apart": [_apart(row, rules) for row in rules.apart if row.level in {"container", "shelf"}],
        "stream_sets": {name: sorted(streams) for name, streams in rules.stream_sets.items()},
        "paths": [_path(row, rules) for row in rules.paths],
        "local_files": [_file(row) for row in rules.local_files],
    }


def _rule_set(row: RuleSet, rules: Rules) -> Json:
    return {
        "id": row.id,
        "name": row.name,
        "law": row.law,
        "edition": row.edition.isoformat(),
        "flash_below_c": row.flash_below_c,
        "apart": [_apart(ban, rules) for ban in row.apart],
        "areas": [{"id": area.id, "name": area.name} for area in row.areas],
        "asks": {stream: [_ask(ask) for ask in asks] for stream, asks in row.also_ask.items()},
    }


def _stream(row: Stream) -> Json:
    return {
        "id": row.id,
        "name": row.name,
        "keep_in": row.keep_in,
        "in_itself": row.in_itself,
        "classes": list(row.classes),
        "milder_of": row.milder_of,
        "if_soaked": row.if_soaked,
        "if_lead": row.if_lead,
        "if_asbestos": row.if_asbestos,
        "cautions": list(row.cautions),
        "call": list(row.call),
        "asks": [_ask(ask) for ask in row.asks],
        "answers": [_answer(answer) for answer in row.answers],
    }


def _apart(row: Apart, rules: Rules) -> Json:
    return {
        "first": row.first,
        "second": row.second,
        "level": row.level,
        "why": row.why,
        "only_if": row.only_if,
        "only_if_source": rules.sources[row.only_if_source].title if row.only_if_source else "",
        "sources": [rules.sources[key].title for key in row.cited("")],
        "cited": {
            law: [rules.sources[key].title for key in row.cited(law)]
            for law, known in rules.rule_sets.items()
            if not known.local
        },
    }


def _path(row: DangerPath, rules: Rules) -> Json:
    return {
        "id": row.id,
        "name": row.name,
        "streams": list(row.streams),
        "when": row.when,
        "danger": row.danger,
        "steps": list(row.steps),
        "sources": [rules.sources[key].title for key in row.sources],
    }


def _ask(ask: Ask) -> Json:
    return {
        "field": ask.field,
        "ask": ask.ask,
        "assumed": ask.assumed,
        "only_in": list(ask.only_in),
    }


def _answer(answer: Answer) -> Json:
    return {
        "field": answer.field,
        "values": list(answer.values),
        "above": answer.above,
        "or_unanswered": answer.or_unanswered,
        "stream": answer.stream,
    }


def _contradiction(row: Contradiction) -> Json:
    return {
        "field": row.field,
        "streams": list(row.streams),
        "when": [_when(one) for one in row.when],
        "say": row.say,
        "do": row.do,
        "assumed": row.assumed,
    }


def _when(one: When) -> Json:
    return {
        "field": one.field,
        "values": list(one.values),
        "below": one.below,
        "at_least": one.at_least,
    }


def _file(row: LocalFile) -> Json:
    return {"name": row.name, "problem": row.problem, "older_used": row.older_used}
