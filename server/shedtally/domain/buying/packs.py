"""Pieces that are sold one by one or in packs: what to buy of which, and what it costs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Packs:
    """What is bought: the cost in currency units, packs and pieces in words, and by which offers.

    ``offers`` are places in what was offered, the pack first.
    """

    cost: float
    words: str
    offers: tuple[int, ...]


def cheapest_packs(offers: Sequence[tuple[float, int]], count: int) -> Packs | None:
    """The cheapest way to ``count`` pieces out of one size of pack and single pieces.

    Args: offers: price in currency units and pieces in it, 1 for what is sold singly. Of two sizes
        of pack each is tried alone. count: 0 or more.
    Returns: None without an offer. Of equal costs the one with fewer pieces left.

    >>> cheapest_packs([(1.0, 1), (4.0, 5)], 11)
    Packs(cost=9.0, words='2 packs of 5, 1 piece', offers=(1, 0))
    """
    found = [*_ways(offers, count)]
    if not found:
        return None
    cost, _, packs, pieces, single, used = min(found)
    return Packs(round(cost, 2), _words(packs, pieces, single), used)


def _ways(
    offers: Sequence[tuple[float, int]], count: int
) -> Iterator[tuple[float, int, int, int, int, tuple[int, ...]]]:
    """Cost, pieces too many, packs, pieces in each, single ones, and the offers of these.

    Costs are rounded to what no price has, so that three tenths are as cheap as a tenth thrice.
    """
    singles = ((price, at) for at, (price, pieces) in enumerate(offers) if pieces == 1)
    each, alone = min(singles, default=(None, -1))
    if each is not None:
        yield round(each * count, 6), 0, 0, 0, count, (alone,)
    for at, (price, pieces) in enumerate(offers):
        if pieces > 1:
            whole, rest = divmod(count, pieces)
            if each is not None and whole and rest:
                yield round(whole * price + rest * each, 6), 0, whole, pieces, rest, (at, alone)
            up = whole + bool(rest)
            yield round(up * price, 6), up * pieces - count, up, pieces, 0, (at,)


def _words(packs: int, pieces: int, single: int) -> str:
    said = [f"{packs} pack{'' if packs == 1 else 's'} of {pieces}"] if packs else []
    if single:
        said.append("1 piece" if single == 1 else f"{single} pieces")
    return ", ".join(said)
