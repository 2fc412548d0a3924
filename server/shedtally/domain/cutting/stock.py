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
    """A length that can be had. ``price`` in smallest coins; None: any length by the metre of it.

    ``count``: how many there are, None for as many as are wanted.
    """

    key: str
    length_mm: int
    price: int
    count: int | None = None


@dataclass(frozen=True, slots=True)
class CutStock:
    """One stock length with its pieces in the order of cutting; ``left_mm`` is what remains."""

    stock: str
    length_mm: int
    pieces: tuple[Piece, ...]
    kerf_mm: int
    left_mm: int


@dataclass(frozen=True, slots=True)
class CutPlan:
    """What to buy and cut. Costs in smallest coins; ``bound`` is what no plan can cost less than.

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
