"""What the two ends of a run are joined to, as far as anybody wrote it down on either side."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from shedtally.domain.aboard.named import name_of
from shedtally.domain.boat import BoatRecords
from shedtally.domain.records import End, Item, tag
from shedtally.domain.rulebook import Rules


class Joint(NamedTuple):
    """One end of a run. ``to`` is the item it leads to, else ``point`` names where it ends.

    ``end`` is the record that says so: the run's own, or one of what it is joined to.
    """

    end: End
    to: Item | None
    point: str
    held: str


def joints(boat: BoatRecords, run: Item) -> Sequence[Joint]:
    """The ends of a run: its own first, then what says of itself that it is joined to the run.

    An end that both sides wrote down counts once.
    """
    items = boat.items
    found = [
        Joint(
            end,
            items.get(end.to_item or ""),
            (end.to_point or "").strip(),
            end.joined or "",
        )
        for end in boat.ends_by_item.get(run.key, ())
    ]
    if others := boat.ends_to_item.get(run.key):
        known = {joint.to.key for joint in found if joint.to}
        found += [
            Joint(end, item, "", end.joined or "")
            for end in others
            if (item := items.get(end.item or "")) and item.key not in known
        ]
    return found


class RunEnds:
    """What the runs of one boat are joined to, with the names of things put together once."""

    def __init__(self, boat: BoatRecords, rules: Rules) -> None:
        self.boat = boat
        self._rules = rules
        self._names: dict[str, str] = {}

    def of(self, run: Item) -> Sequence[Joint]:
        """The ends of a run, as `joints` finds them."""
        return joints(self.boat, run)

    def called(self, item: Item) -> str:
        """An item as people find it: ``Fuel filter (K4F2-X)``."""
        name = self._names.get(item.key)
        if name is None:
            name = name_of(item, self._rules.kinds.get(item.kind or ""))
            if codes := self.boat.codes.get(f"item/{item.key}"):
                name = f"{name} ({tag.shown(codes[0])})"
            self._names[item.key] = name
        return name

    def said(self, joint: Joint) -> str:
        """Where an end leads, for people: ``Fuel filter (K4F2-X)``; empty if nobody said."""
        return self.called(joint.to) if joint.to else joint.point
