"""What is cut and from what: pieces, stock, and the plan that comes of them."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Piece:
    """One length to be cut, whole millimetres; ``key`` says for what."""

    key: str
    length_mm: int


@dataclass(frozen=True, slots=True)
class Stock:
    """A length that can be had, whole millimetres; ``price`` in smallest coins, 0 in the shed.

    ``count``: how many lie in the shed, None for as many as are wanted of what is on offer.
    """

    key: str
    length_mm: int
    price: int
    count: int | None = None


@dataclass(frozen=True, slots=True)
class CutStock:
    """One stock length with its pieces in the order of cutting, all in whole millimetres.

    ``kerf_mm`` is what all cuts in it take together, ``left_mm`` what remains after them.
    """

    stock: str
    length_mm: int
    pieces: tuple[Piece, ...]
    kerf_mm: int
    left_mm: int


@dataclass(frozen=True, slots=True)
class CutPlan:
    """What to buy and cut. Costs in smallest coins; ``bound`` is what no plan can cost less than.

    Costs are fractional where pieces are bought by the metre.

    ``by_metre``: pieces that are cheaper cut to length by who sells them; ``too_long``: pieces
    that nothing on offer holds, left out of all sums.
    """

    cut: tuple[CutStock, ...]
    by_metre: tuple[Piece, ...]
    too_long: tuple[Piece, ...]
    cost: float
    bound: float
    proven: bool

    @property
    def gap(self) -> float:
        """By how much the plan may be dearer than the cheapest, as a share of the bound."""
        return (self.cost - self.bound) / self.bound if self.bound else 0.0
