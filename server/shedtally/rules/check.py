"""What must hold of the rules data before a server may use it."""

from __future__ import annotations

import datetime
import typing
from collections.abc import Iterator, Mapping

from shedtally.domain.records import Item
from shedtally.domain.records.shape import fields_of
from shedtally.domain.records.words import Fate, Form, Level, Side, Task
from shedtally.domain.rulebook import (
    Kind,
    Material,
    Near,
    Rules,
    RuleSet,
    Section,
    Standing,
    Stream,
    Survey,
)
from shedtally.domain.rulebook.law import ELSEWHERE, ApartLevel
from shedtally.domain.work.network import arrange

HOLDERS = ("business", "household")
DENSITIES = (10.0, 12_000.0)
TRUSTED = ("weighed", "plate", "calculated", "guessed", "measured sizes")


class BadRules(ValueError):
    """The rules data doesn't hold together."""


def cited(docs: Mapping[str, typing.Any]) -> None:
    """Every source that is cited exists, and every source is cited."""
    known = {row["key"] for row in docs["sources.toml"]["source"]}
    used: set[str] = set()
    for name, doc in docs.items():
        if name != "sources.toml":
            used.update(_citations(doc))
    _refuse("sources that are not in sources.toml", used - known)
    _refuse("sources that nothing cites", known - used - {ELSEWHERE})


def hangs_together(rules: Rules) -> None:
    """References lead somewhere, choices are known words, and codes cover every day.

    Raises: BadRules: names what is wrong.
    """
    for source in rules.sources.values():
        _refuse("standing", {source.standing} - set(typing.get_args(Standing)))
    for kind in rules.kinds.values():
        _kind(rules, kind)
    for stream in rules.streams.values():
        _stream(rules, stream)
    for rule_set in rules.rule_sets.values():
        _rule_set(rules, rule_set)
    for liquid in rules.liquids.values():
        _refuse("kinds of a liquid", {*liquid.kinds, *liquid.sludge_kinds} - rules.kinds.keys())
    _work(rules)
    _apart(rules)
    _contradictions(rules)
    _printing(rules)
    _danger_paths(rules)
    _amounts(rules)
    _renewal(rules)
    _refuse("wiring.toml: kind", set(rules.wiring.feeds) - set(rules.kinds))
    _refuse("kinds with a standard", set(rules.renewing.standards) - set(rules.kinds))
    _refuse("trust", set(TRUSTED) ^ set(rules.trust))
    _materials_and_sizes(rules)


def _materials_and_sizes(rules: Rules) -> None:
    for material in rules.materials.values():
        _material(rules, material)
    for pipe in rules.sizes.pipes:
        _refuse(
            f"pipe of {pipe.outside_mm:g} mm: material", set(pipe.materials) - set(rules.materials)
        )
        if not 0 < 2 * pipe.wall_mm.high <= pipe.outside_mm:
            raise BadRules(f"pipe of {pipe.outside_mm:g} mm: wall must be up to half of it")
    bores = [hose.bore_mm for hose in rules.sizes.hoses]
    if bores != sorted(bores):
        raise BadRules("hoses must go from small to large")


def _material(rules: Rules, material: Material) -> None:
    """A density within what matter on a boat can have; a scrap metal has one."""
    about = f"material {material.id}"
    density = material.density
    if density is not None and not (DENSITIES[0] <= density.low and density.high <= DENSITIES[1]):
        low, high = DENSITIES
        raise BadRules(f"{about}: density must be {low:g} to {high:g} kg/m3")
    _refuse(f"{about}: source", set(material.sources) - set(rules.sources))


def _citations(node: object) -> Iterator[str]:
    if isinstance(node, dict):
        for key, value in node.items():
            if key == "source" or (key.endswith("_source") and isinstance(value, str)):
                yield str(value)
            elif key == "sources":
                yield from value
            elif key == "where" and isinstance(value, dict):
                yield from (source for sources in value.values() for source in sources)
            else:
                yield from _citations(value)
    elif isinstance(node, list):
        for value in node:
            yield from _citations(value)


def _kind(rules: Rules, kind: Kind) -> None:
    about = f"kind {kind.id}"
    _refuse(f"{about}: material", {kind.material} - set(rules.materials))
    _refuse(f"{about}: stream", {kind.waste} - set(rules.streams))
    _refuse(f"{about}: fate", {kind.default_fate} - set(typing.get_args(Fate)))
    _refuse(f"{about}: form", {kind.form} - {"", *typing.get_args(Form)})
    _refuse(f"{about}: section", {kind.section} - set(typing.get_args(Section)))
    _refuse(f"{about}: prompt", set(kind.prompts) - set(fields_of(Item)))
    safe = {system.id for system in rules.systems.values() if system.make_safe}
    _refuse(f"{about}: system to make safe", set(kind.make_safe) - safe)


def _work(rules: Rules) -> None:
    efforts = rules.efforts
    _refuse("effort.toml: kind", set(efforts.kinds) - set(rules.kinds))
    _refuse("effort.toml: system", set(efforts.systems) ^ set(rules.systems))
    _refuse("effort.toml: task", set(efforts.tasks) ^ set(typing.get_args(Task)))
    strict = {system.id for system in rules.systems.values() if system.strict}
    _refuse("effort.toml: strict system to make safe", set(efforts.make_safe) ^ strict)
    for survey in rules.surveys.values():
        _survey(rules, survey)
    levels = {f"level:{level}" for level in typing.get_args(Level)}
    for order in rules.orders:
        wrong = {*order.first, *order.then} - set(rules.kinds) - levels
        _refuse(f"orders.toml: {order.id}: kind", wrong)
        _refuse(f"orders.toml: {order.id}: where", {order.where} - set(typing.get_args(Near)))


def _survey(rules: Rules, survey: Survey) -> None:
    about = f"survey {survey.id}"
    ids = [place.id for place in survey.compartments]
    if len(set(ids)) != len(ids):
        raise BadRules(f"{about}: a compartment is there twice")
    for place in survey.compartments:
        known = set(ids[: ids.index(place.id)])
        _refuse(f"{about}: {place.id}: within, before it", {place.within} - known - {""})
        _refuse(f"{about}: {place.id}: kind", {kind for kind, _ in place.likely} - set(rules.kinds))
        _refuse(f"{about}: {place.id}: level", {place.level} - set(typing.get_args(Level)))
        _refuse(f"{about}: {place.id}: side", {place.side} - set(typing.get_args(Side)))
        if not 0 <= place.along[0] < place.along[1] <= 1:
            raise BadRules(f"{about}: {place.id}: {place.along} is no stretch of the length")
    listed = {f"{place.id}/{kind}" for place in survey.compartments for kind, _ in place.likely}
    for order in survey.orders:
        _refuse(f"{about}: order: compartment/kind", {order.first, order.then} - listed)
    pairs = tuple((order.first, order.then) for order in survey.orders)
    if rings := arrange(dict.fromkeys(listed, 0.0), pairs).rings:
        raise BadRules(f"{about}: orders in a ring: {rings}")


def _stream(rules: Rules, stream: Stream) -> None:
    about = f"stream {stream.id}"
    leads = {stream.if_soaked, stream.if_lead, stream.if_asbestos} - {"", "rag"}
    leads |= {answer.stream for answer in stream.answers}
    _refuse(f"{about}: stream", leads - set(rules.streams))
    fields = {ask.field for ask in stream.asks} | {answer.field for answer in stream.answers}
    _refuse(f"{about}: field", fields - set(fields_of(Item)))
    only = {rule_set for ask in stream.asks for rule_set in ask.only_in}
    _refuse(f"{about}: rule set", only - set(rules.rule_sets))
    _refuse(f"{about}: milder of", {stream.milder_of} - {"", *rules.streams})
    if not stream.measured:
        raise BadRules(f"{about}: nothing says how it is usually measured")


def _apart(rules: Rules) -> None:
    classes = {name for stream in rules.streams.values() for name in stream.classes}
    for name, members in rules.stream_sets.items():
        _refuse(f"apart.toml: set {name}: stream", set(members) - set(rules.streams))
    # Classes of the printed table that no stream of a boat has are known as well.
    known = {f"class:{name}" for name in classes | {"4.3", "5.1"}}
    known |= {f"set:{name}" for name in rules.stream_sets} | set(rules.streams)
    for row in rules.apart:
        _refuse("apart.toml: selector", {row.first, row.second} - known - {"any", "hazard"})
        _refuse("apart.toml: level", {row.level} - set(typing.get_args(ApartLevel)))
        _refuse("apart.toml: where", set(row.where) - set(rules.rule_sets))
        if bool(row.only_if) != bool(row.only_if_source):
            raise BadRules(
                f"apart.toml: {row.first} and {row.second}: only_if needs only_if_source"
            )
        for law in rules.rule_sets:
            if not set(row.cited(law)) - {ELSEWHERE}:
                raise BadRules(f"apart.toml: {row.first} and {row.second}: no source in {law}")


def _contradictions(rules: Rules) -> None:
    fields = set(fields_of(Item))
    for rows in rules.contradictions.values():
        for row in rows:
            about = f"contradictions.toml: {row.say}"
            _refuse(f"{about}: stream", {*row.streams, row.stream} - {"", *rules.streams})
            _refuse(f"{about}: field", {row.field, *(one.field for one in row.when)} - fields)


def _amounts(rules: Rules) -> None:
    amounts = rules.amounts
    used = {row.rule_set for row in amounts.ladders} | {row.rule_set for row in amounts.trips}
    used |= {row.rule_set for row in amounts.not_counted} | {
        row.rule_set for row in amounts.sayings
    }
    used |= {row.rule_set for row in amounts.episodes}
    _refuse("amounts.toml: rule set", used - set(rules.rule_sets))
    named = {stream for row in amounts.not_counted for stream in row.streams}
    _refuse("amounts.toml: stream", named - set(rules.streams))
    for ladder in amounts.ladders:
        tops = [step.most_kg or step.below_kg for step in ladder.steps]
        known = [top for top in tops[:-1] if top is not None]
        if len(known) != len(tops) - 1 or known != sorted(known) or tops[-1] is not None:
            raise BadRules(
                f"amounts.toml: {ladder.name}: steps out of order, or the last has a top"
            )


def _renewal(rules: Rules) -> None:
    known = rules.renewal
    kinds = {kind for row in known.services.values() for kind in (*row.kinds, *row.kind_clamps)}
    _refuse("hoses.toml: kind", kinds - set(rules.kinds))
    _refuse("parts.toml: kind", set(known.parts) - set(rules.kinds))
    fields = {field for part in known.parts.values() for field in part.by}
    _refuse("parts.toml: field", fields - set(fields_of(Item)))
    families = {family for pair in known.fits for family in pair}
    _refuse("threads.toml: family", families - set(known.families))
    bores = [row.nominal_mm for row in known.bores]
    if bores != sorted(bores):
        raise BadRules("hoses.toml: bores must go from small to large")


def _danger_paths(rules: Rules) -> None:
    named = {stream for path in rules.paths for stream in path.streams}
    _refuse("paths.toml: stream", named - set(rules.streams))
    _refuse("paths.toml: when", {path.when for path in rules.paths} - {"", *fields_of(Item)})


def _printing(rules: Rules) -> None:
    grouped = [stream for group in rules.groups for stream in group.streams]
    _refuse("streams in two groups", {name for name in grouped if grouped.count(name) > 1})
    _refuse("groups: stream", set(grouped) - set(rules.streams))
    _refuse("signs: stream", set(rules.signs) - set(rules.streams))
    _refuse("labels", {""} - set(rules.labels))


def _rule_set(rules: Rules, rule_set: RuleSet) -> None:
    about = f"rule set {rule_set.id}"
    wanted = {(stream, holder) for stream in rules.streams for holder in HOLDERS}
    _refuse(f"{about}: streams without a code", wanted - set(rule_set.entries))
    _refuse(f"{about}: codes of no stream", set(rule_set.entries) - wanted)
    for key, rows in rule_set.entries.items():
        days = [row.valid_from for row in rows]
        if days[0] != datetime.date.min or len(set(days)) != len(days):
            raise BadRules(f"{about}: {key} has no first entry, or two for one day")
        _refuse(f"{about}: {key} without a title", {row.code for row in rows if not row.title})


def _refuse(what: str, wrong: set[typing.Any]) -> None:
    if wrong:
        raise BadRules(f"{what}: {', '.join(sorted(map(str, wrong)))}")
