"""One TOML row of amounts.toml into one dataclass."""

from __future__ import annotations

from shedtally.domain.rulebook.amounts import (
    AmountRules,
    Episode,
    Ladder,
    NotCounted,
    Saying,
    Step,
    Trip,
)
from shedtally.rules.read import Row, frozen


def amounts(doc: Row) -> AmountRules:
    """The whole of amounts.toml."""
    return AmountRules(
        ladders=tuple(map(ladder, doc["ladder"])),
        not_counted=tuple(NotCounted(**frozen(row)) for row in doc["not_counted"]),
        episodes=tuple(Episode(**frozen(row)) for row in doc["episode"]),
        trips=tuple(Trip(**frozen(row)) for row in doc["trip"]),
        sayings=tuple(Saying(**frozen(row)) for row in doc["say"]),
    )


def ladder(row: Row) -> Ladder:
    """Categories of one rule set."""
    rest = {key: value for key, value in row.items() if key != "step"}
    return Ladder(steps=tuple(Step(**frozen(step)) for step in row["step"]), **frozen(rest))
