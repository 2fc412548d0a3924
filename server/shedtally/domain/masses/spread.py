"""Arithmetic of values that carry a low, likely and high.

Independent errors add in squares: each side of the likely value on its own, so that a spread may
be lopsided. That is the usual rule for small independent errors; for the wide guesses here it is
an approximation, and it says so by keeping the sum of the likely values exact.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from shedtally.domain.lists import Basis, Spread
from shedtally.domain.rulebook import Three

NOTHING = Spread(0.0, 0.0, 0.0, "unknown")


def total(spreads: Iterable[Spread]) -> Spread:
    """The sum of masses whose errors have nothing to do with each other.

    Returns: likely is the plain sum; each side is the root of the summed squares. The basis is
    the common one, ``mixed`` for several, ``unknown`` for an empty sum.

    >>> total([Spread(8, 10, 13, "weighed"), Spread(16, 20, 24, "weighed")])
    Spread(low=25.52786404500042, likely=30.0, high=35.0, basis='weighed')
    """
    rows = list(spreads)
    if not rows:
        return NOTHING
    bases = {row.basis for row in rows}
    likely = math.fsum(row.likely for row in rows)
    down = math.sqrt(math.fsum((row.likely - row.low) ** 2 for row in rows))
    up = math.sqrt(math.fsum((row.high - row.likely) ** 2 for row in rows))
    basis: Basis = bases.pop() if len(bases) == 1 else "mixed"
    return Spread(max(0.0, likely - down), likely, likely + up, basis)


def times(spread: Spread, count: float) -> Spread:
    """The mass of ``count`` pieces alike: what is wrong of one is wrong of all, so no squares."""
    return Spread(spread.low * count, spread.likely * count, spread.high * count, spread.basis)


def around(likely: float, share: float, basis: Basis) -> Spread:
    """A value that may be off by ``share`` (0.1 is 10 %) either way."""
    return Spread(likely * (1 - share), likely, likely * (1 + share), basis)


def product(*factors: Three) -> Three:
    """The product of independent factors; relative errors add in squares on each side."""
    likely = math.prod(factor.likely for factor in factors)
    if not likely:
        return Three(0.0, 0.0, 0.0)
    down = math.hypot(*(1 - factor.low / factor.likely for factor in factors))
    up = math.hypot(*(factor.high / factor.likely - 1 for factor in factors))
    return Three(likely * max(0.0, 1 - down), likely, likely * (1 + up))


def exactly(value: float, share: float = 0.0) -> Three:
    """A value with the same relative error on both sides."""
    return Three(value * (1 - share), value, value * (1 + share))
