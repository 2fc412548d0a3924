"""What was fixed for a line, in words, and what fixing it changes on the list."""

import pytest

from shedtally.domain.records.renewal import Spec
from shedtally.domain.renewals.lines import renewals
from shedtally.domain.renewals.spec_words import details


@pytest.fixture
def said(rules):
    return lambda **fixed: list(details(Spec(key="line", **fixed), rules.renewal))


def test_nothing_fixed_says_nothing(said):
    assert said() == []


@pytest.mark.parametrize(
    ("fixed", "words"),
    [
        ({"service": "petrol"}, "For petrol."),
        ({"service": "old oil"}, "For old oil."),
        ({"bore_mm": 19.0}, "Bore 19 mm."),
        ({"outside_mm": 28.5}, "Outside 28.5 mm."),
        ({"material": "bronze"}, "Made of bronze."),
        ({"clamps_each_end": 0}, "Clamps at each end: 0."),
        ({"clamps_each_end": 2}, "Clamps at each end: 2."),
        ({"substitute": "PE pipe"}, "May be replaced by: PE pipe."),
        ({"note": "Ask about the delivery."}, "Ask about the delivery."),
        ({"conductor": "2.5 mm2"}, "2.5 mm2."),
        ({"cores": 1}, None),
        ({"cores": 3}, "3 cores."),
        ({"tinned": True}, "Tinned."),
        ({"tinned": False}, "Not tinned."),
        ({"sheathed": False}, "Single."),
        ({"insulation_c": 105}, "Insulation for 105 °C."),
        ({"colour": "red"}, "Red."),
    ],
)
def test_each_detail_is_a_short_sentence(said, fixed, words):
    assert said(**fixed) == ([words] if words else [])


def test_a_cable_is_one_sentence_in_the_order_in_which_it_is_asked_for(said):
    assert said(
        colour="black", insulation_c=105, sheathed=True, tinned=True, cores=2, conductor="AWG 12"
    ) == ["AWG 12, 2 cores, tinned, sheathed, insulation for 105 °C, black."]


@pytest.mark.parametrize(
    ("fixed", "words"),
    [
        (
            {"thread_family": "G", "thread_size": "3/4"},
            "Thread BSP parallel (G) 3/4, tight on a washer or O-ring, never on the thread.",
        ),
        ({"thread_family": "NPT"}, "Thread American taper (NPT), tight on the thread, with a"),
        ({"thread_size": "M20"}, "Thread M20."),
    ],
)
def test_a_thread_says_how_it_is_made_tight(said, fixed, words):
    (sentence,) = said(**fixed)
    assert sentence.startswith(words)


def test_details_come_in_the_order_of_the_screen(said):
    assert said(
        note="N.", substitute="s", clamps_each_end=2, material="rubber", outside_mm=28.0,
        bore_mm=19.0, service="bilge",
    ) == [
        "For bilge.", "Bore 19 mm.", "Outside 28 mm.", "Made of rubber.", "Clamps at each end: 2.",
        "May be replaced by: s.", "N.",
    ]  # fmt: skip


HOSE = {"kind": "hose-fuel", "size": "8 mm", "length_mm": 1000}


def test_fixing_details_keeps_the_line_and_closes_its_questions(items, rules):
    (open_line,) = renewals(items(a=HOSE), rules).lines
    assert any(question.startswith("What flows in it") for question in open_line.open_questions)
    spec = ("spec", open_line.id, {"service": "diesel", "standard": "ISO 7840"})
    (fixed,) = renewals(items(spec, a=HOSE), rules).lines
    assert (fixed.id, fixed.open_questions, fixed.standard) == (open_line.id, (), "ISO 7840")
    assert fixed.details == ("For diesel.",)


def test_a_size_that_is_missing_is_closed_by_fixing_the_bore(items, rules):
    bare = {"kind": "hose-raw-water", "length_mm": 900}
    (line,) = renewals(items(a=bare), rules).lines
    assert line.open_questions == ("The size is missing: measure it on the fitting.",)
    (fixed,) = renewals(items(("spec", line.id, {"bore_mm": 25.0}), a=bare), rules).lines
    assert fixed.open_questions == ()


def test_two_units_for_nearly_the_same_copper_are_told_and_joined_by_choice(items, rules):
    one = {"kind": "cable-dc", "size": "AWG 12", "length_mm": 2000, "new_size": "AWG 12"}
    other = {**one, "size": "4 mm2", "length_mm": 1000, "new_size": "4 mm2"}
    mixed = [ln for ln in renewals(items(a=one, b=other), rules).lines if ln.kind == "cable-dc"]
    assert [line.size for line in mixed] == ["4 mm2", "AWG 12"]
    for line, unit in zip(mixed, ("AWG 12", "4 mm2"), strict=True):
        (said,) = line.open_questions
        assert said.startswith(f"Also listed as {unit}, nearly the same copper but sold apart: ")
        assert said.endswith("choose one, and buy the other line as it.")
    joined = ("spec", mixed[0].id, {"bought_as": mixed[1].id})
    boat = items(joined, a=one, b=other)
    (line,) = [line for line in renewals(boat, rules).lines if line.kind == "cable-dc"]
    assert (line.size, line.count, line.length_mm) == ("AWG 12", 2, 3000)
    assert "1 listed as 4 mm2 bought as this." in line.details


def test_lines_that_are_bought_as_each_other_stay_two_and_lose_nothing(items, rules):
    one, other = {**HOSE, "length_mm": 700}, {**HOSE, "size": "19 mm"}
    first, second = renewals(items(a=one, b=other), rules).lines
    ring = [
        ("spec", first.id, {"bought_as": second.id}),
        ("spec", second.id, {"bought_as": first.id}),
    ]
    found = renewals(items(*ring, a=one, b=other), rules).lines
    assert sorted(line.length_mm for line in found) == [700, 1000]


def test_a_line_to_be_bought_as_one_that_is_gone_says_so(items, rules):
    (line,) = renewals(items(a=HOSE), rules).lines
    (found,) = renewals(items(("spec", line.id, {"bought_as": "gone"}), a=HOSE), rules).lines
    assert "It is to be bought as another line that is not on the list: look." in (
        found.open_questions
    )
