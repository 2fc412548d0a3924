"""The schedule of pipes and hoses, or of wires, of the boat as it was: rows and a drawing.

It is made from the runs and their ends and from nothing else: what nobody wrote down is an open
end, drawn as one, and a question.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal, TypeAlias

from shedtally.domain.aboard.named import name_of
from shedtally.domain.aboard.out import system_of
from shedtally.domain.aboard.run_ends import Joint, RunEnds
from shedtally.domain.boat import BoatRecords
from shedtally.domain.records import Compartment, Item, tag
from shedtally.domain.rulebook import Rules
from shedtally.domain.schedules.blocks import blocks
from shedtally.domain.schedules.layout import Box, Link
from shedtally.domain.schedules.lists import NodeSort, Schedule, ScheduleRow, ScheduleSystem

Sort: TypeAlias = Literal["piping", "wiring"]
SECTIONS: dict[Sort, tuple[str, ...]] = {"piping": ("hose", "pipe"), "wiring": ("cable",)}
TITLES: dict[Sort, str] = {"piping": "Piping as it was", "wiring": "Wiring as it was"}
CAUTIONS = ("It shows how the boat was, which need not have been right: check before you copy.",)
NOWHERE = (1e6, "Not said where")
MOST_SHARE = 0.5


def schedule(
    boat: BoatRecords,
    rules: Rules,
    sort: Sort,
    heads: tuple[str, ...] = (),
    more: Callable[[Item], tuple[str, ...]] = lambda _: (),
) -> Schedule:
    """All runs of a sort, by system in the order of the systems, each with its drawing.

    Args: heads: further columns of the table; more: what a run has in them.
    Returns: runs in the order of their place along the boat; each in exactly one row and at least
        one line of a drawing.
    """
    runs = [item for item in boat.items.values() if is_run_of(item, rules, sort)]
    by_system: defaultdict[str, list[Item]] = defaultdict(list)
    for run in runs:
        by_system[system_of(run, rules.kinds.get(run.kind or ""))].append(run)
    order = {system: n for n, system in enumerate(rules.systems)}
    return Schedule(
        title=TITLES[sort],
        heads=heads,
        systems=tuple(
            _system(boat, rules, system, by_system[system], more)
            for system in sorted(by_system, key=lambda name: (order.get(name, len(order)), name))
        ),
        cautions=CAUTIONS,
    )


def is_run_of(item: Item, rules: Rules, sort: Sort) -> bool:
    """Whether an item is a hose or pipe (a cable), by its kind, else by its form.

    What is new and not yet aboard was no part of the boat as it was.
    """
    if item.never_aboard:
        return False
    kind = rules.kinds.get(item.kind or "")
    section = kind.section if kind else item.form or ""
    return section in SECTIONS[sort] and (kind is None or kind.is_run)


def _system(
    boat: BoatRecords,
    rules: Rules,
    system: str,
    runs: list[Item],
    more: Callable[[Item], tuple[str, ...]],
) -> ScheduleSystem:
    net = _Net(boat, rules, RunEnds(boat, rules))
    runs.sort(key=lambda run: (net.column(run.compartment), name_of(run, None), run.key))
    rows = []
    for number, run in enumerate(runs, start=1):
        found = net.ends.of(run)
        rows.append(_row(net, run, number, found, more(run)))
        net.add(run, number, found)
    known = rules.systems.get(system)
    return ScheduleSystem(
        system=system,
        name=known.name if known else system or "No system",
        rows=tuple(rows),
        blocks=blocks(net.boxes, net.links),
        open_questions=tuple(_gaps(rows)),
    )


def _row(
    net: _Net, run: Item, number: int, found: Sequence[Joint], more: tuple[str, ...]
) -> ScheduleRow:
    boat, kind = net.boat, net.rules.kinds.get(run.kind or "")
    ends = [net.ends.said(joint) for joint in found]
    ends += [""] * (2 - len(ends))
    return ScheduleRow(
        number=number,
        item=run.key,
        name=name_of(run, kind),
        tags=boat.codes.get(f"item/{run.key}", ()),
        system=system_of(run, kind),
        size=run.size or "",
        length_mm=run.length_mm or None,
        how="measured" if run.length_mm else "not known",
        ends=tuple(ends),
        held=tuple(joint.held for joint in found),
        place=", ".join(boat.path(run.compartment)),
        condition=run.condition or "unknown",
        more=more,
    )


def _gaps(rows: list[ScheduleRow]) -> Iterator[str]:
    for row in rows:
        called = f"{row.name} ({called_by(row.tags, row.number)})"
        missing = row.ends.count("")
        if missing:
            ends = {1: "one end leads", 2: "both ends lead"}.get(
                missing, f"its {missing} ends lead"
            )
            yield f"{called}: nobody wrote down where {ends}."


def called_by(tags: tuple[str, ...], number: int) -> str:
    """What a run is called in the drawing: its tag, else its number in the table."""
    return tag.shown(tags[0]) if tags else f"no. {number}"


@dataclass(slots=True)
class _Net:
    """The boxes and links of one system as its runs are added."""

    boat: BoatRecords
    rules: Rules
    ends: RunEnds
    boxes: dict[str, Box] = field(default_factory=dict)
    links: list[Link] = field(default_factory=list)

    def add(self, run: Item, number: int, found: Sequence[Joint]) -> None:
        """One run: a line between its two ends; one with more ends is a box that they lead to."""
        keys = [self._box(run, joint) for joint in found]
        while len(keys) < 2:
            keys.append(self._unknown(run, len(keys)))
        name = called_by(self.boat.codes.get(f"item/{run.key}", ()), number)
        if len(keys) == 2:
            self.links.append(Link(run.key, name, run.size or "", *keys))
            return
        hub = self._take(f"run/{run.key}", "run", self._name(run), name, run.compartment)
        self.links += [Link(run.key, name, run.size or "", hub, key) for key in keys]

    def column(self, compartment: str | None) -> tuple[float, str]:
        """Where a compartment stands in the drawing: its middle along the boat, and its key."""
        row = self._shown(compartment)
        if row is None or row.from_m is None or row.to_m is None:
            return (NOWHERE[0], row.key if row else "")
        return ((row.from_m + row.to_m) / 2, row.key)

    def _box(self, run: Item, joint: Joint) -> str:
        to = joint.to
        if to is None and not joint.point:
            return self._unknown(run, joint.end.key)
        if to is None:
            key = f"point/{joint.point.lower()}"
            return self._take(key, "point", joint.point, "", run.compartment)
        if not self._is_run(to):
            code = self.boat.codes.get(f"item/{to.key}", ("",))[0]
            shown = tag.shown(code) if code else ""
            return self._take(f"item/{to.key}", "item", self._name(to), shown, to.compartment)
        # Two runs that are joined to each other meet in a point of their own.
        pair = "+".join(sorted((run.key, to.key)))
        name = f"joint, {self._name(to)}"
        return self._take(f"joint/{pair}", "joint", name, "", run.compartment)

    def _is_run(self, item: Item) -> bool:
        return any(is_run_of(item, self.rules, sort) for sort in SECTIONS)

    def _unknown(self, run: Item, which: object) -> str:
        key = f"open/{run.key}/{which}"
        return self._take(key, "open", "not written down", "", run.compartment)

    def _take(self, key: str, sort: NodeSort, name: str, code: str, compartment: str | None) -> str:
        if key not in self.boxes:
            row = self._shown(compartment)
            place = (row.name or "unnamed") if row else NOWHERE[1]
            self.boxes[key] = Box(key, sort, name, code, self.column(compartment), place)
        return key

    def _name(self, item: Item) -> str:
        return name_of(item, self.rules.kinds.get(item.kind or ""))

    def _shown(self, compartment: str | None) -> Compartment | None:
        """The outermost compartment around that is less than half of the boat, else the inmost."""
        around = list(_around(self.boat.compartments, compartment))
        length = self.boat.boat.length_m or 0.0
        for row in reversed(around):
            if row.from_m is None or row.to_m is None:
                continue
            if abs(row.to_m - row.from_m) < length * MOST_SHARE:
                return row
        return around[0] if around else None


def _around(rows: Mapping[str, Compartment], key: str | None) -> Iterator[Compartment]:
    """A compartment and those around it, inside first; a ring is walked once."""
    seen = set[str]()
    while key is not None and key in rows and key not in seen:
        seen.add(key)
        yield rows[key]
        key = rows[key].within
