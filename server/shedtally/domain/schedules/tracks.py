"""Where the lines of a drawing turn between two columns."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator

# So far above each other that two lines on one track are seen as two.
APART = 6.0


def tracks_of(legs: list[tuple[int, float, float]]) -> Iterator[tuple[int, int]]:
    """A track for each leg of a gap, from 0 on; two on one track don't touch.

    Args: legs: which link, and the heights where it comes into the gap and leaves it.
    Yields: the link and its track, in the order in which they were given out.

    What leads down turns the sooner the lower it starts, what leads up the higher it starts: then
    lines side by side don't cross.
    """
    order = sorted(legs, key=lambda leg: (leg[2] < leg[1], -leg[1] if leg[2] >= leg[1] else leg[1]))
    taken: list[list[tuple[float, float]]] = []
    for n, start, end in order:
        low, high = min(start, end) - APART / 2, max(start, end) + APART / 2
        for track, spans in enumerate(taken):
            at = bisect_left(spans, (low, high))
            # What lies on one track is apart, so only the neighbours can be touched.
            if (not at or spans[at - 1][1] < low) and (at == len(spans) or high < spans[at][0]):
                spans.insert(at, (low, high))
                yield n, track
                break
        else:
            taken.append([(low, high)])
            yield n, len(taken) - 1
