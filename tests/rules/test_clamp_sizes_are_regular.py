"""The numbers of worm-drive clamps go by sixteenths of an inch, so a copied table can be checked.

The rule is from memory: from no. 12 on a clamp of number n opens to (n + 8) / 16 in, and from
no. 24 on it closes 15/16 in below that. The table of sizes.toml was copied from one page.
"""

import pytest

from shedtally.rules.load import load

CLAMPS = {int(row.number): row for row in load().sizes.clamps}


@pytest.mark.parametrize("number", [number for number in CLAMPS if number >= 12])
def test_a_clamp_opens_by_its_number(number):
    assert CLAMPS[number].open_mm == pytest.approx((number + 8) / 16 * 25.4, abs=0.1)


@pytest.mark.parametrize("number", [number for number in CLAMPS if number >= 24])
def test_a_large_clamp_closes_by_its_number(number):
    assert CLAMPS[number].closed_mm == pytest.approx((number - 7) / 16 * 25.4, abs=0.15)


def test_each_size_reaches_further_than_the_one_before():
    ranges = [(row.closed_mm, row.open_mm) for _, row in sorted(CLAMPS.items())]
    assert ranges == sorted(ranges)
    assert [row[1] for row in ranges] == sorted({row[1] for row in ranges})
