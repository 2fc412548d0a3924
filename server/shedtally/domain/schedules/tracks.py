"""Where the lines of a drawing turn between two columns."""

from __future__ import annotations

from collections.abc import Iterator


def tracks_of(legs: list[tuple[int, float, float]]) -> Iterator[tuple[int, int]]:
    """A track for each leg of a gap; two on one track don't touch.

    What leads down turns the sooner the lower it starts, what leads up the higher it starts: then
    lines side by side don't cross.
    """
    order = sorted(legs, key=lambda leg: (leg[2] < leg[1], -leg[1] if leg[2] >= leg[1] else leg[1]))
    taken: list[list[tuple[float, float]]] = []
    for n, start, end in order:
        low, high = min(start, end) - 3, max(start, end) + 3
        for track, spans in enumerate(taken):
            if all(high < other_low or other_high < low for other_low, other_high in spans):
                spans.append((low, high))
                yield n, track
                break
        else:
            taken.append([(low, high)])
            yield n, len(taken) - 1
