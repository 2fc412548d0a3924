"""The most that one stock length yields, and every pattern that comes near to it.

All in whole numbers, so that what is said of a stock length is exact. Tables over every millimetre
of the stock are made by numpy, piece by piece.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

# Patterns that are looked at; where there are more, they are not all of them.
MOST_PATTERNS = 10_000
# Steps for each of them before the search is given up.
_STEPS = 24
# Cells of the tables for listing patterns: about 100 MB.
_MOST_CELLS = 12_000_000
# Cells of a byte, for choosing what is bought by the metre.
_MOST_TAKEN = 200_000_000

Pattern = tuple[int, ...]
Worths = NDArray[np.int64]


class Knapsack:
    """What each room up to ``room`` mm can hold at most, by the worth of the pieces.

    Args: lengths, worths: of each piece, mm and any whole number; a piece is taken once at most.
    """

    def __init__(self, lengths: Sequence[int], worths: Sequence[int], room: int) -> None:
        self.lengths, self.worths = lengths, worths
        self.best: Worths = np.zeros(room + 1, dtype=np.int64)
        self._taken: list[tuple[int, NDArray[np.bool_]]] = []
        for at, (length, worth) in enumerate(zip(lengths, worths, strict=True)):
            if worth <= 0 or length > room:
                continue
            with_it = self.best[: room + 1 - length] + worth
            better = with_it > self.best[length:]
            self.best[length:] = np.maximum(with_it, self.best[length:])
            self._taken.append((at, better))

    def most(self, room: int) -> int:
        """The most worth within ``room``."""
        return int(self.best[room])

    def pattern(self, room: int) -> Pattern:
        """The places of pieces that are worth most within ``room``, in their order."""
        chosen = []
        for at, better in reversed(self._taken):
            length = self.lengths[at]
            if room >= length and better[room - length]:
                chosen.append(at)
                room -= length
        return tuple(reversed(chosen))


def near_patterns(
    lengths: Sequence[int],
    worths: Sequence[int],
    room: int,
    least: int,
    *,
    most: int = MOST_PATTERNS,
    whole: bool = True,
) -> tuple[list[Pattern], bool]:
    """Patterns within ``room`` worth ``least`` or more.

    Args: lengths: longest first; pieces of one length must have one worth. most: how many are
        enough. whole: none to which another piece could be added.
    Returns: places of the pieces, those of one length taken from the first on; and whether these
        are all.
    """
    fits = [at for at in range(len(lengths)) if lengths[at] <= room]
    if (len(fits) + 1) * (room + 1) > _MOST_CELLS:
        return [], False
    tables = _tables([lengths[at] for at in fits], [worths[at] for at in fits], room)
    if tables[0][room] < least:
        return [], True
    found: list[Pattern] = []
    # Place in ``fits``, room, worth still wanted, pieces so far, shortest length that was left out.
    stack: list[tuple[int, int, int, Pattern, int]] = [(0, room, least, (), room + 1)]
    steps = 0
    while stack:
        at, spare, wanted, chosen, passed = stack.pop()
        steps += 1
        if len(found) > most or steps > _STEPS * most:
            return found[:most], False
        if at == len(fits):
            if passed > spare or not whole:
                found.append(chosen)
            continue
        place = fits[at]
        length = lengths[place]
        after = at + 1
        while after < len(fits) and lengths[fits[after]] == length:
            after += 1
        # Left out, with all others of its length: taken from the first on, a pattern comes once.
        if tables[after][spare] >= wanted:
            stack.append((after, spare, wanted, chosen, length))
        if spare >= length and int(tables[at + 1][spare - length]) + worths[place] >= wanted:
            stack.append((at + 1, spare - length, wanted - worths[place], (*chosen, place), passed))
    return found, True


def _tables(lengths: Sequence[int], worths: Sequence[int], room: int) -> list[Worths]:
    """What each room can hold of all pieces, of all but the first, and so on to none."""
    tables = [np.zeros(room + 1, dtype=np.int64)]
    for length, worth in zip(reversed(lengths), reversed(worths), strict=True):
        table = tables[-1].copy()
        np.maximum(table[length:], tables[-1][: room + 1 - length] + worth, out=table[length:])
        tables.append(table)
    tables.reverse()
    return tables


def cheapest_left(lengths: Sequence[int], costs: Sequence[int], short: int) -> Pattern | None:
    """Of pieces, those that together are ``short`` mm or more for the least cost.

    Args: lengths, costs: of each piece, mm and any whole number that isn't below zero.
    Returns: places in order; empty if all together are too short, None if the tables would be too
        large to say.
    """
    room = sum(lengths) - short
    if room < 0 or short <= 0:
        return ()
    if min(room, short) * len(lengths) > _MOST_TAKEN:
        return None
    if room < short:
        # The dearest that may stay is the same question, and takes the smaller table.
        kept = set(Knapsack(lengths, costs, room).pattern(room))
        return tuple(at for at in range(len(lengths)) if at not in kept)
    return _covering(lengths, costs, short)


def _covering(lengths: Sequence[int], costs: Sequence[int], short: int) -> Pattern:
    least: Worths = np.full(short + 1, np.iinfo(np.int64).max // 4, dtype=np.int64)
    least[0] = 0
    taken = []
    for length, cost in zip(lengths, costs, strict=True):
        # What a piece reaches beyond ``short`` counts as just enough.
        before = np.concatenate([np.full(min(length, short), least[0]), least])[: short + 1]
        better = before + cost < least
        least = np.where(better, before + cost, least)
        taken.append(better)
    chosen = []
    for at in range(len(lengths) - 1, -1, -1):
        if short > 0 and taken[at][short]:
            chosen.append(at)
            short = max(0, short - lengths[at])
    return tuple(reversed(chosen))
