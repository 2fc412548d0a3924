"""Terminals, fuses and trunking as lines of the renewals list, for the runs that are on it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from shedtally.domain.aboard.run_ends import RunEnds
from shedtally.domain.lists import RenewalLine
from shedtally.domain.records import Item
from shedtally.domain.renewals.circuits import AC_SYSTEM, CircuitReader, runs_of_cable
from shedtally.domain.renewals.plain_parts import said
from shedtally.domain.renewals.spec_id import counted_id
from shedtally.domain.rulebook import Rules
from shedtally.domain.wiring.circuit_parts import parts
from shedtally.domain.wiring.lists import AC, WirePart

FUSE = "fuse or breaker"
KINDS = {"terminal": "cable-terminal", FUSE: "fuse", "trunking": "trunking"}
# Mains is protected by a breaker in its board.
BREAKER = "fuse-holder"
ASKS = {
    "terminal": "One for each conductor at both ends: check the studs on the boat.",
    FUSE: "One for each sized run: leave out what a breaker protects already.",
    "trunking": "As long as its longest run: check where it was and what else lies in it.",
}


def wire_part_lines(ends: RunEnds, items: Iterable[Item], rules: Rules) -> Iterator[RenewalLine]:
    """One line for each ring, rating and trunking that the renewed runs of cable take."""
    reader = CircuitReader(ends, rules)
    runs = (reader.takes(*run) for run in runs_of_cable(items, rules))
    for part in parts(runs, ends.boat, rules.wiring.fill):
        yield _line(part, rules)


def _line(part: WirePart, rules: Rules) -> RenewalLine:
    # A trunking has the name that somebody gave it, which may end in AC too.
    is_ac = part.sort == FUSE and part.name.endswith(f" {AC}")
    kind = rules.kinds[BREAKER if is_ac else KINDS[part.sort]]
    system = AC_SYSTEM if is_ac else kind.system
    plain = rules.renewal.parts.get(kind.id)
    standard = rules.renewing.standards.get(kind.id, "")
    return RenewalLine(
        spec=", ".join(text for text in (kind.name, part.name, standard) if text),
        kind=kind.id,
        system=system,
        size=part.name,
        standard=standard,
        count=part.count,
        length_mm=None,
        allowance=0.0,
        order_mm=part.length_mm,
        items=part.items,
        tags=(),
        open_questions=(ASKS[part.sort], *([part.fill] if part.too_full else [])),
        id=counted_id(kind.id, part.name),
        systems=(system,),
        details=(
            *([part.fill] if part.fill and not part.too_full else []),
            *(said(part.name, plain, None) if plain else ()),
        ),
    )
