"""Whether given stock holds all pieces: a search that can also prove that it doesn't.

The longest piece that is left goes into each length of stock in turn, together with each set of
pieces that no better set replaces; what may be wasted in all is known, so most branches end at
once (bin completion, [Korf2003], with stock of several lengths).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from shedtally.domain.cutting_cuts import Cut

# Sets beside one longest piece that are looked at; where there are more, nothing is proven.
_MOST_SETS = 400
_MOST_CUTS = 10

# A stock of a length that no inequality speaks of: nothing is known of what it yields.
_ANYTHING = 1 << 60


@dataclass(slots=True)
class _Search:
    lengths: Sequence[int]
    cuts: Sequence[tuple[Sequence[int], dict[int, int]]]
    effort: int
    proven: bool = True
    failed: set[tuple[tuple[int, ...], tuple[tuple[int, int], ...]]] = field(default_factory=set)


@dataclass(frozen=True, slots=True)
class Answer:
    """``patterns`` as (stock length, places of its pieces); None: not found.

    ``proven``: there is none, not just none found.
    """

    patterns: tuple[tuple[int, tuple[int, ...]], ...] | None
    proven: bool


def pack(
    lengths: Sequence[int],
    stocks: Sequence[int],
    cuts: Sequence[Cut],
    sizes: Sequence[int],
    effort: int,
) -> Answer:
    """Cut all pieces from the stocks, or show that it can't be done.

    Args: lengths: mm, longest first, kerf included, as in ``stocks`` and ``sizes``; sizes: the
        length that each yield of a cut is of. effort: how many sets may be tried.
    """
    weighed = _tightest(cuts, stocks, sizes)
    search = _Search(lengths, weighed, effort)
    waste = sum(stocks) - sum(lengths)
    if waste < 0:
        return Answer(None, proven=True)
    caps = tuple(sorted(Counter(stocks).items()))
    found = _go(search, tuple(range(len(lengths))), caps, waste)
    return Answer(tuple(found) if found is not None else None, search.proven)


def _tightest(
    cuts: Sequence[Cut], stocks: Sequence[int], sizes: Sequence[int]
) -> Sequence[tuple[Sequence[int], dict[int, int]]]:
    """The few inequalities that leave least room; more would cost more time than they save."""
    weighed = [(cut.weights, dict(zip(sizes, cut.yields, strict=True))) for cut in cuts]
    weighed.sort(key=lambda pair: sum(pair[1].get(cap, _ANYTHING) for cap in stocks) / sum(pair[0]))
    return weighed[:_MOST_CUTS]


def _go(
    search: _Search, left: tuple[int, ...], caps: tuple[tuple[int, int], ...], waste: int
) -> list[tuple[int, tuple[int, ...]]] | None:
    if not left:
        return []
    lengths = search.lengths
    state = (tuple(lengths[at] for at in left), caps)
    if state in search.failed:
        return None
    if not _may(search, left, caps):
        return None
    longest, rest = left[0], left[1:]
    for cap, _ in caps:
        room = cap - lengths[longest]
        if room < 0:
            continue
        fewer = tuple((c, n - (c == cap)) for c, n in caps if n - (c == cap))
        for chosen, spare in _sets(search, rest, room, waste):
            if search.effort <= 0:
                search.proven = False
                return None
            search.effort -= 1
            taken = set(chosen)
            after = tuple(at for at in rest if at not in taken)
            found = _go(search, after, fewer, waste - spare)
            if found is not None:
                return [(cap, (longest, *chosen)), *found]
    if search.proven:
        search.failed.add(state)
    return None


def _may(search: _Search, left: Sequence[int], caps: Sequence[tuple[int, int]]) -> bool:
    for weights, yields in search.cuts:
        need = sum(weights[at] for at in left)
        if need > sum(yields.get(cap, _ANYTHING) * n for cap, n in caps):
            return False
    return True


def _sets(
    search: _Search, rest: Sequence[int], room: int, waste: int
) -> list[tuple[tuple[int, ...], int]]:
    """The sets that fit into ``room``, wasting no more than ``waste``, fullest first."""
    lengths = search.lengths
    fits = [at for at in rest if lengths[at] <= room]
    found: list[tuple[int, tuple[int, ...]]] = []
    steps = 0
    for chosen, spare in _subsets(lengths, fits, room, waste):
        steps += 1
        if steps > 8 * _MOST_SETS:
            search.proven = False
            break
        if not _replaced(lengths, fits, chosen, spare):
            found.append((spare, chosen))
            if len(found) >= _MOST_SETS:
                search.proven = False
                break
    search.effort -= steps // 8
    found.sort(key=lambda pair: (pair[0], len(pair[1])))
    return [(chosen, spare) for spare, chosen in found]


def _subsets(
    lengths: Sequence[int], fits: Sequence[int], room: int, waste: int
) -> Iterator[tuple[tuple[int, ...], int]]:
    """Maximal sets, the long ones first, equal lengths only once each."""
    tail = [0]
    for at in reversed(fits):
        tail.append(tail[-1] + lengths[at])
    tail.reverse()
    stack: list[tuple[int, int, tuple[int, ...]]] = [(0, room, ())]
    while stack:
        start, spare, chosen = stack.pop()
        grown = []
        last = None
        for place in range(start, len(fits)):
            if spare - tail[place] > waste:
                break  # all that is left together leaves too much waste
            length = lengths[fits[place]]
            if length > spare or length == last:
                continue
            last = length
            grown.append((place + 1, spare - length, (*chosen, fits[place])))
        if spare <= waste:
            yield chosen, spare
        stack.extend(reversed(grown))


def _replaced(
    lengths: Sequence[int], fits: Sequence[int], chosen: Sequence[int], spare: int
) -> bool:
    """Whether a longer piece, or one that is left, does as well in place of one or two of these."""
    inside = set(chosen)
    outside = sorted({lengths[at] for at in fits if at not in inside})
    if not outside:
        return False
    if outside[0] <= spare:
        return True
    sums = {lengths[at] for at in chosen}
    pairs = {lengths[a] + lengths[b] for n, a in enumerate(chosen) for b in chosen[n + 1 :]}
    return any(one < out <= one + spare for out in outside for one in sums) or any(
        two <= out <= two + spare for out in outside for two in pairs
    )
