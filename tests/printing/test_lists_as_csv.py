"""The three lists as CSV: read back whole by another reader, and no text runs as a formula."""

import csv
import dataclasses
import io

import pytest

from printing import samples
from shedtally.domain.lists import LeftList, RenewalList, RunLength
from shedtally.printing.csv_text import csv_text
from shedtally.printing.lists import left_csv, renewals_csv, waste_csv


def read_back(text):
    """Rows as a program reads them from the file's bytes."""
    stream = io.StringIO(text.encode().decode("utf-8-sig"), newline="")
    return list(csv.DictReader(stream, strict=True))


def test_left_has_a_row_for_each_item_with_place_code_and_readiness():
    left = samples.left_list()
    rows = read_back(left_csv(left))
    assert len(rows) == sum(len(group.items) for group in left.by_compartment)
    assert rows[1]["compartment"] == "hull › engine room"
    assert rows[1]["item"] == "Seacock, engine raw water"
    assert rows[1]["ready to take out (yes/no)"] == "yes"
    assert rows[2]["ready to take out (yes/no)"] == "no"
    assert rows[2]["waits for"] == "Seacock, engine raw water; Strainer"
    assert rows[0]["tag codes"][3] == "-"


def test_waste_has_masses_in_kilograms_as_bare_numbers():
    rows = read_back(waste_csv(samples.waste_list()))
    assert [float(row["mass likely (kg)"]) for row in rows] == [38, 24, 1.6, 140]
    assert [row["mass got by"] for row in rows] == ["plate", "weighed", "guessed", "calculated"]
    assert rows[0]["code"] == "16 06 01*"
    assert rows[1]["gone (yes/no)"] == "yes"
    assert rows[2]["container"] == ""
    assert rows[2]["assumed (yes/no)"] == "yes"


def test_a_mass_that_nobody_knows_is_left_empty_and_not_zero():
    waste = samples.waste_list()
    stream = waste.streams[2]
    mass = dataclasses.replace(stream.items[0].mass, basis="unknown")
    item = dataclasses.replace(stream.items[0], mass=mass)
    unknown = dataclasses.replace(stream, items=(item,))
    (row,) = read_back(waste_csv(dataclasses.replace(waste, streams=(unknown,))))
    assert row["mass likely (kg)"] == row["mass low (kg)"] == row["mass high (kg)"] == ""
    assert row["mass got by"] == "unknown"


def test_renewals_have_lengths_in_metres_and_allowance_in_per_cent():
    rows = read_back(renewals_csv(samples.renewal_list()))
    assert rows[0]["length (m)"] == "4.35"
    assert rows[0]["allowance (%)"] == "10"
    assert rows[0]["order length (m)"] == "4.785"
    assert rows[1]["length (m)"] == ""
    assert rows[3]["open questions"] == "Which thread?; Which length of stem?"


def test_renewals_say_what_does_not_fit_what_was_fixed_and_how_each_length_was_got():
    full = samples.renewal_list()
    runs = (
        RunLength("a", "Feed", (), 1, 2000, 2300, 2000, 2000, "measured"),
        RunLength("b", "Return", (), 2, 1500, 1750, 900, 2400, "worked out from the compartments"),
        RunLength("c", "Drain", (), 1, None, None, None, None, "not known"),
    )
    line = dataclasses.replace(
        full.lines[0], runs=runs, details=("Bore 10 mm.",), mismatches=("Tail to cock: G on NPT.",)
    )
    (row,) = read_back(renewals_csv(dataclasses.replace(full, lines=(line,))))
    assert row["fixed details"] == "Bore 10 mm."
    assert row["does not fit"] == "Tail to cock: G on NPT."
    assert row["how the lengths were got"] == (
        "Feed 2.00 m measured; "
        "Return 1.50 m (0.90 to 2.40 m) worked out from the compartments; "
        "Drain length not known"
    )


def test_an_empty_list_is_a_header_alone():
    for text in (left_csv(LeftList(0, 0, 0, 0, (), ())), renewals_csv(RenewalList((), (), ()))):
        assert text.count("\r\n") == 1
        assert read_back(text) == []


@pytest.mark.parametrize(
    "text", ["=1+1", "+44", "-12 V panel", "@SUM(A1)", "\t=1", "  =cmd", "\uff1d1", "\r=1"]
)
def test_a_text_that_a_spreadsheet_would_run_is_made_plain(text):
    (row,) = read_back(csv_text(["item"], [[text]]))
    assert row["item"] == "'" + text


@pytest.mark.parametrize(
    "text", ["a,b", 'say "no"', "two\nlines", "Ωμέγα 船", "3/4 in = 19 mm", "'quoted", ""]
)
def test_any_other_text_comes_back_as_it_was(text):
    (row,) = read_back(csv_text(["item", "n"], [[text, 1]]))
    assert row["item"] == text


def test_numbers_are_not_taken_for_formulas_and_words_stand_for_yes_and_no():
    assert csv_text(["a", "b", "c", "d"], [[-1.5, True, None, 100_000]]) == (
        "\ufeffa,b,c,d\r\n-1.5,yes,,100000\r\n"
    )


def test_lines_end_in_crlf_and_quotes_are_doubled_as_rfc_4180_says():
    assert csv_text(["a"], [['x "y", z']]) == '\ufeffa\r\n"x ""y"", z"\r\n'
