"""Whatever is written as a measure reads back as it was, and nothing else breaks the reader."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shedtally.domain.measures.reading import parse_length_mm, parse_mass_kg, parse_size
from shedtally.domain.measures.unreadable import Unreadable

MM = {"mm": 1, "cm": 10, "m": 1000, "in": 25.4, "ft": 304.8}


@given(st.integers(1, 40), st.sampled_from(sorted(MM)), st.booleans())
def test_a_whole_number_of_any_unit_reads_back(number, unit, spaced):
    text = f"{number} {unit}" if spaced else f"{number}{unit}"
    assert parse_length_mm(text) == pytest.approx(number * MM[unit])


@given(st.integers(0, 40), st.integers(1, 31), st.sampled_from([2, 4, 8, 16, 32]))
def test_an_inch_fraction_reads_back(whole, upper, lower):
    text = f"{whole} {upper}/{lower} in" if whole else f"{upper}/{lower} in"
    assert parse_length_mm(text) == pytest.approx(float(whole + Fraction(upper, lower)) * 25.4)


@given(st.decimals("0.01", "99999", places=2))
def test_point_and_comma_mean_the_same(number):
    assert parse_mass_kg(f"{number} kg") == pytest.approx(float(number))
    assert parse_mass_kg(f"{number} kg".replace(".", ",")) == pytest.approx(float(number))


@given(
    st.one_of(
        st.sampled_from(["19 mm", "2.5 mm2", "2 x 2.5 mm2", "AWG 12", "AWG 2/0", "3 x AWG 14"]),
        st.sampled_from(["M8", "DN 25", "3/4 BSP", "1 1/2 NPT", "1200 mm"]),
    )
)
def test_what_is_shown_reads_back_as_the_same_size(text):
    size = parse_size(text)
    assert parse_size(size.shown) == size


def answer(read, text):
    """What was read, or the sentence of the refusal; any other error is a defect."""
    try:
        return read(text)
    except Unreadable as refused:
        return refused.detail


@given(st.text(max_size=50))
def test_any_text_is_read_or_refused_with_a_sentence(text):
    for read in (parse_size, parse_length_mm, parse_mass_kg):
        assert answer(read, text) != ""


@given(st.text(alphabet="0123456789 .,/-'\"xmagwincftkblspedoz\u00b2\u00bd", max_size=20))
def test_near_misses_are_read_or_refused_and_never_negative(text):
    for read in (parse_length_mm, parse_mass_kg):
        found = answer(read, text)
        assert isinstance(found, str) or found >= 0
    size = answer(parse_size, text)
    assert isinstance(size, str) or ((size.mm or 0) >= 0 and size.cores >= 1)
