"""The drawings of a network: one block for each part of it that hangs together."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence

from shedtally.domain.schedules.layout import Block, Box, Link
from shedtally.domain.schedules.lists import DrawnBlock


def blocks(boxes: Mapping[str, Box], links: Sequence[Link]) -> tuple[DrawnBlock, ...]:
    """A drawing of each part that hangs together, the ones with most runs first."""
    groups: defaultdict[str, list[Link]] = defaultdict(list)
    root = _joined(boxes, links)
    for link in links:
        groups[root[link.first]].append(link)
    found = sorted(groups.values(), key=len, reverse=True)
    return tuple(Block(boxes, group).drawn() for group in found)


def _joined(boxes: Mapping[str, Box], links: Sequence[Link]) -> Mapping[str, str]:
    """Of each box one that stands for all that hang together with it."""
    parent = {key: key for key in boxes}

    def top(key: str) -> str:
        while parent[key] != key:
            parent[key] = parent[parent[key]]
            key = parent[key]
        return key

    for link in links:
        parent[top(link.last)] = top(link.first)
    return {key: top(key) for key in boxes}
