"""The space in trunking against capacities that a maker prints, in the same units (mm2 of cable).

Source: specification guide of a maker of trunking, section 9, cable capacity (45 % space factor;
scribd.com/doc/17912465); 75 x 37.5 and 100 x 37.5 from shadowebike.com, "How do you calculate
trunking size". The printed sizes are over the walls, so the printed capacity lies a little below
45 % of the rectangle, never above it.
"""

import pytest

from shedtally.domain.wiring.trunking import Filling, how_full, inside_of
from shedtally.rules.load import load

FILL = load().wiring.fill
PRINTED = [
    ("50 x 50", 1037), ("75 x 75", 2371), ("100 x 50", 2091), ("100 x 75", 3189),
    ("100 x 100", 4252), ("150 x 50", 3091), ("150 x 75", 4743), ("150 x 100", 6394),
    ("150 x 150", 9697), ("225 x 50", 4671), ("225 x 75", 7167), ("225 x 100", 9662),
    ("225 x 150", 14652), ("300 x 50", 6251), ("300 x 75", 9590), ("300 x 100", 12929),
    ("300 x 150", 19607), ("75 x 37.5", 1146), ("100 x 37.5", 1542),
]  # fmt: skip


@pytest.mark.parametrize(("size", "capacity"), PRINTED)
def test_the_limit_lies_at_the_printed_capacity(size, capacity):
    assert how_full(size, Filling(capacity), FILL)[1] is False
    # By how much the walls take off at most, on the smallest of them.
    assert capacity >= 0.9 * FILL.trunking * inside_of(size).mm2
    assert how_full(size, Filling(capacity / 0.9), FILL)[1] is True
