"""Which stream an item belongs to, and what must be asked before that is sure.

It asks before it guesses: a question that nobody has answered is put on the list, and until then
the cautious answer holds and is marked as assumed. An empty field never makes a thing harmless.
A clear answer can move an item to a milder stream; what its own name says it holds can't be
answered away (*oily rags* are never clean).
"""

from __future__ import annotations

import operator
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from shedtally.domain.aboard.named import name_of
from shedtally.domain.lists import Question
from shedtally.domain.records import Item
from shedtally.domain.rulebook import Answer, Ask, Kind, Rules, RuleSet, Stream
from shedtally.domain.rulebook.law import Contradiction
from shedtally.domain.waste.contradict import contradictions_of

UNSORTED = "unsorted"
WORST_FIRST = ("rag-drying", "rag-solvent", "rag-oil", "rag-clean")
RAG_BY_SOAK: Mapping[str, str] = {
    "drying oil": "rag-drying",
    "solvent": "rag-solvent",
    "fuel": "rag-solvent",
    "mineral oil": "rag-oil",
    "water": "rag-clean",
    "clean": "rag-clean",
}
SOILED = frozenset({"mineral oil", "drying oil", "solvent", "fuel"})
MILD_RAGS = frozenset({"rag-oil", "rag-clean"})
# What is looked at beside the fields that the rules name.
DECIDE = frozenset({"kind", "soaked_in", "asbestos", "lead", "leaking", "flash_point_c"})
SURE_RAGS = frozenset({"rag-drying", "rag-solvent"})


@dataclass(frozen=True, slots=True)
class Class:
    """The stream of an item, a sentence that says why, and the questions still open."""

    stream: str
    reason: str
    assumed: bool = False
    questions: tuple[Question, ...] = ()


def classify(item: Item, rules: Rules, rule_set: RuleSet) -> Class:
    """The stream of an item that is waste.

    Source: streams.toml says which answers matter; which code follows is the rule set's.
    """
    kind = rules.kinds.get(item.kind or "")
    found = _first(item, kind, rules, rule_set)
    clashing = contradictions_of(item, kind.waste if kind else UNSORTED, rules)
    if not clashing:
        return found
    blank = item
    for row in clashing:
        blank = replace(blank, **{row.field: None})  # type: ignore[arg-type]  # every field may be
    without = _first(blank, kind, rules, rule_set)
    if _hazardous(without.stream, rule_set) or not _hazardous(found.stream, rule_set):
        found = replace(without, questions=found.questions)
    return _doubted(item, kind, found, clashing, rules)


class Classifier:
    """Streams of many items under one rule set: what equal answers lead to is worked out once."""

    def __init__(self, rules: Rules, rule_set: RuleSet) -> None:
        self._rules, self._law = rules, rule_set
        self._said = operator.attrgetter(*sorted(fields_that_decide(rules, rule_set)))
        self._known: dict[object, Class] = {}

    def classify(self, item: Item) -> Class:
        """The same as `classify` of the item: its stream, why, and what is asked of it."""
        said = self._said(item)
        found = self._known.get(said)
        if found is None:
            found = self._known[said] = classify(item, self._rules, self._law)
        if not found.questions:
            return found
        name = name_of(item, self._rules.kinds.get(item.kind or ""))
        asked = [Question(item.key, name, q.field, q.ask, q.assumed) for q in found.questions]
        return Class(found.stream, found.reason, found.assumed, tuple(asked))


def fields_that_decide(rules: Rules, rule_set: RuleSet) -> frozenset[str]:
    """The fields of an item that its stream, the reason and the questions depend on."""
    found = set(DECIDE)
    for stream in rules.streams.values():
        found |= {ask.field for ask in stream.asks}
        found |= {answer.field for answer in stream.answers}
    for asks in rule_set.also_ask.values():
        found |= {ask.field for ask in asks}
    for rows in rules.contradictions.values():
        found |= {row.field for row in rows}
        found |= {when.field for row in rows for when in row.when}
    return frozenset(found)


def _first(item: Item, kind: Kind | None, rules: Rules, rule_set: RuleSet) -> Class:
    """The stream by kind and answers, before anybody asks whether the answers agree."""
    if kind is None:
        stream = rules.streams[UNSORTED]
        known = item.kind is not None
        reason = (
            f"Its kind {item.kind} isn't known to this server." if known else "It has no kind yet."
        )
        if worse := _worse(item, stream):
            return Class(
                worse[0], f"{reason[:-1]}; {worse[1]}.", True, _asks(item, stream, rule_set, kind)
            )
        return _still_asked(item, stream, reason, rule_set, kind)
    if kind.waste in WORST_FIRST:
        return _with_findings(item, kind, _rag(item, kind, rules), rules)
    if kind.waste == "diesel":
        return _fuel(item, kind, rules, rule_set)
    return _by_answers(item, kind, rules, rule_set)


def _doubted(
    item: Item,
    kind: Kind | None,
    found: Class,
    clashing: Sequence[Contradiction],
    rules: Rules,
) -> Class:
    """What contradicts itself counts as unanswered; a person says which answer is right."""
    asked = tuple(
        Question(item.key, name_of(item, kind), row.field, f"{row.say} {row.do}", row.assumed)
        for row in clashing
    )
    to = next((row for row in clashing if row.stream), None)
    stream, reason = found.stream, found.reason
    own = kind.waste if kind else UNSORTED
    # A finding that led elsewhere, like asbestos, outweighs the contradiction.
    answered = {answer.stream for answer in rules.streams[own].answers}
    if to is not None and stream in {own, *answered, "diesel-high-flash"}:
        stream, reason = to.stream, f"{reason[:-1]}; the answers contradict: {to.assumed}."
    return Class(stream, reason, True, (*found.questions, *asked))


def _rag(item: Item, kind: Kind, rules: Rules) -> Class:
    """Cloth: by what it soaked up, but never milder than the name of its kind says."""
    said = RAG_BY_SOAK.get(item.soaked_in or "")
    ask = rules.streams["rag-oil"].asks[0]
    if said is None:
        if kind.id != "rag-unknown" and kind.waste in SURE_RAGS:
            return Class(kind.waste, f"{kind.name}: so its kind says.")
        reason = "Nobody has said what it is soaked in; drying oil can't be ruled out."
        return Class("rag-drying", reason, True, (_question(item, kind, ask),))
    floor = said if kind.id == "rag-unknown" else kind.waste
    worst = min(said, floor, key=WORST_FIRST.index)
    if worst == said:
        return Class(worst, f"Soaked in: {item.soaked_in}.")
    doubt = Ask(
        "soaked_in",
        f"Its kind says {kind.name.lower()}, the answer says {item.soaked_in}: which is right?",
        f"{kind.name.lower()}, the worse of the two",
    )
    reason = f"{kind.name}: so its kind says, whatever else is written."
    return Class(worst, reason, True, (_question(item, kind, doubt),))


def _with_findings(item: Item, kind: Kind, found: Class, rules: Rules) -> Class:
    """Asbestos or lead on cloth counts for more than oil, but not for more than fire."""
    clean = rules.streams["rag-clean"]
    if found.stream in MILD_RAGS and item.asbestos == "found":
        return Class(clean.if_asbestos, f"{kind.name}, asbestos found.")
    if found.stream in MILD_RAGS and item.lead == "found":
        return Class(clean.if_lead, f"{kind.name}, lead found.")
    return found


def _fuel(item: Item, kind: Kind, rules: Rules, rule_set: RuleSet) -> Class:
    """Diesel: the flash point decides where a rule set draws a line through it."""
    limit = rule_set.flash_below_c
    flash = item.flash_point_c
    if limit is not None and flash is not None:
        if flash >= limit:
            return Class("diesel-high-flash", f"Flash point {flash:g} °C, not below {limit:g} °C.")
        return Class("diesel", f"Flash point {flash:g} °C, below {limit:g} °C.")
    return _still_asked(item, rules.streams["diesel"], f"{kind.name}.", rule_set, kind)


def _by_answers(item: Item, kind: Kind, rules: Rules, rule_set: RuleSet) -> Class:
    stream = rules.streams[kind.waste]
    if worse := _worse(item, stream):
        to, found = worse
        return Class(to, f"{kind.name}, {found}.")
    for answer in stream.answers:
        value = getattr(item, answer.field)
        if _given(answer, value):
            return Class(answer.stream, f"{kind.name}, {_in_words(answer.field, value)}.")
    for answer in stream.answers:
        if answer.or_unanswered and getattr(item, answer.field) is None:
            asks = _asks(item, stream, rule_set, kind)
            return Class(answer.stream, f"{kind.name}, {_unsaid(answer.field)}.", True, asks)
    leaking = ", leaking" if item.leaking else ""
    return _still_asked(item, stream, f"{kind.name}{leaking}.", rule_set, kind)


def _hazardous(stream: str, rule_set: RuleSet) -> bool:
    return any(entry.hazardous for entry in rule_set.entries[stream, "business"])


def _given(answer: Answer, value: object) -> bool:
    """Whether an answer was given that moves the item to another stream."""
    if answer.above is not None:
        return isinstance(value, (int, float)) and value > answer.above
    return value is not None and value in answer.values


def _worse(item: Item, stream: Stream) -> tuple[str, str] | None:
    """The stream that something found on an item moves it to, the worst finding first."""
    if item.asbestos == "found" and stream.if_asbestos:
        return stream.if_asbestos, "asbestos found"
    if item.soaked_in in SOILED and stream.if_soaked:
        cloth = stream.if_soaked == "rag"
        to = RAG_BY_SOAK[item.soaked_in] if cloth else stream.if_soaked
        return to, f"soaked in {item.soaked_in}"
    if item.lead == "found" and stream.if_lead:
        return stream.if_lead, "lead found"
    return None


def _still_asked(
    item: Item, stream: Stream, reason: str, rule_set: RuleSet, kind: Kind | None
) -> Class:
    questions = _asks(item, stream, rule_set, kind)
    return Class(stream.id, reason, bool(questions), questions)


def _asks(item: Item, stream: Stream, rule_set: RuleSet, kind: Kind | None) -> tuple[Question, ...]:
    return tuple(
        _question(item, kind, ask)
        for ask in (*stream.asks, *rule_set.also_ask.get(stream.id, ()))
        if (not ask.only_in or rule_set.law in ask.only_in)
        and (getattr(item, ask.field) is None or ask.field == "kind")
    )


def _question(item: Item, kind: Kind | None, ask: Ask) -> Question:
    return Question(item.key, name_of(item, kind), ask.field, ask.ask, ask.assumed)


def _in_words(field: str, value: object) -> str:
    """An answer as it reads in a reason: ``drained``, ``not leaking``, ``lead: not found``."""
    if isinstance(value, bool):
        return field if value else f"not {field}"
    return f"{field.replace('_', ' ')}: {value}"


def _unsaid(field: str) -> str:
    return {"damaged": "not looked at", "leaking": "not looked at", "pcb": "PCB not ruled out"}.get(
        field, f"{field.replace('_', ' ')} not said"
    )
