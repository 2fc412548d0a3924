"""What an item is called."""

from __future__ import annotations

from shedtally.domain.records import Item
from shedtally.domain.rulebook import Kind


def name_of(item: Item, kind: Kind | None) -> str:
    """What an item is called on a list: its own name, else that of its kind."""
    return item.name or (kind.name if kind else "") or "Item without a name"
