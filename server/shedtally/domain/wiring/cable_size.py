"""The size that a run of cable is ordered in, and how it came to be that."""

from __future__ import annotations

from shedtally.domain.records import Item
from shedtally.domain.wiring.size import conductor

NOT_SIZED = "copied, not sized"
TAKEN = "as it was taken"


def order_size(item: Item) -> tuple[str, str]:
    """What a run of cable is ordered as, and how that came: taken, or copied from the old one.

    >>> order_size(Item(key="1", size="2 x 1.5 mm2"))
    ('2 x 1.5 mm2', 'copied, not sized')
    """
    if item.new_size and not isinstance(conductor(item.new_size), str):
        return item.new_size, TAKEN
    return (item.size or "").strip(), NOT_SIZED
