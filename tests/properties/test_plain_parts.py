"""Plain parts: merging never loses a piece, and however a size is typed it is one line."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shedtally.domain.boat import from_values
from shedtally.domain.renewals.lines import renewals
from shedtally.domain.renewals.plain_parts import sized
from shedtally.rules.load import load

RULES = load()
PARTS = {part.id: part for part in RULES.renewal.parts.values()}
numbers = st.integers(1, 400).map(str)
crosses = st.sampled_from(("x", " x ", "\u00d7", "*", " X "))


@st.composite
def things(draw) -> dict[str, object]:
    kind = draw(st.sampled_from(sorted(RULES.renewal.parts)))
    size = draw(st.none() | st.lists(numbers, min_size=1, max_size=3).map(" x ".join))
    thing: dict[str, object] = {"kind": kind, "fate": "renew", "count": draw(st.integers(1, 40))}
    thing |= {"size": size} if size else {}
    voltage = draw(st.sampled_from((None, 12, 24)))
    return thing | ({"voltage_v": voltage} if voltage else {})


@settings(max_examples=30)
@given(rows=st.lists(things(), max_size=12))
def test_every_piece_is_on_one_line_and_none_is_lost(rows) -> None:
    boat = from_values("boat", [("item", f"i{n}", row) for n, row in enumerate(rows)])
    lines = renewals(boat, RULES).lines
    assert sum(line.count for line in lines) == sum(row["count"] for row in rows)
    assert sorted(key for line in lines for key in line.items) == sorted(boat.items)
    assert len({line.id for line in lines}) == len(lines)


@given(
    measures=st.lists(numbers, min_size=3, max_size=3),
    cross=crosses,
    unit=st.sampled_from(("", " mm", "mm")),
)
def test_the_same_measures_are_one_size_however_they_are_typed(measures, cross, unit) -> None:
    for name in ("battery", "shaft-seal"):
        typed = sized(cross.join(measures) + unit, PARTS[name])
        assert typed == sized(" x ".join(measures), PARTS[name])


@pytest.mark.parametrize("part", sorted(PARTS))
@given(text=st.text(max_size=40))
@settings(max_examples=15)
def test_any_text_is_a_size_or_stays_as_it_was_typed(part: str, text: str) -> None:
    shown, row = sized(text, PARTS[part])
    assert row is None or row in PARTS[part].sizes
    assert sized(shown, PARTS[part])[0] == shown or row is not None
