"""Pieces that are sold one by one or in packs: what to buy of which, and what it costs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Packs:
    """What is bought: the cost in currency units, and how many packs and pieces, in words."""

    cost: float
    words: str


def cheapest_packs(offers: Sequence[tuple[float, int]], count: int) -> Packs | None:
    """The cheapest way to ``count`` pieces out of one size of pack and single pieces.

    Args: offers: price and pieces in it, 1 for what is sold singly. Of two sizes of pack each is
        tried alone. Returns: None without an offer. Of equal costs the one with fewer pieces left.

    >>> cheapest_packs([(1.0, 1), (4.0, 5)], 11)
    Packs(cost=9.0, words='2 packs of 5, 1 piece')
    """
    each = min((price for price, pieces in offers if pieces == 1), default=None)
    found = [*_ways(offers, each, count)]
    if not found:
        return None
    cost, _, packs, pieces, single = min(found)
    return Packs(round(cost, 2), _words(packs, pieces, single))


def _ways(
    offers: Sequence[tuple[float, int]], each: float | None, count: int
) -> Iterator[tuple[float, int, int, int, int]]:
    """Cost, pieces too many, packs, pieces in each, single ones."""
    if each is not None:
        yield each * count, 0, 0, 0, count
    for price, pieces in offers:
        if pieces > 1:
            whole, rest = divmod(count, pieces)
            if each is not None:
                yield whole * price + rest * each, 0, whole, pieces, rest
            up = whole + bool(rest)
            yield up * price, up * pieces - count, up, pieces, 0


def _words(packs: int, pieces: int, single: int) -> str:
    said = [f"{packs} pack{'' if packs == 1 else 's'} of {pieces}"] if packs else []
    if single:
        said.append("1 piece" if single == 1 else f"{single} pieces")
    return ", ".join(said)
