"""Answers of an item that can't both be right, or that don't fit its kind.

The phone says the same offline from the same rows (`pwa/src/domain/contradict.ts`); inputs with
their answers are in `fixtures/contract/contradictions.json`.
"""

from __future__ import annotations

from shedtally.domain.records import Item
from shedtally.domain.rulebook import Rules
from shedtally.domain.rulebook.law import Contradiction, When


def contradictions_of(item: Item, stream: str, rules: Rules) -> tuple[Contradiction, ...]:
    """The rows of contradictions.toml that hold of an item whose kind leads to ``stream``."""
    return tuple(
        row
        for row in rules.contradictions.get(stream, ())
        if all(_holds(item, when) for when in row.when)
    )


def _holds(item: Item, when: When) -> bool:
    value = getattr(item, when.field)
    if value is None:
        return False
    if when.below is not None:
        return isinstance(value, (int, float)) and value < when.below
    if when.at_least is not None:
        return isinstance(value, (int, float)) and value >= when.at_least
    return value in when.values
