"""Every run of cable aboard: as it was, what it takes, and the parts at its ends."""

from __future__ import annotations

import operator
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from shedtally.domain.aboard.named import name_of
from shedtally.domain.aboard.out import pieces, system_of
from shedtally.domain.aboard.run_ends import Joint, RunEnds
from shedtally.domain.boat import BoatRecords
from shedtally.domain.measures.reading import Size
from shedtally.domain.records import Item
from shedtally.domain.renewals.parts import PartsReader
from shedtally.domain.rulebook import Kind, Rules
from shedtally.domain.rulebook.wiring import WireRules
from shedtally.domain.wiring.cable_size import order_size
from shedtally.domain.wiring.circuit_parts import Takes, parts, takes_of
from shedtally.domain.wiring.lists import AC, CircuitEnd, CircuitLine, CircuitList, WireSizing
from shedtally.domain.wiring.rings import ring_for
from shedtally.domain.wiring.size import conductor, size_wire, wire_for_fuse
from shedtally.domain.wiring.trunking import space_mm2

AC_SYSTEM = "ac"
CIRCUITS = ("dc", AC_SYSTEM)
NOT_WRITTEN = "not written"


def circuits(boat: BoatRecords, rules: Rules) -> CircuitList:
    """All runs of cable that are not in the bin, sized as far as they are written down.

    Returns: runs by system and name; parts at both ends of each run, one fuse for each run that
        was sized and doesn't crank, and each trunking once by its longest run.
    """
    reader = CircuitReader(RunEnds(boat, rules), rules)
    runs = list(runs_of_cable(boat.items.values(), rules))
    lines = [reader.line(*run) for run in runs]
    taken = (reader.takes_of(line, *run) for line, run in zip(lines, runs, strict=True))
    bought = tuple(parts(taken, boat, rules.wiring.fill))
    place = {system: n for n, system in enumerate(rules.systems)}
    lines.sort(key=lambda line: (place.get(line.system, len(place)), line.name, line.key))
    return CircuitList(
        circuits=tuple(lines),
        parts=bought,
        cautions=rules.wiring.cautions,
        ranges=ranges(rules.wiring),
        sources=tuple(
            rules.sources[key].title for key in rules.wiring.sources if key in rules.sources
        ),
    )


def runs_of_cable(items: Iterable[Item], rules: Rules) -> Iterator[tuple[Item, Kind]]:
    """Those of the items that are circuits, each with its kind."""
    for item in items:
        kind = rules.kinds.get(item.kind or "")
        if kind and is_circuit(item, kind):
            yield item, kind


def is_circuit(item: Item, kind: Kind) -> bool:
    """A cable that feeds something: one of the DC or AC system, or one with a load written."""
    fed = item.load_a is not None or item.load_w is not None
    return kind.section == "cable" and (kind.system in CIRCUITS or fed)


class CircuitReader:
    """Makes the lines of many runs; what a wire takes is worked out with words only if asked."""

    def __init__(self, ends: RunEnds, rules: Rules) -> None:
        self._ends, self._rules = ends, rules
        self._parts = PartsReader(rules)

    def line(self, item: Item, kind: Kind) -> CircuitLine:
        """One run of cable: its ends, its wire, and how it stands on the order."""
        rules, item = self._rules, self._as_fixed(item, kind)
        system = system_of(item, kind)
        sizing = size_wire(item, system == AC_SYSTEM, rules.wiring)
        size, how = order_size(item)
        read = conductor(size)
        return CircuitLine(
            key=item.key,
            name=name_of(item, kind),
            tags=self._ends.boat.codes.get(f"item/{item.key}", ()),
            system=system,
            current=AC if system == AC_SYSTEM else "DC",
            old_size=(item.size or "").strip(),
            fuse_a=item.fuse_a,
            length_mm=item.length_mm,
            ends=tuple(_ends(self._joined(item), _mm2(read), rules)),
            conductors=_conductors(item, read),
            trunking=(item.trunking or "").strip(),
            sizing=sizing,
            verdict=_verdict(sizing),
            order_size=size,
            order_how=how if size else "size open",
        )

    def takes_of(self, line: CircuitLine, item: Item, kind: Kind) -> Takes:
        """What a run takes besides its wire, by its line."""
        space = self._space_mm2(self._as_fixed(item, kind)) if line.trunking else None
        return takes_of(line, space)

    def takes(self, item: Item, kind: Kind) -> Takes:
        """What a run takes besides its wire; the same as `takes_of` of its line, without words."""
        rules, item = self._rules, self._as_fixed(item, kind)
        is_ac = system_of(item, kind) == AC_SYSTEM
        read = conductor(order_size(item)[0])
        studs = [joint.end.stud for _, joint in self._joined(item)[:2]]
        studs += [None] * (2 - len(studs))
        return Takes(
            key=item.key,
            name=name_of(item, kind),
            is_ac=is_ac,
            rings=tuple(ring_for(_mm2(read), stud, rules.wiring) for stud in studs),
            conductors=_conductors(item, read),
            wire=wire_for_fuse(item, is_ac, rules.wiring),
            trunking=(item.trunking or "").strip(),
            length_mm=item.length_mm,
            space_mm2=self._space_mm2(item) if item.trunking else None,
        )

    def _space_mm2(self, item: Item) -> float | None:
        """What all pieces of a run take in a trunking, by the size that is ordered."""
        read = conductor(order_size(item)[0])
        one = space_mm2(
            None if isinstance(read, str) else read,
            sheathed=item.sheathed is True,
            rules=self._rules.wiring.fill,
        )
        return None if one is None else one * pieces(item)

    def _joined(self, item: Item) -> list[tuple[int, Joint]]:
        return _from_the_feed(self._ends.of(item), item, self._rules.wiring)

    def _as_fixed(self, item: Item, kind: Kind) -> Item:
        """The run with what was fixed for its line, where nothing is written on the run itself."""
        specs = self._ends.boat.specs
        spec = specs.get(self._parts.parts(item, kind).id) if specs else None
        if spec is None:
            return item
        return replace(
            item,
            insulation_c=spec.insulation_c if item.insulation_c is None else item.insulation_c,
            sheathed=spec.sheathed if item.sheathed is None else item.sheathed,
        )


def _mm2(read: Size | str) -> float | None:
    return None if isinstance(read, str) else read.mm2


def _conductors(item: Item, size: Size | str) -> int:
    """Conductors that want a terminal at each end: cores by pieces."""
    cores = 1 if isinstance(size, str) else size.cores
    if cores == 1 and item.sheathed:
        cores = 2
    return cores * pieces(item)


def _verdict(sizing: WireSizing) -> str:
    if sizing.asks:
        return "not sized yet"
    if sizing.refused:
        return "outside the method"
    if sizing.taken is not None and sizing.taken.fails:
        return "the taken one fails"
    if sizing.old is None:
        return "sized"
    return "the old one fails" if sizing.old.fails else "the old one passes"


def _from_the_feed(found: Sequence[Joint], item: Item, rules: WireRules) -> list[tuple[int, Joint]]:
    """The ends of a run with how near they are to what feeds it, the nearest first.

    All of its own; what others say of being joined to it only up to two.
    """
    order, last = rules.feed_order, len(rules.feeds)
    if len(found) > 2:
        own = sum(joint.end.item == item.key for joint in found)
        found = found[: max(own, 2)]
    ends = [(order.get(joint.to.kind, last) if joint.to else last, joint) for joint in found]
    ends.sort(key=operator.itemgetter(0))
    return ends


def _ends(
    found: Sequence[tuple[int, Joint]], mm2: float | None, rules: Rules
) -> Iterator[CircuitEnd]:
    for nearness, joint in found:
        name = name_of(joint.to, rules.kinds.get(joint.to.kind or "")) if joint.to else joint.point
        stud = joint.end.stud
        feeds = nearness < len(rules.wiring.feeds)
        yield CircuitEnd(name or NOT_WRITTEN, feeds, stud or "", ring_for(mm2, stud, rules.wiring))
    # A run has two ends, whether or not somebody wrote what they go to.
    for _ in range(2 - len(found)):
        yield CircuitEnd(NOT_WRITTEN, False, "", ring_for(mm2, None, rules.wiring))


def ranges(rules: WireRules) -> tuple[str, ...]:
    """What the method covers, in words for the foot of a list."""
    limits = rules.limits
    (dc_low, dc_high), (ac_low, ac_high) = limits.dc_v, limits.ac_v
    return (
        f"{dc_low:g} to {dc_high:g} V DC",
        f"{ac_low:g} to {ac_high:g} V AC of one phase, up to {limits.ac_mm2:g} mm2 or AWG 6",
        f"more than 0, up to {limits.most_a:g} A and {limits.most_m:g} m there and back",
        f"air of -20 to {rules.most_c:g} °C, counted as at least {rules.at_c:g} °C",
        f"air at least {rules.below_insulation_k:g} K below what the insulation stands",
    )
