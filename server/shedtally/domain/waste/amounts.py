"""Each line of waste with its mass, when it came up, and whether an amount by law counts it.

What a scale knows of a container is divided over its lines in the proportion of their estimates,
so that streams, months and the whole agree. A container in which anything is counted is counted
whole, and where streams are mixed the larger of scale and estimates holds: what is put in beside
something else must never make an amount smaller.
"""

from __future__ import annotations

import datetime
import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from shedtally.domain.lists import Spread
from shedtally.domain.masses.estimate import Estimate, sum_of
from shedtally.domain.masses.item_mass import as_weighed
from shedtally.domain.waste.box import day_of
from shedtally.domain.waste.by_stream import Case
from shedtally.domain.waste.stream import Row


@dataclass(frozen=True, slots=True)
class Amount:
    """One line: its mass, when it came up (None: on no known day), whether the law counts it.

    ``aboard``: it is waste to come, and nothing has come up yet.
    """

    row: Row
    mass: Estimate
    came: datetime.date | None
    counted: bool
    aboard: bool

    @property
    def here(self) -> bool:
        """Whether it stands on site now."""
        return not (self.row.line.gone or self.aboard)


def amounts_of(case: Case, rows: Sequence[Row]) -> list[Amount]:
    """The lines with what is known of each. Args: rows: as `by_stream.waste_rows` makes them."""
    left_out = {stream for stream, _ in not_counted(case)}
    inside = _inside(rows)
    shared = _shared(case, inside)
    whole = {key for key, lines in inside.items() if _counts(case, key, lines, left_out)}
    return [
        Amount(
            row,
            shared.get(row.line.key, row.mass),
            _came(case, row),
            row.box in whole or _is_counted(row, left_out),
            _aboard(case, row),
        )
        for row in rows
    ]


def total(amounts: Iterable[Amount]) -> Spread:
    """The sum, each shared cause counted once."""
    return sum_of([one.mass for one in amounts])


def not_counted(case: Case) -> Iterator[tuple[str, str]]:
    """Streams that the rule set leaves out of its amounts, each with why."""
    for rule in case.rules.amounts.not_counted:
        if rule.rule_set == case.law.law:
            for stream in rule.streams:
                yield stream, rule.why


def _inside(rows: Sequence[Row]) -> Mapping[str, list[Row]]:
    found: defaultdict[str, list[Row]] = defaultdict(list)
    for row in rows:
        if row.box:
            found[row.box].append(row)
    return found


def _is_counted(row: Row, left_out: set[str]) -> bool:
    return row.entry.hazardous and row.stream not in left_out


def _counts(case: Case, key: str, lines: Sequence[Row], left_out: set[str]) -> bool:
    """Whether a container is counted: by anything in it, or by the stream that it is for."""
    own = case.boxes[key].stream
    if own in case.rules.streams and own not in left_out:
        day = lines[0].day
        if case.law.entry(own, case.holder, day).hazardous:
            return True
    return any(_is_counted(row, left_out) for row in lines)


def _shared(case: Case, inside: Mapping[str, Sequence[Row]]) -> dict[str, Estimate]:
    found: dict[str, Estimate] = {}
    for key, lines in inside.items():
        net = case.boxes[key].net
        if net is None:
            continue
        whole = math.fsum(row.mass[0] for row in lines)
        mixed = len({(row.stream, row.entry.code, row.line.gone) for row in lines}) > 1
        if mixed and whole >= net.likely:
            continue
        kg, origin = as_weighed(net.likely, case.rules)
        for row in lines:
            part = row.mass[0] / whole if whole else 1 / len(lines)
            found[row.line.key] = (kg * part, origin)
    return found


def _came(case: Case, row: Row) -> datetime.date | None:
    item = case.boat.items.get(row.line.key)
    if item is None:
        day = day_of(case.boat.containers[row.box].opened_at)
    else:
        # It came up at the latest on the day on which somebody put it into a container.
        days = (day_of(item.out_at), day_of(item.boxed_at))
        day = min((one for one in days if one is not None), default=None)
    # A day that has yet to come can't be right, so it is no known day.
    return day if day is not None and day <= case.on else None


def _aboard(case: Case, row: Row) -> bool:
    item = case.boat.items.get(row.line.key)
    return (
        item is not None
        and item.whereabouts == "aboard"
        and not item.container
        and not item.handover
        and day_of(item.out_at) is None
    )
