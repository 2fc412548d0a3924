"""Clamps for renewed hoses: from how the old ends were held, and what is practice for the service.

Where two clamps are practice an end that had one gets two; an end that was crimped, screwed or
soldered gets none; one of which nobody wrote anything gets what is practice, and that is said.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from shedtally.domain.aboard.out import pieces
from shedtally.domain.lists import RenewalLine
from shedtally.domain.masses.recipe import readable_size
from shedtally.domain.masses.section import nominal_hose
from shedtally.domain.measures.reading import Size
from shedtally.domain.records import Item, Spec
from shedtally.domain.renewals.spec_id import line_id
from shedtally.domain.rulebook import ClampSize, HoseSize, Kind, Rules
from shedtally.domain.rulebook.renewing import Service

CLAMP = "hose-clamp"
COUNTED = "Counted from how the ends were joined: check on the boat."
LONG_ENOUGH = "only where the tail is long enough for both"


@dataclass(frozen=True, slots=True)
class Held:
    """A hose to be renewed, for the count of its clamps; ``ends`` says how each was held."""

    item: Item
    shown: str
    outside_mm: float | None
    service: Service | None
    fixed: int | None
    ends: tuple[str, ...]


@dataclass(slots=True)
class _Tally:
    count: int = 0
    doubled: int = 0
    assumed: int = 0
    items: list[str] = field(default_factory=list)


def hose_called(size: Size | None, kind: Kind | None, rules: Rules) -> HoseSize | None:
    """The hose that is sold for a size; None for what is no hose or has no usual bore."""
    if size is None or kind is None or kind.section != "hose" or size.thread or size.mm is None:
        return None
    return nominal_hose(size.mm, rules.sizes)


def hose_of(item: Item, kind: Kind | None, rules: Rules) -> HoseSize | None:
    """The hose that is sold for an item; None for what is no hose or has no usual bore."""
    return hose_called(readable_size(item.size), kind, rules)


def clamp_lines(
    hoses: Iterable[Held], specs: Mapping[str, Spec], rules: Rules
) -> Iterator[RenewalLine]:
    """One line for each size of hose whose ends are held by clamps."""
    tallies: dict[tuple[str, float | None], _Tally] = {}
    said = _Said(rules)
    for hose in hoses:
        if hose.ends:
            key = (hose.shown, hose.outside_mm)
            _count(hose, tallies.setdefault(key, _Tally()), said)
    told = set[str]()
    for (shown, outside), tally in sorted(tallies.items(), key=_by_outside):
        if tally.count:
            # The thinnest of one bore keeps the name that it would have alone.
            apart = f", {outside:g} mm outside" if outside and shown in told else ""
            told.add(shown)
            yield _line(f"for hose {shown}{apart}", outside, tally, specs, rules)


def _by_outside(row: tuple[tuple[str, float | None], _Tally]) -> tuple[str, float]:
    (shown, outside), _ = row
    return shown, outside or 0.0


def clamp_for(outside_mm: float, rules: Rules) -> ClampSize | None:
    """The clamp whose middle lies nearest to a hose's outside; None if none closes on it.

    Args: outside_mm: over the hose on its tail, in mm.
    Source: [J1508] for the ranges; the middle of the range is common practice.
    """
    fits = [row for row in rules.sizes.clamps if row.closed_mm <= outside_mm <= row.open_mm]
    middle = (abs((row.closed_mm + row.open_mm) / 2 - outside_mm) for row in fits)
    return min(zip(middle, fits, strict=True), key=lambda pair: pair[0], default=(0, None))[1]


def _count(hose: Held, tally: _Tally, by_words: _Said) -> None:
    usual = _usual(hose)
    each = pieces(hose.item)
    before = tally.count
    for held in [*hose.ends, *[""] * (2 - len(hose.ends))]:
        said = by_words[held]
        if held and not said:
            continue
        count = max(said, usual) if hose.fixed is None else hose.fixed
        tally.count += count * each
        tally.doubled += each if 0 < said < count else 0
        tally.assumed += each if not held and count else 0
    if tally.count > before:
        tally.items.append(hose.item.key)


def _usual(hose: Held) -> int:
    """How many clamps are practice at each end for the service of a hose; 0 if that is open."""
    if hose.service is None:
        return 0
    return hose.service.kind_clamps.get(hose.item.kind or "", hose.service.clamps)


class _Said(dict[str, int]):
    """How many clamps held an end, by the words that somebody wrote; each wording read once."""

    def __init__(self, rules: Rules) -> None:
        super().__init__()
        self._how = rules.renewing

    def __missing__(self, held: str) -> int:
        words = held.lower().replace(",", " ").split()
        clamps = any(word.startswith(self._how.clamp_words) for word in words)
        two = any(word in self._how.two_words for word in words)
        self[held] = (2 if two else 1) if clamps else 0
        return self[held]


def _line(
    hose: str,
    outside: float | None,
    tally: _Tally,
    specs: Mapping[str, Spec],
    rules: Rules,
) -> RenewalLine:
    kind = rules.kinds[CLAMP]
    clamp = None if outside is None else clamp_for(outside, rules)
    fits = f"no. {clamp.number} ({clamp.closed_mm:g} to {clamp.open_mm:g} mm)" if clamp else ""
    size = ", ".join(part for part in (fits, hose) if part)
    key = line_id(kind.id, hose)
    spec = specs.get(key)
    standard = (spec.standard if spec else None) or rules.renewing.standards.get(CLAMP, "")
    return RenewalLine(
        spec=", ".join(part for part in (kind.name, size, standard) if part),
        kind=CLAMP,
        system=kind.system,
        size=size,
        standard=standard,
        count=tally.count,
        length_mm=None,
        allowance=0.0,
        order_mm=None,
        items=tuple(tally.items),
        tags=(),
        open_questions=tuple(_questions(tally, outside)),
        id=key,
        systems=(kind.system,),
    )


def _questions(tally: _Tally, outside: float | None) -> Iterator[str]:
    yield COUNTED
    if tally.doubled:
        ends = "1 end that had one" if tally.doubled == 1 else f"{tally.doubled} ends that had one"
        yield f"Two clamps, as is practice, for {ends}: {LONG_ENOUGH}."
    if tally.assumed:
        ends = "1 end" if tally.assumed == 1 else f"{tally.assumed} ends"
        yield f"Taken for {ends} of which nobody wrote how it was held."
    if outside is None:
        yield "The outside of the hose is not known: measure it on the tail, then choose the clamp."
