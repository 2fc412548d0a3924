"""A plain diagram of a network: boxes in columns, lines of right angles that never lie on another.

Columns go by where things sit along the boat. A line that passes a column keeps a row of its own
there; between two columns each line turns on a track of its own. Ports of even columns lie on
whole rows and those of odd ones on half rows, so that level stretches of two lines never meet.
Crossings are few, not fewest: boxes are ordered by the mean of what they are joined to
(K. Sugiyama, S. Tagawa, M. Toda, 1981).
"""

from __future__ import annotations

import functools
import itertools
import math
import textwrap
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from shedtally.domain.schedules.lists import (
    DrawnBlock,
    DrawnColumn,
    DrawnNode,
    DrawnRun,
    NodeSort,
)
from shedtally.domain.schedules.ranks import ranks
from shedtally.domain.schedules.tracks import tracks_of

PITCH = 26.0
TEXT = 13.0
NODE_WIDTH, NODE_LETTERS, NODE_LINES = 116.0, 18, 3
LABEL_PER_LETTER, LABEL_LEAST = 6.3, 56.0
TRACK, EDGE, APART = 9.0, 8.0, 14.0
HEAD_LETTERS = 18
SWEEPS = 6


@dataclass(frozen=True, slots=True)
class Box:
    """Something that runs lead to; ``column`` sorts it from the stem aft, ``place`` names that."""

    key: str
    sort: NodeSort
    name: str
    tag: str
    column: tuple[float, str]
    place: str


@dataclass(frozen=True, slots=True)
class Link:
    """A run between two boxes, by their keys; ``name`` and ``size`` are written on it."""

    item: str
    name: str
    size: str
    first: str
    last: str


@dataclass(slots=True)
class Cell:
    """A box or a passing line in a column: its rows, and who leaves on which side.

    A port is a link and the step of its way; ``place`` is where it stands among those of its side.
    """

    at: int
    box: Box | None
    lines: tuple[str, ...] = ()
    left: list[tuple[int, int]] = field(default_factory=list)
    right: list[tuple[int, int]] = field(default_factory=list)
    place: dict[tuple[int, int], int] = field(default_factory=dict)
    y: float = 0.0

    @property
    def rows(self) -> int:
        """Its height in rows: as many as its text or its lines need."""
        text = len(self.lines) + (1 if self.box and self.box.tag else 0)
        return max(1, math.ceil((text * TEXT + 6) / PITCH), len(self.left), len(self.right))


class Block:
    """One connected part, being laid out."""

    def __init__(self, boxes: Mapping[str, Box], links: Sequence[Link]) -> None:
        self._links = links
        used = dict.fromkeys(key for link in links for key in (link.first, link.last))
        rank = ranks(
            {key: boxes[key].column for key in used}, [(link.first, link.last) for link in links]
        )
        names = sorted({(boxes[key].column, rank[key]) for key in used})
        column_at = {name: at for at, name in enumerate(names)}
        self._columns: list[list[Cell]] = [[] for _ in names]
        # A compartment of several columns has its name over the first.
        self._places = ["" for _ in names]
        self._cell_of: dict[str, Cell] = {}
        for key in used:
            box = boxes[key]
            at = column_at[box.column, rank[key]]
            self._places[column_at[box.column, 0]] = box.place
            cell = Cell(at, box, tuple(_wrapped(box.name, NODE_LETTERS, NODE_LINES)))
            self._cell_of[key] = cell
            self._columns[at].append(cell)
        # Each link as the cells that it passes, from the left; a loop comes back into its column.
        self._ways: list[list[Cell]] = [self._way(link) for link in links]

    def _way(self, link: Link) -> list[Cell]:
        one, other = self._cell_of[link.first], self._cell_of[link.last]
        if one.at > other.at:
            one, other = other, one
        passed = [Cell(at, None) for at in range(one.at + 1, other.at)]
        for cell in passed:
            self._columns[cell.at].append(cell)
        return [one, *passed, other]

    def drawn(self) -> DrawnBlock:
        """The block with all its places."""
        self._sort_columns()
        self._take_ports()
        self._stack()
        self._order_ports()
        head = TEXT + TEXT * max(len(_heading(name)) for name in self._places)
        xs, tracks = self._across()
        for column in self._columns:
            for cell in column:
                cell.y += head
        width = xs[-1] + NODE_WIDTH + EDGE + self._gutter(len(xs) - 1, tracks)
        bottom = max(cell.y + cell.rows * PITCH for column in self._columns for cell in column)
        return DrawnBlock(
            width=width,
            height=bottom + APART,
            columns=tuple(self._heads(xs)),
            nodes=tuple(
                _node(cell, cell.box, xs[cell.at])
                for column in self._columns
                for cell in column
                if cell.box is not None
            ),
            runs=tuple(self._run(n, xs, tracks) for n in range(len(self._links))),
        )

    def _heads(self, xs: list[float]) -> Iterator[DrawnColumn]:
        """The compartments, each over all of its columns."""
        starts = [at for at, name in enumerate(self._places) if name]
        for at, following in itertools.pairwise([*starts, len(xs)]):
            width = xs[following - 1] + NODE_WIDTH - xs[at]
            yield DrawnColumn(tuple(_heading(self._places[at])), xs[at], width)

    def _sort_columns(self) -> None:
        """Put each cell near the mean place of those that it is joined to, back and forth."""
        beside: defaultdict[int, list[Cell]] = defaultdict(list)
        for way in self._ways:
            for one, other in itertools.pairwise(way):
                beside[id(one)].append(other)
                beside[id(other)].append(one)
        place = {id(cell): n for column in self._columns for n, cell in enumerate(column)}
        for sweep in range(SWEEPS):
            for column in self._columns[:: -1 if sweep % 2 else 1]:
                size = max(len(column), 1)

                def mean(cell: Cell) -> float:
                    near = [
                        place[id(one)] / max(len(self._columns[one.at]), 1)
                        for one in beside[id(cell)]
                    ]
                    return sum(near) / len(near) if near else place[id(cell)] / size  # noqa: B023

                column.sort(key=mean)
                for n, cell in enumerate(column):
                    place[id(cell)] = n

    def _take_ports(self) -> None:
        for n, way in enumerate(self._ways):
            if len(way) == 2 and way[0].at == way[1].at:
                way[0].right.append((n, 0))
                way[1].right.append((n, 1))
                continue
            for step in range(len(way) - 1):
                way[step].right.append((n, step))
                way[step + 1].left.append((n, step))

    def _stack(self) -> None:
        """Give every cell its height in the column, near those it is joined to."""
        joined: defaultdict[int, list[Cell]] = defaultdict(list)
        for way in self._ways:
            for one, other in itertools.pairwise(way):
                if one.at != other.at:
                    joined[id(other)].append(one)
        for at, column in enumerate(self._columns):
            half = PITCH / 2 if at % 2 else 0.0
            free = half
            for cell in column:
                near = joined[id(cell)]
                wish = sum(one.y + one.rows * PITCH / 2 for one in near) / len(near) if near else 0
                wish -= cell.rows * PITCH / 2
                steps = max(0, round((wish - half) / PITCH))
                cell.y = max(free, half + steps * PITCH)
                free = cell.y + (cell.rows + (1 if cell.box else 0)) * PITCH

    def _order_ports(self) -> None:
        """On each side of a cell its lines in the order of where they lead."""
        for column in self._columns:
            for cell in column:
                cell.right.sort(key=lambda port: self._beyond(port, cell))
                cell.left.sort(key=lambda port: self._ways[port[0]][port[1]].y)
                for ports in (cell.left, cell.right):
                    cell.place.update((port, n) for n, port in enumerate(ports))

    def _beyond(self, port: tuple[int, int], cell: Cell) -> float:
        way, step = self._ways[port[0]], port[1]
        if way[0].at == way[-1].at:
            other = way[1] if way[0] is cell else way[0]
            return other.y
        return way[step + 1].y

    def _port_y(self, cell: Cell, ports: list[tuple[int, int]], port: tuple[int, int]) -> float:
        spare = (cell.rows - len(ports)) // 2
        return cell.y + (spare + cell.place[port] + 0.5) * PITCH

    def _legs(self, n: int) -> Iterator[tuple[int, float, float]]:
        """Of a link each gap that it crosses: the column before it, the heights on its sides."""
        way = self._ways[n]
        if way[0].at == way[-1].at:
            one = self._port_y(way[0], way[0].right, (n, 0))
            yield way[0].at, one, self._port_y(way[1], way[1].right, (n, 1))
            return
        for step in range(len(way) - 1):
            here, there = way[step], way[step + 1]
            yield (
                here.at,
                self._port_y(here, here.right, (n, step)),
                self._port_y(there, there.left, (n, step)),
            )

    def _across(self) -> tuple[list[float], dict[tuple[int, int], int]]:
        """The left edge of each column, and the track of each link in each gap."""
        tracks: dict[tuple[int, int], int] = {}
        gaps: defaultdict[int, list[tuple[int, float, float]]] = defaultdict(list)
        for n in range(len(self._links)):
            for at, start, end in self._legs(n):
                gaps[at].append((n, start, end))
        for at, legs in gaps.items():
            for n, track in tracks_of(legs):
                tracks[at, n] = track
        xs = [EDGE]
        for at in range(len(self._columns) - 1):
            xs.append(xs[-1] + NODE_WIDTH + self._gutter(at, tracks))
        return xs, tracks

    def _gutter(self, at: int, tracks: Mapping[tuple[int, int], int]) -> float:
        """The width of the gap after a column: room for labels, then for tracks."""
        used = [track for (gap, _), track in tracks.items() if gap == at]
        if not used:
            return 0.0
        return self._labels[at] + (max(used) + 2) * TRACK

    @functools.cached_property
    def _labels(self) -> Sequence[float]:
        """Behind each column, the room for the longest name or size that is written there."""
        letters = [0] * len(self._columns)
        for link, way in zip(self._links, self._ways, strict=True):
            at = way[0].at
            letters[at] = max(letters[at], len(link.name), len(link.size))
        return [max(LABEL_LEAST, most * LABEL_PER_LETTER + 8) for most in letters]

    def _run(self, n: int, xs: list[float], tracks: Mapping[tuple[int, int], int]) -> DrawnRun:
        link, way = self._links[n], self._ways[n]
        corners: list[float] = []
        loops = way[0].at == way[-1].at
        for at, start, end in self._legs(n):
            edge = xs[at] + NODE_WIDTH
            turn = edge + self._labels[at] + (tracks[at, n] + 1) * TRACK
            stop = edge if loops else xs[at + 1]
            corners += [edge, start, turn, start, turn, end, stop, end]
        label = (corners[0] + 4, corners[1] - 4)
        return DrawnRun(link.item, link.name, link.size, tuple(corners), label)


def _node(cell: Cell, box: Box, x: float) -> DrawnNode:
    height = cell.rows * PITCH
    return DrawnNode(box.key, box.sort, cell.lines, box.tag, x, cell.y + 2, NODE_WIDTH, height - 4)


def _heading(name: str) -> list[str]:
    return _wrapped(name, HEAD_LETTERS, 3)


def _wrapped(text: str, letters: int, most: int) -> list[str]:
    """The text in lines of so many letters; what doesn't fit ends with an ellipsis."""
    return textwrap.wrap(text, letters, max_lines=most, placeholder=" …") or [text[:letters]]
