"""Every run of cable aboard: as it was, what it takes, and the parts at its ends."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import replace

from shedtally.domain.boat import BoatRecords
from shedtally.domain.classify import name_of
from shedtally.domain.measure import Size
from shedtally.domain.order_size import order_size
from shedtally.domain.out import pieces, system_of
from shedtally.domain.records import Item
from shedtally.domain.renewal_parts import PartsReader
from shedtally.domain.rings import ring_for
from shedtally.domain.rulebook import Kind, Rules
from shedtally.domain.wire_lists import (
    CircuitEnd,
    CircuitLine,
    CircuitList,
    WireFit,
    WirePart,
    WireSizing,
)
from shedtally.domain.wire_rules import WireRules
from shedtally.domain.wire_size import conductor, size_wire

AC = "AC"
AC_SYSTEM = "ac"
CIRCUITS = ("dc", AC_SYSTEM)


def circuits(boat: BoatRecords, rules: Rules) -> CircuitList:
    """All runs of cable that are not in the bin, sized as far as they are written down.

    Returns: runs by system and name; parts at both ends of each run, one fuse for each run that
        was sized and doesn't crank, and each trunking once by its longest run.
    """
    lines = [
        circuit(boat, item, kind, rules)
        for item in boat.items.values()
        if (kind := rules.kinds.get(item.kind or "")) and is_circuit(item, kind)
    ]
    place = {system: n for n, system in enumerate(rules.systems)}
    lines.sort(key=lambda line: (place.get(line.system, len(place)), line.name, line.key))
    return CircuitList(
        circuits=tuple(lines),
        parts=tuple(parts(lines, boat)),
        cautions=rules.wiring.cautions,
        ranges=ranges(rules.wiring),
        sources=tuple(
            rules.sources[key].title for key in rules.wiring.sources if key in rules.sources
        ),
    )


def is_circuit(item: Item, kind: Kind) -> bool:
    """A cable that feeds something: one of the DC or AC system, or one with a load written."""
    fed = item.load_a is not None or item.load_w is not None
    return kind.section == "cable" and (kind.system in CIRCUITS or fed)


def circuit(boat: BoatRecords, item: Item, kind: Kind, rules: Rules) -> CircuitLine:
    """One run of cable: its ends, its wire, and how it stands on the order."""
    item = _as_fixed(boat, item, kind, rules)
    system = system_of(item, kind)
    sizing = size_wire(item, system == AC_SYSTEM, rules.wiring)
    size, how = order_size(item)
    read = conductor(size)
    mm2 = None if isinstance(read, str) else read.mm2
    return CircuitLine(
        key=item.key,
        name=name_of(item, kind),
        tags=boat.codes.get(f"item/{item.key}", ()),
        system=system,
        current=AC if system == AC_SYSTEM else "DC",
        old_size=(item.size or "").strip(),
        fuse_a=item.fuse_a,
        length_mm=item.length_mm,
        ends=tuple(_ends(boat, item, mm2, rules)),
        conductors=_conductors(item, read),
        trunking=(item.trunking or "").strip(),
        sizing=sizing,
        verdict=_verdict(sizing),
        order_size=size,
        order_how=how if size else "size open",
    )


def _as_fixed(boat: BoatRecords, item: Item, kind: Kind, rules: Rules) -> Item:
    """The run with what was fixed for its line, where nothing is written on the run itself."""
    if not boat.specs:
        return item
    spec = boat.specs.get(PartsReader(rules).parts(item, kind).id)
    if spec is None:
        return item
    return replace(
        item,
        insulation_c=spec.insulation_c if item.insulation_c is None else item.insulation_c,
        sheathed=spec.sheathed if item.sheathed is None else item.sheathed,
    )


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


def _ends(boat: BoatRecords, item: Item, mm2: float | None, rules: Rules) -> Iterable[CircuitEnd]:
    """Both ends, the one that feeds it first: its own, then what others say of being joined."""
    own = boat.ends_by_item.get(item.key, ())
    found = [(end.to_item, end.to_point or "", end.stud) for end in own]
    joined = {other for other, _, _ in found}
    for end in boat.ends_to_item.get(item.key, ()):
        if len(found) < 2 and end.item not in joined:
            found.append((end.item, "", end.stud))
            joined.add(end.item)
    found.sort(key=lambda row: _nearness(boat, row[0], rules))
    # A run has two ends, whether or not somebody wrote what they go to.
    found += [(None, "", None)] * (2 - len(found))
    for other, point, stud in found:
        name = _name(boat, other, rules) or point or "not written"
        feeds = _nearness(boat, other, rules) < len(rules.wiring.feeds)
        yield CircuitEnd(name, feeds, stud or "", ring_for(mm2, stud, rules.wiring))


def _nearness(boat: BoatRecords, key: str | None, rules: Rules) -> int:
    """How near to where the current comes from; what feeds nothing is last."""
    item = boat.items.get(key or "")
    feeds = rules.wiring.feeds
    return feeds.index(item.kind) if item and item.kind in feeds else len(feeds)


def _name(boat: BoatRecords, key: str | None, rules: Rules) -> str:
    item = boat.items.get(key or "")
    return name_of(item, rules.kinds.get(item.kind or "")) if item else ""


def chosen(line: CircuitLine) -> WireFit | None:
    """The conductor that the fuse is for: the taken one, else the thinnest of the old series."""
    sizing = line.sizing
    if sizing.taken is not None:
        return sizing.taken
    metric = not line.old_size.lower().replace(" ", "").count("awg")
    first, second = (sizing.metric, sizing.gauge) if metric else (sizing.gauge, sizing.metric)
    return first or second


def parts(lines: Iterable[CircuitLine], boat: BoatRecords) -> Iterator[WirePart]:
    """Terminals at both ends of each run, a fuse for each that was sized, each trunking once.

    What protects mains is apart from what protects DC: a fuse of one is none for the other.
    """
    rings: defaultdict[str, list[tuple[int, CircuitLine]]] = defaultdict(list)
    fuses: defaultdict[tuple[bool, float], list[tuple[int, CircuitLine]]] = defaultdict(list)
    trunkings: defaultdict[str, list[CircuitLine]] = defaultdict(list)
    for line in lines:
        for end in line.ends[:2]:
            rings[end.ring].append((line.conductors, line))
        fit = chosen(line)
        if fit is not None and fit.fuses and boat.items[line.key].duty != "seconds":
            fuses[line.current == AC, fit.fuses[0]].append((1, line))
        if line.trunking:
            trunkings[line.trunking].append(line)
    for name, found in sorted(rings.items()):
        yield _part("terminal", name, found)
    for (is_ac, rating), found in sorted(fuses.items()):
        yield _part("fuse or breaker", f"{rating:g} A{' AC' if is_ac else ''}", found)
    for name, group in sorted(trunkings.items()):
        longest = max(line.length_mm or 0.0 for line in group)
        yield _part("trunking", name, [(1, line) for line in group], longest or None)


def _part(
    sort: str, name: str, found: list[tuple[int, CircuitLine]], length_mm: float | None = None
) -> WirePart:
    lines = {line.key: line for _, line in found}
    return WirePart(
        sort=sort,
        name=name,
        count=1 if sort == "trunking" else sum(count for count, _ in found),
        length_mm=length_mm,
        runs=tuple(line.name for line in lines.values()),
        items=tuple(lines),
    )


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
