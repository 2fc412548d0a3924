"""Reading of measures, by the vectors that the phone is held to as well."""

import json
from pathlib import Path

import pytest

from shedtally.domain.measures.reading import parse_length_mm, parse_mass_kg, parse_size
from shedtally.domain.measures.unreadable import Unreadable

VECTORS = json.loads(
    (Path(__file__).parents[2] / "fixtures" / "contract" / "measure.json").read_text("utf-8")
)


def split(name):
    rows = VECTORS[name]
    good = [pytest.param(row, id=repr(row["text"])) for row in rows if "error" not in row]
    bad = [pytest.param(row, id=repr(row["text"])) for row in rows if "error" in row]
    assert good
    assert bad
    return good, bad


SIZES, BAD_SIZES = split("size")
LENGTHS, BAD_LENGTHS = split("length")
MASSES, BAD_MASSES = split("mass")


@pytest.mark.parametrize("row", SIZES)
def test_a_size_is_read(row):
    size = parse_size(row["text"])
    assert size.kind == row["kind"]
    assert size.mm == (row["mm"] and pytest.approx(row["mm"], abs=1e-6))
    assert size.mm2 == (row["mm2"] and pytest.approx(row["mm2"], abs=1e-6))
    assert (size.shown, size.cores, size.thread) == (row["shown"], row["cores"], row["thread"])


@pytest.mark.parametrize("row", LENGTHS)
def test_a_length_is_read(row):
    assert parse_length_mm(row["text"]) == pytest.approx(row["mm"], abs=1e-6)


@pytest.mark.parametrize("row", MASSES)
def test_a_mass_is_read(row):
    assert parse_mass_kg(row["text"]) == pytest.approx(row["kg"], abs=1e-6)


@pytest.mark.parametrize(
    ("read", "row"),
    [pytest.param(parse_size, *p.values, id=f"size {p.id}") for p in BAD_SIZES]
    + [pytest.param(parse_length_mm, *p.values, id=f"length {p.id}") for p in BAD_LENGTHS]
    + [pytest.param(parse_mass_kg, *p.values, id=f"mass {p.id}") for p in BAD_MASSES],
)
def test_what_cannot_be_read_is_refused_with_a_reason(read, row):
    with pytest.raises(Unreadable) as refused:
        read(row["text"])
    assert refused.value.detail == row["error"]
    assert str(refused.value) == row["error"]


def test_an_unknown_unit_is_named_and_the_known_ones_are_offered():
    with pytest.raises(Unreadable) as refused:
        parse_size("19 mmm")
    assert refused.value.detail == "mmm is no unit I know; write mm, cm, m, in or ft"


def test_a_text_of_forty_characters_is_still_read_and_one_more_is_not():
    assert parse_length_mm("1" + " " * 40 + "m") == 1000
    assert parse_length_mm("0" * 37 + "1 m") == 1000
    with pytest.raises(Unreadable, match="too long"):
        parse_length_mm("0" * 38 + "1 m")


def test_two_sizes_of_different_thread_families_are_never_equal():
    assert parse_size("3/4 BSP") != parse_size("3/4 NPT")
    assert parse_size("3/4 BSP") != parse_size("3/4 in")
