"""The list about amounts over time, as phones and printing read it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from shedtally.domain.lists import Spread

Warn: TypeAlias = Literal["", "near", "may be over", "over"]


@dataclass(frozen=True, slots=True)
class MonthLine:
    """What came up in a calendar month (or year), what of it is counted, and what went.

    ``step`` is the category that the counted likely mass means, ``step_high`` that of the high.
    """

    period: str
    came_up: Spread
    hazardous: Spread
    counted: Spread
    gone: Spread
    step: str
    step_high: str


@dataclass(frozen=True, slots=True)
class Limit:
    """A limit in kilograms and how near it is; ``day`` is when it is reached at the present rate.

    ``day_high`` is the same with the spread's high value. Days are ISO 8601, empty where the limit
    is not reached before the period ends, or nothing comes in.
    """

    name: str
    limit_kg: float
    now: Spread
    share: float
    warn: Warn
    day: str
    day_high: str
    meaning: str
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Standing:
    """How long something may still stand here; ``left`` in days, below nothing when it is late.

    With no day known, ``since`` and ``due`` are empty and ``left`` is None.
    """

    key: str
    table: str
    name: str
    since: str
    due: str
    left: int | None
    warn: Warn
    days: int


@dataclass(frozen=True, slots=True)
class StreamAmount:
    """One stream on site and gone; ``left_out`` says why it isn't counted, empty where it is."""

    id: str
    name: str
    code: str
    hazardous: bool
    on_site: Spread
    gone: Spread
    left_out: str


@dataclass(frozen=True, slots=True)
class Quantities:
    """Amounts over time under one rule set; ``applies``: whether any categories hold here.

    ``step`` is the category of the present period by ``counted_now``, ``step_high`` the one by its
    high value. ``undated`` is what came out on no known day: it is in no month, but its counted
    part is in ``counted_now``. ``aboard`` is waste to come. ``kg_a_month`` is the rate of what is
    counted, from the last ninety days.
    """

    rule_set: str
    rule_set_name: str
    dated: str
    holder: str
    applies: bool
    ladder: str
    step: str
    step_high: str
    counted_now: Spread
    on_site: Spread
    on_site_counted: Spread
    aboard: Spread
    gone: Spread
    gone_undated: Spread
    undated: Spread
    undated_counted: Spread
    kg_a_month: float
    months: tuple[MonthLine, ...]
    limits: tuple[Limit, ...]
    standing: tuple[Standing, ...]
    streams: tuple[StreamAmount, ...]
    sayings: tuple[str, ...]
    no_limits: str
