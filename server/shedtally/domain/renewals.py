"""What must be bought new: equal specs as one line, with count, length and allowance.

On the list stands everything whose fate is *renew*, and everything whose kind is always renewed
unless somebody decided to refit or sell it.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from shedtally.domain.boat import BoatRecords
from shedtally.domain.circuits import NOT_SIZED, order_size
from shedtally.domain.clamp import clamp_lines, hose_of
from shedtally.domain.classify import name_of
from shedtally.domain.lists import Question, RenewalLine, RenewalList, RunLength
from shedtally.domain.measure import Size
from shedtally.domain.out import pieces, system_of
from shedtally.domain.recipe import material_of, readable_size
from shedtally.domain.records import Item
from shedtally.domain.rulebook import Kind, Rules
from shedtally.domain.spec_id import line_id
from shedtally.domain.wire_parts import wire_part_lines

STAYS = frozenset({"refit", "sell"})
GIVEN_UP = frozenset({"scrap", "waste"})
MOST_INCHES_MM = 200


@dataclass(frozen=True, slots=True)
class Wanted:
    """One item to be renewed, with what its line is merged by."""

    item: Item
    kind: Kind | None
    system: str
    size: str
    material: str


def renewals(boat: BoatRecords, rules: Rules) -> RenewalList:
    """Everything to be renewed, merged by kind, size and material, in the order of the systems.

    Returns: lengths in mm; ``order_mm`` is the sum of the known lengths, each with the share and
        the two ends that renewing.toml allows, rounded up. A length or size that is missing is
        an open question of the line, never a zero.
    """
    wanted = [_wanted(item, rules) for item in boat.items.values() if _is_renewed(item, rules)]
    groups: defaultdict[tuple[str, str, str], list[Wanted]] = defaultdict(list)
    for want in wanted:
        by = want.kind.id if want.kind else f"?{name_of(want.item, None)}"
        groups[by, want.size, want.material].append(want)
    lines = [_line(boat, group, rules) for group in groups.values()]
    hoses = [(want.item, hose_of(want.item, want.kind, rules)) for want in wanted]
    lines += clamp_lines(boat, hoses, rules)
    lines += wire_part_lines(boat, [want.item for want in wanted], rules)
    place = {system: n for n, system in enumerate(rules.systems)}
    lines.sort(key=lambda line: (place.get(line.system, len(place)), line.spec))
    return RenewalList(
        lines=tuple(lines),
        questions=tuple(q for want in wanted for q in _questions(want)),
        cautions=rules.renewing.cautions,
    )


def _is_renewed(item: Item, rules: Rules) -> bool:
    if item.never_aboard:
        return False
    if item.fate == "renew":
        return True
    kind = rules.kinds.get(item.kind or "")
    return kind is not None and kind.always_renewed and item.fate not in STAYS


def _wanted(item: Item, rules: Rules) -> Wanted:
    kind = rules.kinds.get(item.kind or "")
    return Wanted(
        item, kind, system_of(item, kind), _size(item, kind, rules), _material(item, kind, rules)
    )


def _size(item: Item, kind: Kind | None, rules: Rules) -> str:
    """The size by which lines are merged; as it was typed where it can't be read.

    19 mm and 3/4 in are one hose. A thread, a gauge and a section keep their own name: AWG 12
    and 4 mm2 are sold apart. A run of cable goes by the size that was taken, if one was.
    """
    text = _text_of_size(item, kind)
    size = readable_size(text)
    if size is None:
        return (text or "").strip()
    nominal = hose_of(item, kind, rules)
    return nominal.shown if nominal else _shown(size)


def _is_cable(kind: Kind | None) -> bool:
    return kind is not None and kind.section == "cable"


def _text_of_size(item: Item, kind: Kind | None) -> str | None:
    return order_size(item)[0] if _is_cable(kind) else item.size


def _shown(size: Size) -> str:
    """The size with its inches where it is a fraction of one: ``29 mm (1 1/8 in)``."""
    if size.thread or size.kind != "length" or size.mm is None or size.mm > MOST_INCHES_MM:
        return size.shown
    sixteenths = round(size.mm / 25.4 * 16)
    if not sixteenths or abs(sixteenths * 25.4 / 16 - size.mm) > 0.01 or size.mm % 1 < 0.01:
        return size.shown
    whole, rest = divmod(Fraction(sixteenths, 16), 1)
    inches = " ".join(str(part) for part in (whole, rest) if part)
    return f"{size.mm:.0f} mm ({inches} in)"


def _wants_size(kind: Kind | None) -> bool:
    return kind is not None and "size" in kind.prompts


def _is_range(text: str) -> bool:
    """``20-32 mm``: what a clamp closes on."""
    first, dash, second = text.partition("-")
    return bool(dash) and first.strip().isdigit() and readable_size(second) is not None


def _material(item: Item, kind: Kind | None, rules: Rules) -> str:
    """What it is made of, where that was written down; runs go by their standard instead."""
    if not item.material or (kind and kind.section):
        return ""
    found = material_of(item, kind, rules)
    return found.name.lower() if found else item.material.strip()


def _line(boat: BoatRecords, group: Sequence[Wanted], rules: Rules) -> RenewalLine:
    first = group[0]
    items = [want.item for want in group]
    name = first.kind.name if first.kind else name_of(first.item, None)
    standard = rules.renewing.standards.get(first.kind.id, "") if first.kind else ""
    is_run = first.kind is not None and first.kind.is_run
    lengths = [(item.length_mm, pieces(item)) for item in items if item.length_mm]
    size = first.size or ("size open" if _wants_size(first.kind) else "")
    parts = (name, size, first.material, standard)
    return RenewalLine(
        spec=", ".join(part for part in parts if part),
        kind=first.kind.id if first.kind else "",
        system=first.system,
        size=first.size,
        standard=standard,
        count=sum(map(pieces, items)),
        length_mm=math.fsum(mm * n for mm, n in lengths) if is_run and lengths else None,
        allowance=rules.renewing.share if is_run else 0.0,
        order_mm=_order_mm(lengths, rules) if is_run and lengths else None,
        items=tuple(item.key for item in items),
        tags=tuple(code for item in items for code in boat.codes.get(f"item/{item.key}", ())),
        open_questions=tuple(_gaps(group, is_run)),
        id=line_id(first.kind.id if first.kind else name, first.size, first.material),
        systems=tuple(dict.fromkeys(want.system for want in group)),
        runs=tuple(_run(boat, item, rules) for item in items) if is_run else (),
    )


def _run(boat: BoatRecords, item: Item, rules: Rules) -> RunLength:
    length = item.length_mm or None
    cut = None if length is None else _cut_mm(length, rules)
    kind = rules.kinds.get(item.kind or "")
    return RunLength(
        item=item.key,
        name=name_of(item, kind),
        tags=boat.codes.get(f"item/{item.key}", ()),
        count=pieces(item),
        length_mm=length,
        cut_mm=cut,
        low_mm=length,
        high_mm=length,
        how="not known" if length is None else "measured",
    )


def _cut_mm(length_mm: float, rules: Rules) -> float:
    """One piece with its share and both ends, not rounded."""
    return length_mm * (1 + rules.renewing.share) + 2 * rules.renewing.each_end_mm


def _order_mm(lengths: Iterable[tuple[float, int]], rules: Rules) -> float:
    """What to order for pieces of these lengths: each with the share and two ends, rounded up."""
    how = rules.renewing
    whole = math.fsum(_cut_mm(mm, rules) * n for mm, n in lengths)
    steps = math.ceil(round(whole / how.round_up_to_mm, 6))
    return steps * how.round_up_to_mm


def _gaps(group: Sequence[Wanted], is_run: bool) -> Iterator[str]:
    """The open questions of a line, as sentences."""
    items = [want.item for want in group]
    count = sum(map(pieces, items))
    size = _text_of_size(group[0].item, group[0].kind)
    if not size and _wants_size(group[0].kind):
        yield "The size is missing: measure it on the fitting."
    elif size and readable_size(size) is None and not _is_range(size):
        yield f"The size {size} can't be read as a measure: check it."
    copied = sum(pieces(item) for item in items if order_size(item)[1] == NOT_SIZED)
    if size and copied and _is_cable(group[0].kind):
        yield f"{copied} of {count} copied, not sized: size the wire on the run before you order."
    missing = sum(pieces(item) for item in items if not item.length_mm)
    if is_run and missing:
        yield f"{missing} of {count} have no length, and are not in the total."
    given_up = sum(pieces(item) for item in items if item.fate in GIVEN_UP)
    if given_up:
        yield f"{given_up} of {count} are marked as scrap or waste: are they to be replaced?"


def _questions(want: Wanted) -> Iterator[Question]:
    """What only a person can answer about one item before it can be ordered."""
    item, kind = want.item, want.kind
    name = name_of(item, kind)
    if _wants_size(kind) and not item.size:
        yield Question(item.key, name, "size", "Which size is it?", "left out of the order")
    if kind and kind.is_run and not item.length_mm:
        yield Question(item.key, name, "length_mm", "How long is it?", "left out of the length")
    if kind is None:
        yield Question(item.key, name, "kind", "What is it?", "ordered by its name")
