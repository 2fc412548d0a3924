"""Filling given stock quickly: the longest piece that is left, and the fullest rest beside it.

Lengths are whole millimetres, longest first, the kerf in pieces and stock alike. All sums that
pieces can reach are the bits of one integer, so the fullest rest is found exactly.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

# Pieces that are tried beside the longest; more only where a stock holds few.
_BESIDE = 48
_FEW = 5


@dataclass(frozen=True, slots=True)
class Filled:
    """Which pieces (by place) lie in which stock (in the order given), and which found no room."""

    patterns: tuple[tuple[int, ...], ...]
    over: tuple[int, ...]


class _Shaken:
    """Numbers that look like chance and are the same for the same seed."""

    def __init__(self, seed: int) -> None:
        self.state = seed + 1

    def below(self, limit: int) -> int:
        """A number from 0 up to ``limit``, without it."""
        self.state = (self.state * 6364136223846793005 + 1442695040888963407) % (1 << 64)
        return (self.state >> 33) % limit


def fill(lengths: Sequence[int], stocks: Sequence[int], seed: int = 0) -> Filled:
    """Fill the stocks one by one, the long ones first.

    Args: lengths: longest first. seed: 0 takes the longest rest as it comes, others try
        other pieces and other orders of the stocks.
    """
    shaken = _Shaken(seed)
    order = sorted(range(len(stocks)), key=lambda at: -stocks[at])
    if seed % 3 == 1:
        order.reverse()
    left = list(range(len(lengths)))
    patterns: dict[int, tuple[int, ...]] = {}
    total = sum(lengths)
    room = sum(stocks)
    for place in order:
        stock = stocks[place]
        room -= stock
        first = next((n for n, at in enumerate(left) if lengths[at] <= stock), None)
        if first is None:
            patterns[place] = ()
            continue
        longest = left.pop(first)
        rest = _beside(lengths, left, stock - lengths[longest], total, shaken if seed else None)
        patterns[place] = (longest, *rest)
        taken = set(rest)
        left = [at for at in left if at not in taken]
        total -= lengths[longest] + sum(lengths[at] for at in rest)
    return Filled(tuple(patterns[at] for at in range(len(stocks))), tuple(left))


def _beside(
    lengths: Sequence[int],
    left: Sequence[int],
    room: int,
    total: int,
    shaken: _Shaken | None,
) -> tuple[int, ...]:
    """Of the pieces that are left, those that together come nearest to ``room``."""
    fits = [at for at in left if lengths[at] <= room]
    if not fits:
        return ()
    mean = max(1, total // max(1, len(left) + 1))
    most = _BESIDE if room > _FEW * mean else len(fits)
    if shaken is not None:
        kept = 60 + shaken.below(40)
        fits = [at for at in fits if shaken.below(100) < kept] or fits[:1]
    if len(fits) > most:
        step = len(fits) / most
        fits = [fits[int(n * step)] for n in range(most)]
    return fullest(lengths, fits, room)


def fullest(lengths: Sequence[int], fits: Sequence[int], room: int) -> tuple[int, ...]:
    """Of ``fits``, pieces whose sum comes nearest to ``room`` from below, the long ones first.

    Short pieces stay for later, where they fill what others leave.
    """
    mask = (1 << (room + 1)) - 1
    # From the shortest up, so that on the way back the long ones are taken wherever they can be.
    rising = list(reversed(fits))
    reached = [1]
    for at in rising:
        reached.append(reached[-1] | ((reached[-1] << lengths[at]) & mask))
    sum_left = reached[-1].bit_length() - 1
    taken = []
    for step in range(len(rising) - 1, -1, -1):
        length = lengths[rising[step]]
        if sum_left >= length and reached[step] >> (sum_left - length) & 1:
            taken.append(rising[step])
            sum_left -= length
    return tuple(taken)
