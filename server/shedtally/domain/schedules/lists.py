"""A schedule as data: the runs of a boat as it was, in rows, and drawn as a plain diagram.

Measures of a drawing are units of its own: text is 11 units high, y counts downwards.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

NodeSort: TypeAlias = Literal["item", "point", "run", "joint", "open"]


@dataclass(frozen=True, slots=True)
class ScheduleRow:
    """One run. ``number`` is its name in the drawing where it has no tag; ``ends`` what it joins.

    ``length_mm`` is as measured, or worked out as ``how`` says. ``more`` answers the further heads
    of the schedule.
    """

    number: int
    item: str
    name: str
    tags: tuple[str, ...]
    system: str
    size: str
    length_mm: float | None
    how: str
    ends: tuple[str, ...]
    held: tuple[str, ...]
    place: str
    condition: str
    more: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class DrawnNode:
    """A box: something that runs lead to. ``open`` is an end that nobody wrote down."""

    key: str
    sort: NodeSort
    lines: tuple[str, ...]
    tag: str
    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class DrawnRun:
    """A line of right angles: corners as x, y, x, y ...; its name and size stand at ``label``."""

    item: str
    name: str
    size: str
    corners: tuple[float, ...]
    label: tuple[float, float]


@dataclass(frozen=True, slots=True)
class DrawnColumn:
    """A compartment, or several in a row, as a column; from the stem aft."""

    name: tuple[str, ...]
    x: float
    width: float


@dataclass(frozen=True, slots=True)
class DrawnBlock:
    """What hangs together, drawn: columns from the stem aft."""

    width: float
    height: float
    columns: tuple[DrawnColumn, ...]
    nodes: tuple[DrawnNode, ...]
    runs: tuple[DrawnRun, ...]


@dataclass(frozen=True, slots=True)
class ScheduleSystem:
    """One system: its runs, and their drawing in blocks of what hangs together."""

    system: str
    name: str
    rows: tuple[ScheduleRow, ...]
    blocks: tuple[DrawnBlock, ...]
    open_questions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Schedule:
    """All runs of one sort as the boat was. ``heads`` are what ``more`` of each row answers."""

    title: str
    heads: tuple[str, ...]
    systems: tuple[ScheduleSystem, ...]
    cautions: tuple[str, ...]
