"""The order list as data: lines with their state, offers, cut plan and cost, and sums by currency.

Lengths are whole millimetres, money is in units of the currency that stands beside it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

OrderState: TypeAlias = Literal["to buy", "bought", "arrived", "fitted"]


@dataclass(frozen=True, slots=True)
class OrderOffer:
    """A price for a line. ``usable`` is False where something is missing, said in the line.

    ``pieces`` is how many are in a pack, None of what is sold otherwise.
    """

    key: str
    amount: float | None
    currency: str
    per: str
    length_mm: int | None
    supplier: str
    usable: bool
    taken: bool
    pieces: int | None = None


@dataclass(frozen=True, slots=True)
class SheetPiece:
    """One length to cut: for which run, by its tag; ``by_measure`` False: nobody measured it."""

    item: str
    name: str
    tags: tuple[str, ...]
    length_mm: int
    ends: tuple[str, ...]
    by_measure: bool


@dataclass(frozen=True, slots=True)
class SheetStock:
    """One reel or length, its cuts in order, and what remains. ``from_shed``: bought before."""

    name: str
    length_mm: int
    from_shed: bool
    pieces: tuple[SheetPiece, ...]
    kerf_mm: int
    left_mm: int


@dataclass(frozen=True, slots=True)
class CutSheet:
    """How a line is cut. ``cost`` and ``bound`` None: no price, so the least length was looked for.

    ``bound``: no plan can cost less; ``least_mm`` the same in length. ``proven``: nothing better
    exists.
    """

    stock: tuple[SheetStock, ...]
    by_metre: tuple[SheetPiece, ...]
    too_long: tuple[SheetPiece, ...]
    cost: float | None
    bound: float | None
    currency: str
    bought_mm: int
    least_mm: int
    proven: bool
    kerf_mm: int


@dataclass(frozen=True, slots=True)
class OrderLine:
    """One line to buy. Days are ISO 8601, empty where nobody wrote them.

    ``cost`` None: not known yet; ``asks`` says what is missing. ``new_parts`` are tags of new
    parts that take the place of old ones; ``fitted_parts`` how many of them are aboard.
    ``buy_as`` says how many packs and pieces that is, empty for what is cut or has no price;
    ``sellers`` who asks the least for it, as far as they are named.
    """

    id: str
    spec: str
    system: str
    systems: tuple[str, ...]
    size: str
    standard: str
    details: tuple[str, ...]
    count: int
    order_mm: float | None
    tags: tuple[str, ...]
    items: tuple[str, ...]
    state: OrderState
    bought: str
    arrived: str
    fitted: str
    supplier: str
    substitute: str
    note: str
    cost: float | None
    currency: str
    offers: tuple[OrderOffer, ...]
    cut: CutSheet | None
    asks: tuple[str, ...]
    new_parts: tuple[str, ...]
    fitted_parts: int
    buy_as: str = ""
    kind: str = ""
    sellers: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class OrderTotal:
    """Money of one currency: still to be spent, and spent; what has no price is in neither."""

    currency: str
    to_buy: float
    bought: float


@dataclass(frozen=True, slots=True)
class OrderList:
    """Every line, in the order of the systems; ``unpriced`` is how many lines have no price."""

    lines: tuple[OrderLine, ...]
    totals: tuple[OrderTotal, ...]
    unpriced: int
    cautions: tuple[str, ...]
