"""Filling given stock quickly: the longest piece that is left, and the fullest rest beside it.

Lengths are whole millimetres, longest first, the kerf in pieces and stock alike. All sums that
pieces can reach are the bits of one integer, so the fullest rest is found exactly.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass

from shedtally.domain.cutting.knapsack import Pattern

# Pieces that are tried beside the longest; more only where a stock holds few.
_BESIDE = 48
_FEW = 5
# Ways of filling one stock before the one before it is filled anew.
_WAYS = 4


@dataclass(frozen=True, slots=True)
class Filled:
    """Which pieces (by place) lie in which stock (in the order given), and which found no room."""

    patterns: tuple[Pattern, ...]
    over: tuple[int, ...]


class Shaken:
    """Numbers that look like chance and are the same for the same seed."""

    def __init__(self, seed: int) -> None:
        self.state = seed + 1

    def below(self, limit: int) -> int:
        """A number from 0 up to ``limit``, without it."""
        self.state = (self.state * 6364136223846793005 + 1442695040888963407) % (1 << 64)
        return (self.state >> 33) % limit


def fill(lengths: Sequence[int], stocks: Sequence[int], seed: int = 0, ease: float = 0.0) -> Filled:
    """Fill the stocks one by one, the long ones first.

    Args: lengths: longest first. seed: 0 takes the longest rest as it comes, others try
        other pieces and other orders of the stocks. ease: one or two pieces beside the longest
        are enough where they waste no more than so many times what each stock may; the short
        pieces then last for longer.
    """
    shaken = Shaken(seed)
    spare = max(0, sum(stocks) - sum(lengths))
    unfilled = len(stocks)
    order = sorted(range(len(stocks)), key=lambda at: -stocks[at])
    if seed % 3 == 1:
        order.reverse()
    left = list(range(len(lengths)))
    patterns: dict[int, Pattern] = {}
    total = sum(lengths)
    for place in order:
        stock = stocks[place]
        may_waste = int(ease * spare / unfilled)
        unfilled -= 1
        first = next((n for n, at in enumerate(left) if lengths[at] <= stock), None)
        if first is None:
            patterns[place] = ()
            continue
        longest = left.pop(first)
        room = stock - lengths[longest]
        rest = _few(lengths, left, room, may_waste) if ease else None
        if rest is None:
            rest = _beside(lengths, left, room, total, shaken if seed else None)
        patterns[place] = (longest, *rest)
        taken = set(rest)
        left = [at for at in left if at not in taken]
        held = lengths[longest] + sum(lengths[at] for at in rest)
        total -= held
        spare = max(0, spare - (stock - held))
    return Filled(tuple(patterns[at] for at in range(len(stocks))), tuple(left))


def fill_apart(lengths: Sequence[int], stocks: Sequence[int], seed: int, share: float) -> Filled:
    """Fill some stocks with the short pieces alone, so many of them as ``share`` says.

    Where few more pieces fit into a stock if all are short, those are not to lie beside long ones.
    """
    start = round(len(lengths) * (1 - share))
    short = lengths[start:]
    total, enough = sum(short), 0
    while enough < len(stocks) and total > 0:
        total -= stocks[enough]
        enough += 1
    first = fill(short, stocks[:enough], seed)
    rest = [*range(start), *(start + at for at in first.over)]
    second = fill([lengths[at] for at in rest], stocks[enough:], seed)
    return Filled(
        (
            *(tuple(start + at for at in pattern) for pattern in first.patterns),
            *(tuple(rest[at] for at in pattern) for pattern in second.patterns),
        ),
        tuple(rest[at] for at in second.over),
    )


def brim(lengths: Sequence[int], stocks: Sequence[int], seed: int) -> Filled:
    """Fill the stocks one by one as they come, each as full as it can be, whatever is left."""
    shaken = Shaken(seed) if seed else None
    left = list(range(len(lengths)))
    patterns = []
    for room in stocks:
        held = _beside(lengths, left, room, 1, shaken)
        patterns.append(held)
        taken = set(held)
        left = [at for at in left if at not in taken]
    return Filled(tuple(patterns), tuple(left))


def squeeze(lengths: Sequence[int], stocks: Sequence[int], effort: int) -> list[Pattern] | None:
    """All pieces in the stocks where hardly anything may be wasted; None: not found.

    Stocks are filled from the short ones up, each in a few ways; the last one takes the rest. Short
    pieces and many of them are left for the end, where they can be put together in most ways.

    Args: effort: how many fillings of one stock may be tried.
    """
    order = sorted(range(len(stocks)), key=lambda at: stocks[at])
    spare = sum(stocks) - sum(lengths)
    if spare < 0 or not order:
        return None
    shaken = Shaken(effort)
    patterns: list[Pattern] = [()] * len(stocks)
    # How deep, what is left, what may be wasted, and how often this level was tried.
    stack = [(0, list(range(len(lengths))), spare, 0)]
    while stack:
        depth, left, may_waste, tried = stack.pop()
        if depth == len(order) - 1:
            patterns[order[depth]] = tuple(left)
            return patterns
        if effort <= 0:
            return None
        effort -= 1
        if tried + 1 < _WAYS:
            stack.append((depth, left, may_waste, tried + 1))
        room = stocks[order[depth]]
        held = _beside(lengths, left, room, 1, shaken if tried else None)
        waste = room - sum(lengths[at] for at in held)
        if waste <= may_waste:
            patterns[order[depth]] = held
            taken = set(held)
            stack.append((depth + 1, [at for at in left if at not in taken], may_waste - waste, 0))
    return None


def _few(lengths: Sequence[int], left: Sequence[int], room: int, may_waste: int) -> Pattern | None:
    """One or two pieces that waste no more than they may, or None; the fullest of them."""
    if room <= may_waste:
        return ()
    low = bisect_left(left, -room, key=lambda at: -lengths[at])
    if low == len(left):
        return None
    if room - lengths[left[low]] <= may_waste:
        return (left[low],)
    best, pair = room - may_waste - 1, None
    high = len(left) - 1
    while low < high:
        both = lengths[left[low]] + lengths[left[high]]
        if both > room:
            low += 1
            continue
        if both > best:
            best, pair = both, (left[low], left[high])
        high -= 1
    return pair


def _beside(
    lengths: Sequence[int],
    left: Sequence[int],
    room: int,
    total: int,
    shaken: Shaken | None,
) -> Pattern:
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


def fullest(lengths: Sequence[int], fits: Sequence[int], room: int) -> Pattern:
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
