"""A value with its spread, as the rules give it."""

from __future__ import annotations

from typing import NamedTuple


class Three(NamedTuple):
    """A value as low, likely and high; about 95 % of cases lie inside."""

    low: float
    likely: float
    high: float
