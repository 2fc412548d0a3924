"""Side by side or one under the other: the columns that one compartment takes in a drawing."""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Iterable, Mapping
from typing import TypeVar

MOST_RANKS = 4

Column = TypeVar("Column")


def ranks(column_of: Mapping[str, Column], links: Iterable[tuple[str, str]]) -> Mapping[str, int]:
    """Of each box its rank in its own column, 0 to ``MOST_RANKS`` - 1.

    Boxes of one compartment that are joined to each other stand side by side, each as many steps
    along as it is joints away from where its chain begins: at an end of it.
    """
    beside: defaultdict[str, list[str]] = defaultdict(list)
    for first, last in links:
        if first != last and column_of[first] == column_of[last]:
            beside[first].append(last)
            beside[last].append(first)
    found = dict.fromkeys(column_of, -1)
    for start in sorted(column_of, key=lambda key: len(beside[key])):
        if found[start] >= 0:
            continue
        found[start] = 0
        queue = deque([start])
        while queue:
            at = queue.popleft()
            for near in beside[at]:
                if found[near] < 0:
                    found[near] = min(found[at] + 1, MOST_RANKS - 1)
                    queue.append(near)
    return found
