"""Clamps for renewed hoses, counted from how the ends of the old ones were joined."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator

from shedtally.domain.boat import BoatRecords
from shedtally.domain.lists import RenewalLine
from shedtally.domain.out import pieces
from shedtally.domain.recipe import readable_size
from shedtally.domain.records import End, Item
from shedtally.domain.rulebook import ClampSize, HoseSize, Kind, Rules
from shedtally.domain.section import nominal_hose
from shedtally.domain.spec_id import line_id

CLAMP = "hose-clamp"


def hose_of(item: Item, kind: Kind | None, rules: Rules) -> HoseSize | None:
    """The hose that is sold for an item; None for what is no hose or has no usual bore."""
    size = readable_size(item.size)
    if size is None or kind is None or kind.section != "hose" or size.thread or size.mm is None:
        return None
    return nominal_hose(size.mm, rules.sizes)


def clamp_lines(
    boat: BoatRecords, hoses: Iterable[tuple[Item, HoseSize | None]], rules: Rules
) -> Iterator[RenewalLine]:
    """One line for each size of hose whose ends were held by clamps."""
    counts: Counter[HoseSize] = Counter()
    held: defaultdict[HoseSize, list[str]] = defaultdict(list)
    for item, hose in hoses:
        clamps = sum(_clamps(end, rules) for end in boat.ends_by_item.get(item.key, ()))
        if hose and clamps:
            counts[hose] += clamps * pieces(item)
            held[hose].append(item.key)
    for hose, count in counts.items():
        yield _line(hose, count, held[hose], rules)


def _line(hose: HoseSize, count: int, items: Iterable[str], rules: Rules) -> RenewalLine:
    kind = rules.kinds[CLAMP]
    clamp = _fitting(hose, rules)
    fits = f"no. {clamp.number} ({clamp.closed_mm:g} to {clamp.open_mm:g} mm)" if clamp else ""
    size = ", ".join(part for part in (fits, f"for hose {hose.shown}") if part)
    standard = rules.renewing.standards.get(CLAMP, "")
    return RenewalLine(
        spec=", ".join(part for part in (kind.name, size, standard) if part),
        kind=CLAMP,
        system=kind.system,
        size=size,
        standard=standard,
        count=count,
        length_mm=None,
        allowance=0.0,
        order_mm=None,
        items=tuple(items),
        tags=(),
        open_questions=("Counted from how the ends were joined: check on the boat.",),
        id=line_id(kind.id, size),
        systems=(kind.system,),
    )


def _clamps(end: End, rules: Rules) -> int:
    """How many clamps hold an end, by the words of its ``joined``."""
    words = (end.joined or "").lower().replace(",", " ").split()
    how = rules.renewing
    if not any(word.startswith(how.clamp_words) for word in words):
        return 0
    return 2 if any(word in how.two_words for word in words) else 1


def _fitting(hose: HoseSize, rules: Rules) -> ClampSize | None:
    """The clamp whose middle lies nearest to the hose's outside; None if none closes on it."""
    outside = hose.outside_mm.likely
    fits = [row for row in rules.sizes.clamps if row.closed_mm <= outside <= row.open_mm]
    return min(fits, key=lambda row: abs((row.closed_mm + row.open_mm) / 2 - outside), default=None)
