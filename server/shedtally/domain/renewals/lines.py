"""What must be bought new: equal specs as one line, with count, length and allowance.

On the list stands everything whose fate is *renew*, and everything whose kind is always renewed
unless somebody decided to refit or sell it. What a person fixed for a line is in its `Spec`.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from shedtally.domain.aboard.out import pieces
from shedtally.domain.aboard.run_ends import RunEnds
from shedtally.domain.boat import BoatRecords
from shedtally.domain.lists import RenewalLine, RenewalList
from shedtally.domain.measures.reading import Size
from shedtally.domain.records import Item, Spec
from shedtally.domain.renewals.clamp import Held, clamp_lines
from shedtally.domain.renewals.gaps import gaps, questions, wants_size
from shedtally.domain.renewals.joint_faults import by_item, joint_faults
from shedtally.domain.renewals.parts import PartsReader, Wanted
from shedtally.domain.renewals.plain_parts import said as said_of_part
from shedtally.domain.renewals.runs import RenewalRuns
from shedtally.domain.renewals.spec_assumed import assumed
from shedtally.domain.renewals.spec_size import fixed_hose, fixed_size, fixed_thread
from shedtally.domain.renewals.spec_words import added_to, details
from shedtally.domain.renewals.wire_parts import wire_part_lines
from shedtally.domain.rulebook import Rules

STAYS = frozenset({"refit", "sell"})
# Sections of gauge and mm2 that stand for each other: AWG 12 and 4 mm2, AWG 14 and 2.5 mm2.
ALIKE = 1.25
MOST_NAMED = 20

Groups = dict[str, list[Wanted]]


@dataclass(frozen=True, slots=True)
class _Making:
    """What every line is made from."""

    boat: BoatRecords
    rules: Rules
    ends: RunEnds
    runs: RenewalRuns
    faults: Mapping[str, tuple[str, ...]]
    twins: Mapping[str, tuple[str, ...]]
    mixed: Mapping[str, str]


def renewals(boat: BoatRecords, rules: Rules) -> RenewalList:
    """Everything to be renewed, merged over the whole boat, in the order of the systems.

    Returns: lengths in mm; ``order_mm`` is the sum of the known lengths, each with the share and
        the two ends that renewing.toml allows, rounded up. A length that nobody measured is
        worked out from where the ends sit, and said to be; one that can't be, and a size that is
        missing, is an open question of the line, never a zero.
    """
    reader = PartsReader(rules)
    wanted = [reader.wanted(item) for item in boat.items.values() if is_renewed(item, rules)]
    groups, nowhere = _bought_as(_grouped(wanted), boat.specs)
    ends = RunEnds(boat, rules)
    runs = _runs(ends, groups, rules)
    faults = joint_faults(ends, rules)
    making = _Making(boat, rules, ends, runs, by_item(faults), runs.alike(), _mixed(groups))
    lines = [_line(making, group, nowhere) for group in groups.values()]
    lengths = {run.item: run for line in lines for run in line.runs}
    lines += clamp_lines(_hoses(boat, groups, runs, rules), boat.specs, rules)
    lines += wire_part_lines(ends, [want.item for want in wanted], rules)
    place = {system: n for n, system in enumerate(rules.systems)}
    lines.sort(key=lambda line: (place.get(line.system, len(place)), line.spec))
    return RenewalList(
        lines=tuple(lines),
        questions=tuple(
            question for want in wanted for question in questions(want, lengths.get(want.item.key))
        ),
        cautions=(*rules.renewing.cautions, *_cautions(wanted)),
        mismatches=tuple(fault.say for fault in faults),
    )


def is_renewed(item: Item, rules: Rules) -> bool:
    """Whether it is bought new. What is new itself and goes in is no longer to be bought."""
    if item.never_aboard:
        return False
    if item.fate == "renew":
        return True
    kind = rules.kinds.get(item.kind or "")
    return kind is not None and kind.always_renewed and item.fate not in STAYS


def _grouped(wanted: Iterable[Wanted]) -> Groups:
    groups: Groups = {}
    for want in wanted:
        groups.setdefault(want.parts.id, []).append(want)
    return groups


def _bought_as(groups: Groups, specs: Mapping[str, Spec]) -> tuple[Groups, Mapping[str, str]]:
    """The groups with those that are bought under another line in it; and which can't be.

    Nothing is lost: where the other line isn't there, or the two name each other, a line stays
    one of its own.
    """
    nowhere: dict[str, str] = {}
    merged: Groups = {}
    moved: list[tuple[str, str]] = []
    for key, group in groups.items():
        target = _target(key, specs)
        if target == key or target not in groups:
            merged[key] = list(group)
            if target != key:
                nowhere[key] = target
        else:
            moved.append((key, target))
    for key, target in moved:
        merged[target].extend(groups[key])
    return merged, nowhere


def _target(key: str, specs: Mapping[str, Spec]) -> str:
    """The line that a line ends up in; itself in a ring."""
    at, seen = key, {key}
    while (spec := specs.get(at)) is not None and spec.bought_as:
        at = spec.bought_as
        if at in seen:
            return key
        seen.add(at)
    return at


def _runs(ends: RunEnds, groups: Groups, rules: Rules) -> RenewalRuns:
    found = RenewalRuns(ends)
    for key, group in groups.items():
        added = added_to(ends.boat.specs.get(key), rules)
        for want in group:
            if want.parts.is_run:
                found.add(want, added)
    return found


def _mixed(groups: Groups) -> Mapping[str, str]:
    """Of each line of cable that is as good as one in the other unit: which, and what to do."""
    cables: dict[tuple[str, int], list[tuple[str, Size]]] = {}
    for key, group in groups.items():
        kind, size = group[0].parts.kind, group[0].parts.read
        if kind and kind.section == "cable" and size and size.mm2:
            cables.setdefault((kind.id, size.cores), []).append((key, size))
    return {
        key: (
            f"Also listed as {other.shown}, nearly the same copper but sold apart: choose one, "
            "and buy the other line as it."
        )
        for rows in cables.values()
        for key, size in rows
        for _, other in rows
        if other.kind != size.kind and _alike(size.mm2 or 0.0, other.mm2 or 0.0)
    }


def _alike(one: float, other: float) -> bool:
    return max(one, other) <= ALIKE * min(one, other)


def _hoses(boat: BoatRecords, groups: Groups, runs: RenewalRuns, rules: Rules) -> Iterator[Held]:
    for key, group in groups.items():
        spec = boat.specs.get(key)
        for want in group:
            parts = want.parts
            if parts.kind is None or parts.kind.section != "hose":
                continue
            # A bore that no hose is listed for has another outside than the old hose had.
            hose = fixed_hose(spec, rules) if spec and spec.bore_mm else parts.hose
            shown = fixed_size(parts, spec, rules) or parts.size
            if not shown:
                continue
            outside = spec.outside_mm if spec and spec.outside_mm else None
            if outside is None and hose:
                outside = hose.outside_mm.likely
            fixed = spec.clamps_each_end if spec else None
            flows = rules.renewal.services.get((spec.service if spec else None) or "")
            held = runs.held.get(want.item.key, ())
            yield Held(want.item, shown, outside, flows or parts.service, fixed, held)


def _cautions(wanted: Iterable[Wanted]) -> tuple[str, ...]:
    services = {want.parts.service.id: want.parts.service for want in wanted if want.parts.service}
    return tuple(row.caution for _, row in sorted(services.items()) if row.caution)


def _line(making: _Making, group: Sequence[Wanted], nowhere: Mapping[str, str]) -> RenewalLine:
    boat, rules = making.boat, making.rules
    parts = group[0].parts
    spec = boat.specs.get(parts.id)
    kind = parts.kind.id if parts.kind else ""
    standard = (spec.standard if spec else None) or rules.renewing.standards.get(kind, "")
    bought = fixed_size(parts, spec, rules) or parts.size
    size = bought or ("size open" if wants_size(parts.kind) else "")
    thread = fixed_thread(parts, spec)
    own = f"thread {thread}" if thread and thread not in size else ""
    service = parts.service.name.lower() if parts.service and group[0].item.service else ""
    material = (spec.material if spec else None) or parts.material
    names = (parts.name, service, size, own, material, standard)
    added = added_to(spec, rules)
    runs = tuple(making.runs.lengths(group)) if parts.is_run else ()
    known = [(run.length_mm, run.cut_mm, run.count) for run in runs if run.length_mm]
    systems = Counter[str]()
    for want in group:
        systems[want.system] += pieces(want.item)
    open_questions = [*gaps(group, runs, spec, rules)]
    if parts.id in making.mixed:
        open_questions.append(making.mixed[parts.id])
    if parts.id in nowhere:
        open_questions.append("It is to be bought as another line that is not on the list: look.")
    return RenewalLine(
        spec=", ".join(part for part in names if part),
        kind=kind,
        system=systems.most_common(1)[0][0],
        size=bought,
        standard=standard,
        count=sum(systems.values()),
        length_mm=math.fsum(mm * n for mm, _, n in known) if known else None,
        allowance=added.share if parts.is_run else 0.0,
        order_mm=_order_mm(known, rules) if known else None,
        items=tuple(want.item.key for want in group),
        tags=tuple(code for want in group for code in boat.codes.get(f"item/{want.item.key}", ())),
        open_questions=tuple(open_questions),
        id=parts.id,
        systems=tuple(systems),
        runs=runs,
        details=tuple(_details(making, group, spec)),
        mismatches=tuple(
            dict.fromkeys(say for want in group for say in making.faults.get(want.item.key, ()))
        ),
        assumed=tuple(assumed(parts, spec, standard, rules)),
        section=(parts.kind.section or "") if parts.kind else "",
        service=parts.service.id if parts.service else "",
        material=parts.material,
    )


def _details(making: _Making, group: Sequence[Wanted], spec: Spec | None) -> Iterator[str]:
    if spec is not None:
        yield from details(spec, making.rules.renewal)
    first = group[0].parts
    own = first.id
    if first.plain is not None:
        yield from said_of_part(first.typed, first.plain, spec)
    others = Counter(want.parts.size for want in group if want.parts.id != own)
    for size, count in others.items():
        yield f"{count} listed as {size or 'without a size'} bought as this."
    told = set[str]()
    for want in group:
        twins = making.twins.get(want.item.key, ())
        if twins and want.item.key not in told:
            told.update(twins)
            names = [making.ends.called(making.boat.items[key]) for key in twins[:MOST_NAMED]]
            more = f" and {len(twins) - MOST_NAMED} more" if len(twins) > MOST_NAMED else ""
            yield f"These join the same two things: {'; '.join(names)}{more}."


def _order_mm(known: Iterable[tuple[float, float | None, int]], rules: Rules) -> float:
    """What to order for pieces of these cut lengths, rounded up."""
    whole = math.fsum((cut or 0.0) * n for _, cut, n in known)
    steps = math.ceil(round(whole / rules.renewing.round_up_to_mm, 6))
    return steps * rules.renewing.round_up_to_mm
