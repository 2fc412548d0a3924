"""What runs of cable take besides the wire: terminals at both ends, fuses, trunking."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from shedtally.domain.boat import BoatRecords
from shedtally.domain.rulebook.wiring import FillRules
from shedtally.domain.wiring.lists import AC, CircuitLine, WireFit, WirePart
from shedtally.domain.wiring.size import for_fuse
from shedtally.domain.wiring.trunking import Filling, how_full


class Takes(NamedTuple):
    """What one run of cable takes: ``rings`` of both ends, the ``wire`` that a fuse is for.

    ``space_mm2`` is what all its pieces take in a trunking, None if it is in none or not known.
    """

    key: str
    name: str
    is_ac: bool
    rings: tuple[str, ...]
    conductors: int
    wire: WireFit | None
    trunking: str
    length_mm: float | None
    space_mm2: float | None


def takes_of(line: CircuitLine, space_mm2: float | None) -> Takes:
    """What a run takes whose wire was worked out for the list of circuits."""
    return Takes(
        key=line.key,
        name=line.name,
        is_ac=line.current == AC,
        rings=tuple(end.ring for end in line.ends[:2]),
        conductors=line.conductors,
        wire=for_fuse(line.sizing, line.old_size),
        trunking=line.trunking,
        length_mm=line.length_mm,
        space_mm2=space_mm2,
    )


@dataclass(slots=True)
class _Tally:
    """How many, for which runs: names by key."""

    count: int = 0
    length_mm: float = 0.0
    runs: dict[str, str] = field(default_factory=dict)
    filling: Filling = field(default_factory=Filling)

    def add(self, run: Takes, count: int) -> None:
        self.count += count
        self.length_mm = max(self.length_mm, run.length_mm or 0.0)
        self.runs[run.key] = run.name

    def lay(self, run: Takes) -> None:
        """Put a run into a trunking."""
        self.add(run, 1)
        if run.space_mm2 is None:
            self.filling.unknown.append(run.name)
        else:
            self.filling.mm2 += run.space_mm2


def parts(runs: Iterable[Takes], boat: BoatRecords, rules: FillRules) -> Iterator[WirePart]:
    """Terminals at both ends of each run, a fuse for each that was sized, each trunking once.

    What protects mains is apart from what protects DC: a fuse of one is none for the other.
    """
    rings: defaultdict[str, _Tally] = defaultdict(_Tally)
    fuses: defaultdict[tuple[bool, float], _Tally] = defaultdict(_Tally)
    trunkings: defaultdict[str, _Tally] = defaultdict(_Tally)
    for run in runs:
        for ring in run.rings:
            rings[ring].add(run, run.conductors)
        if run.wire and run.wire.fuses and boat.items[run.key].duty != "seconds":
            fuses[run.is_ac, run.wire.fuses[0]].add(run, 1)
        if run.trunking:
            trunkings[run.trunking].lay(run)
    for name in sorted(rings):
        yield _part("terminal", name, rings[name])
    for is_ac, rating in sorted(fuses):
        name = f"{rating:g} A{f' {AC}' if is_ac else ''}"
        yield _part("fuse or breaker", name, fuses[is_ac, rating])
    for name in sorted(trunkings):
        part = _part("trunking", name, trunkings[name])
        fill, too_full = how_full(name, trunkings[name].filling, rules)
        yield replace(part, fill=fill, too_full=too_full)


def _part(sort: str, name: str, tally: _Tally) -> WirePart:
    is_trunking = sort == "trunking"
    return WirePart(
        sort=sort,
        name=name,
        count=1 if is_trunking else tally.count,
        length_mm=tally.length_mm or None if is_trunking else None,
        runs=tuple(tally.runs.values()),
        items=tuple(tally.runs),
    )
