"""Waste by stream: what must be got rid of, under which code, in what, and how much of it.

On the list stands everything whose fate is scrap, waste or renew (the old one goes), whose kind
is always waste, and, until somebody decides, what lies in a container of waste, and what is a
hazard in itself and is not known to be aboard. What a person has decided to refit or sell stays
off it.
"""

from __future__ import annotations

import datetime
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace

from shedtally.domain.aboard.named import name_of
from shedtally.domain.boat import BoatRecords
from shedtally.domain.errors import NoSuchRuleSet
from shedtally.domain.lists import Question, WasteItem, WasteList
from shedtally.domain.masses.estimate import Estimate, spread_of
from shedtally.domain.masses.item_mass import as_weighed
from shedtally.domain.masses.recipe import by_kind
from shedtally.domain.records import Item
from shedtally.domain.rulebook import Entry, Kind, Rules, RuleSet
from shedtally.domain.rulebook.notes import area_questions, notes_of
from shedtally.domain.tanks.contents import of_tank, with_contents
from shedtally.domain.waste.box import Box, boxes_of, day_of
from shedtally.domain.waste.classify import Class, Classifier
from shedtally.domain.waste.mixed import Asked, all_bans
from shedtally.domain.waste.stream import Row, streams_of, sums_of

GOES = frozenset({"scrap", "waste", "renew"})
STAYS = frozenset({"refit", "sell"})
HOLDERS = frozenset({"household", "business"})
OF_LIQUIDS = frozenset({"flash_point_c", "halogens_ppm"})
IN_TANK = "Still in its tank; enter it as an item to decide otherwise."


@dataclass(frozen=True, slots=True)
class Case:
    """Everything that the lines of one list are judged by."""

    boat: BoatRecords
    rules: Rules
    law: RuleSet
    holder: str
    on: datetime.date
    boxes: Mapping[str, Box]
    masses: Mapping[str, Estimate]
    entries: dict[tuple[str, datetime.date], Entry] = field(default_factory=dict, compare=False)

    def entry(self, stream: str, day: datetime.date) -> Entry:
        """The code of a stream on a day, for this holder; looked up once for all that share it."""
        found = self.entries.get((stream, day))
        if found is None:
            found = self.entries[stream, day] = self.law.entry(stream, self.holder, day)
        return found


def waste_list(
    boat: BoatRecords, rules: Rules, rule_set: str, holder: str, on: datetime.date
) -> WasteList:
    """The waste of a boat under a rule set, for a household or business, as of a day.

    Args: on: the day of handover; what has gone keeps the code of the day on which it went.
    Returns: streams with hazardous ones first, then in the order of streams.toml. A holder that
        is neither word counts as a business, and is asked for.
    Raises: NoSuchRuleSet: no data for it.
    """
    case, rows, asked = waste_rows(boat, rules, rule_set, holder, on)
    law, rules, sure = case.law, case.rules, case.holder
    questions = [*_holder_questions(case, holder), *area_questions(law, boat.boat.rule_area)]
    questions += [*asked, *_mixed(case, rows)]
    streams = streams_of(rows, rules, case.boxes)
    on_site, gone, weighed = sums_of(rows, rules, case.boxes)
    return WasteList(
        rule_set=law.id,
        rule_set_name=law.name,
        dated=on.isoformat(),
        holder=sure,
        standing=law.standing,
        streams=streams,
        questions=tuple(questions),
        on_site=on_site,
        gone=gone,
        weighed_share=weighed,
        owner=boat.boat.owner or "",
        lies_at=boat.boat.lies_at or "",
        edition=law.edition.isoformat(),
        notes=notes_of(law, boat.boat.rule_area, rules),
        mixed=all_bans(boat, Asked(rules, law.law), case.boxes, rows),
    )


def waste_rows(
    boat: BoatRecords, rules: Rules, rule_set: str, holder: str, on: datetime.date
) -> tuple[Case, list[Row], list[Question]]:
    """The lines of a boat's waste with the case they were judged by, and what items are asked.

    Args, Raises: as `waste_list`.
    """
    if rule_set not in rules.rule_sets:
        raise NoSuchRuleSet(rule_set)
    law, rules = rules.rule_sets[rule_set], rules.under(rule_set)
    sure = holder if holder in HOLDERS else "business"
    contents = with_contents(boat, rules)
    boat, masses = contents.boat, contents.masses.estimates
    case = Case(boat, rules, law, sure, on, boxes_of(boat, rules), masses)
    questions: list[Question] = [
        Question(row.item, row.name, "sounding", row.reason, "not counted") for row in contents.open
    ]
    rows, sorts = [], Classifier(rules, law)
    for item in boat.items.values():
        kind = rules.kinds.get(item.kind or "")
        if is_waste(item, kind, rules):
            found = sorts.classify(item)
            questions += [*_for_people(item, found.questions), *_fate_questions(item, kind)]
            rows.append(_row(case, item, kind, found))
    rows += _bare(case, {row.box for row in rows})
    # A tank's liquid and sludge ask the same of the tank.
    return case, rows, list(dict.fromkeys(questions))


def _for_people(item: Item, questions: Iterable[Question]) -> Iterator[Question]:
    """What is asked of a tank's rest is answered on the tank, as far as it can be."""
    tank = of_tank(item.key)
    for question in questions:
        if tank is None:
            yield question
        elif question.field in OF_LIQUIDS:
            yield replace(question, item=tank)


def is_waste(item: Item, kind: Kind | None, rules: Rules) -> bool:
    """Whether an item stands on the waste list; see the head of this module."""
    if item.fate in GOES or item.handover:
        return True
    if item.fate in STAYS:
        return False
    if item.container:
        return True
    if kind is None:
        return False
    if kind.always_waste:
        return True
    if item.whereabouts == "aboard":
        return False
    return kind.always_renewed or rules.streams[kind.waste].in_itself


def _row(case: Case, item: Item, kind: Kind | None, found: Class) -> Row:
    box = case.boxes.get(item.container or "")
    alone = case.boat.handovers.get(item.handover or "")
    gone = item.whereabouts == "gone" or item.handover is not None or (box is not None and box.gone)
    day = (day_of(alone.on) if alone else box.gone_on if box and box.gone else None) or case.on
    decided, mass = not _undecided(item, kind), case.masses[item.key]
    line = WasteItem(
        key=item.key,
        name=name_of(item, kind),
        tags=case.boat.codes.get(f"item/{item.key}", ()),
        count=max(1, item.count or 1),
        mass=spread_of(mass),
        reason=_reason(item, found, decided=decided),
        assumed=found.assumed or not decided,
        container=box.name if box else None,
        gone=gone,
        box=box.key if box else "",
    )
    entry = case.entry(found.stream, day)
    return Row(line, mass, found.stream, entry, day, box.key if box else "")


def _reason(item: Item, found: Class, *, decided: bool) -> str:
    if of_tank(item.key) is not None:
        return f"{found.reason} {IN_TANK}"
    return found.reason if decided else f"{found.reason} Not yet decided."


def _bare(case: Case, used: set[str]) -> Iterator[Row]:
    """Containers with a stream and nothing recorded inside: what is in them counts as well."""
    for key, box in case.boxes.items():
        if key in used or box.stream not in case.rules.streams:
            continue
        unknown = by_kind(None, case.rules)
        mass = (
            as_weighed(box.net.likely, case.rules)
            if box.net
            else (unknown.kg_per_unit, unknown.origin)
        )
        line = WasteItem(
            key=key,
            name=box.name,
            tags=box.tags,
            count=1,
            mass=spread_of(mass),
            reason="A container of this stream; nothing is recorded inside it.",
            assumed=box.net is None,
            container=box.name,
            gone=box.gone,
            box=key,
        )
        day = box.gone_on or case.on
        entry = case.entry(box.stream, day)
        yield Row(line, mass, box.stream, entry, day, key)


def _undecided(item: Item, kind: Kind | None) -> bool:
    by_kind = kind is not None and (kind.always_waste or kind.always_renewed)
    return item.fate not in GOES and not by_kind


def _fate_questions(item: Item, kind: Kind | None) -> Iterator[Question]:
    if _undecided(item, kind):
        ask = "Does it go back, or is it waste?"
        yield Question(item.key, name_of(item, kind), "fate", ask, "it is waste")


def _holder_questions(case: Case, said: str) -> Iterator[Question]:
    if said not in HOLDERS:
        ask = "Is this the waste of a home or of a business?"
        yield Question("", "The boat", "holder", ask, "of a business")
    elif said == "household" and case.law.household:
        test = case.law.household
        yield Question("", "The boat", "holder", test.ask, test.assumed)


def _mixed(case: Case, rows: list[Row]) -> Iterator[Question]:
    """What lies in a container of another stream, or beside something of another stream."""
    inside: defaultdict[str, list[Row]] = defaultdict(list)
    for row in rows:
        if row.box:
            inside[row.box].append(row)
    for key, lines in inside.items():
        box, names = case.boxes[key], case.rules.streams
        own = box.stream if box.stream in names else lines[0].stream
        for row in lines:
            if row.stream != own and case.rules.mild_of(row.stream) != case.rules.mild_of(own):
                ask = (
                    f"{box.name} holds {names[own].name.lower()}, this belongs to "
                    f"{names[row.stream].name.lower()}: can it be taken out?"
                )
                yield Question(row.line.key, row.line.name, "container", ask, "they are mixed")
