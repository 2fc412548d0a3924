"""Renewals: what is bought new, merged, with its length and what is still open."""

import pytest

from shedtally.domain.renewals.lines import renewals


@pytest.fixture
def renew(items, rules):
    return lambda *rows, **by_key: renewals(items(*rows, **by_key), rules)


HOSE = {"kind": "hose-raw-water", "size": "19 mm", "length_mm": 1200}


def test_equal_specs_are_one_line_with_their_lengths_added(renew):
    found = renew(a=HOSE, b={**HOSE, "size": "3/4 in", "length_mm": 800})
    (line,) = found.lines
    assert (line.size, line.count, line.length_mm) == ("19 mm (3/4 in)", 2, 2000)
    assert line.items == ("a", "b")
    assert line.spec.startswith("Raw-water hose, 19 mm (3/4 in), reinforced")
    assert found.questions == ()
    assert line.open_questions == ()


def test_the_order_adds_a_tenth_and_two_ends_to_each_length_and_rounds_up(renew):
    (line,) = renew(a=HOSE).lines
    assert (line.allowance, line.order_mm) == (0.1, 1520)
    (line,) = renew(a={**HOSE, "length_mm": 1201}).lines
    assert line.order_mm == 1530
    (line,) = renew(a={**HOSE, "count": 3}).lines
    assert (line.count, line.length_mm, line.order_mm) == (3, 3600, 4560)


def test_a_length_that_is_missing_is_a_question_and_never_a_zero(renew):
    found = renew(a=HOSE, b={"kind": "hose-raw-water", "size": "19 mm"})
    (line,) = found.lines
    assert (line.count, line.length_mm) == (2, 1200)
    assert line.open_questions == ("1 of 2 have no length, and are not in the total.",)
    assert [(q.item, q.field) for q in found.questions] == [("b", "length_mm")]
    (bare,) = renew(b={"kind": "hose-raw-water", "size": "19 mm"}).lines
    assert (bare.length_mm, bare.order_mm) == (None, None)


def test_a_size_that_is_missing_or_unreadable_is_a_question(renew):
    found = renew(a={**HOSE, "size": None}, b={**HOSE, "size": "as the old one"})
    unreadable, missing = sorted(found.lines, key=lambda line: line.items[0], reverse=True)
    assert missing.open_questions == ("The size is missing: measure it on the fitting.",)
    assert "size open" in missing.spec
    assert "as the old one can't be read" in unreadable.open_questions[0]
    assert [q.field for q in found.questions] == ["size"]


def test_sizes_of_two_standards_and_threads_of_two_families_stay_apart(renew):
    cables = renew(
        a={"kind": "cable-dc", "size": "AWG 12", "length_mm": 1000},
        b={"kind": "cable-dc", "size": "4 mm2", "length_mm": 1000},
        c={"kind": "cable-dc", "size": "12 AWG", "length_mm": 1000},
    )
    runs = [(line.size, line.count) for line in cables.lines if line.kind == "cable-dc"]
    assert runs == [("4 mm2", 1), ("AWG 12", 2)]
    cocks = renew(
        a={"kind": "seacock", "size": "3/4 BSP"},
        b={"kind": "seacock", "size": "3/4 NPT"},
        c={"kind": "seacock", "size": "3/4 in"},
    )
    assert len(cocks.lines) == 3


def test_a_threaded_hose_end_is_not_taken_for_a_bore(renew):
    (line,) = renew(a={**HOSE, "size": "3/4 BSP"}).lines
    assert line.size == "3/4 BSP"


@pytest.mark.parametrize("size", ["20 mm", "29 mm"])
def test_a_hose_of_no_usual_bore_keeps_its_own_size(renew, size):
    (line,) = renew(a={**HOSE, "size": size}).lines
    assert line.size == size


@pytest.mark.parametrize(
    ("typed", "shown"),
    [
        ("1 1/2 in", "38 mm (1 1/2 in)"),
        ("1 1/8 in", "29 mm (1 1/8 in)"),
        ("2 in", "51 mm (2 in)"),
        ("38 mm", "38 mm"),
        ("10 in", "254 mm"),
        ("30 in", "762 mm"),
        ("0.3 mm", "0.3 mm"),
        ("DN 25", "DN 25"),
        ("1 1/2 BSP", "1 1/2 BSP"),
    ],
)
def test_a_size_in_inches_shows_both_ways(renew, typed, shown):
    (line,) = renew(a={"kind": "seacock", "size": typed}).lines
    assert line.size == shown


def test_a_clamp_may_have_a_range_for_a_size(renew):
    (line,) = renew(a={"kind": "hose-clamp", "size": "20-32 mm", "count": 14}).lines
    assert (line.size, line.open_questions) == ("20-32 mm", ())


def test_a_thing_that_has_no_size_is_not_asked_for_one(renew):
    found = renew(a={"kind": "light-cabin", "fate": "renew"})
    assert found.lines[0].spec == "Cabin light"
    assert found.questions == ()


def test_fittings_of_two_materials_are_two_lines(renew):
    found = renew(
        a={"kind": "seacock", "size": "3/4 BSP", "material": "bronze"},
        b={"kind": "seacock", "size": "3/4 BSP", "material": "reinforced nylon"},
        c={"kind": "seacock", "size": "3/4 BSP", "material": "Bronze, gunmetal"},
    )
    assert [line.count for line in found.lines] == [2, 1]
    assert "bronze, gunmetal" in found.lines[0].spec
    assert found.lines[0].length_mm is None
    assert found.lines[0].allowance == 0


@pytest.mark.parametrize(
    ("values", "listed"),
    [
        ({"kind": "hose-gas"}, True),
        ({"kind": "hose-gas", "fate": "undecided", "whereabouts": "ashore"}, True),
        ({"kind": "hose-gas", "fate": "refit"}, False),
        ({"kind": "hose-gas", "fate": "sell"}, False),
        ({"kind": "winch"}, False),
        ({"kind": "winch", "fate": "renew"}, True),
        ({"fate": "renew"}, True),
        ({"fate": "scrap"}, False),
    ],
)
def test_what_is_renewed_stands_on_the_list(renew, values, listed):
    assert bool(renew(it=values).lines) is listed


def test_a_hose_that_is_thrown_away_is_still_listed_and_asked_for(renew):
    (line,) = renew(a={**HOSE, "fate": "scrap"}, b=HOSE).lines
    assert line.open_questions == ("1 of 2 are marked as scrap or waste: are they to be replaced?",)


def test_something_without_a_kind_is_ordered_by_its_name(renew):
    found = renew(
        a={"fate": "renew", "name": "Brass lamp", "system": "joinery"}, b={"fate": "renew"}
    )
    assert [line.spec for line in found.lines] == [
        "Brass lamp",
        "Item without a name",
    ]
    assert [line.system for line in found.lines] == ["joinery", ""]
    assert [q.field for q in found.questions] == ["kind", "kind"]


def test_lines_go_by_system_and_then_by_name(renew):
    found = renew(a={"kind": "anode"}, b={"kind": "hose-fuel"}, c={"kind": "hose-bilge"}, d=HOSE)
    assert [line.kind for line in found.lines] == [
        "hose-fuel",
        "hose-bilge",
        "hose-raw-water",
        "anode",
    ]


def test_every_line_names_the_standard_for_its_service(renew):
    (line,) = renew(a={"kind": "hose-fuel", "size": "8 mm", "length_mm": 500}).lines
    assert "ISO 7840" in line.standard
    assert line.standard in line.spec


def test_tags_of_all_items_are_on_the_line(renew):
    found = renew(("tag", "K7Q4M2", {"on": "item/b"}), a=HOSE, b=HOSE)
    assert found.lines[0].tags == ("K7Q4M2",)


def two_ends(one, other):
    return (
        ("end", "e", {"item": "a", "joined": one}),
        ("end", "f", {"item": "a", "joined": other}),
    )


@pytest.mark.parametrize(
    ("joined", "count"),
    [
        ("clamp", 1),
        ("two clamps", 2),
        ("Double clip, stainless", 2),
        ("2 hose clamps", 2),
        ("clamped twice", 1),
        ("union", 0),
    ],
)
def test_clamps_are_counted_from_how_the_ends_were_joined(renew, joined, count):
    water = {"kind": "hose-fresh-water", "size": "19 mm", "length_mm": 1200}
    found = renew(*two_ends(joined, "push fitting"), a=water)
    clamps = [line for line in found.lines if line.kind == "hose-clamp"]
    assert sum(line.count for line in clamps) == count


def test_below_the_waterline_one_clamp_becomes_two_and_that_is_said(renew):
    found = renew(*two_ends("clamp", "two clamps"), a=HOSE)
    clamp = next(line for line in found.lines if line.kind == "hose-clamp")
    assert clamp.count == 4
    assert clamp.open_questions[1] == (
        "Two clamps, as is practice, for 1 end that had one: only where the tail is long enough "
        "for both."
    )


def test_an_end_of_which_nobody_wrote_how_it_was_held_gets_what_is_practice(renew):
    found = renew(("end", "e", {"item": "a", "to_point": "tank"}), a=HOSE)
    clamp = next(line for line in found.lines if line.kind == "hose-clamp")
    assert clamp.count == 4
    assert "Taken for 2 ends" in clamp.open_questions[1]
    assert not [line for line in renew(a=HOSE).lines if line.kind == "hose-clamp"]


def test_a_petrol_filling_hose_gets_two_clamps_and_one_for_diesel_as_many_as_it_had(renew):
    for service, count in (("petrol", 4), ("diesel", 2)):
        fill = {"kind": "hose-fuel-fill", "size": "38 mm", "length_mm": 900, "service": service}
        found = renew(*two_ends("clamp", "clamp"), a=fill)
        clamp = next(line for line in found.lines if line.kind == "hose-clamp")
        assert clamp.count == count


def test_a_clamp_fits_the_outside_of_its_hose(renew):
    found = renew(*two_ends("two clamps", "crimped"), a=HOSE)
    clamp = next(line for line in found.lines if line.kind == "hose-clamp")
    assert clamp.count == 2
    assert clamp.size == "no. 16 (20.6 to 38.1 mm), for hose 19 mm (3/4 in)"
    assert clamp.items == ("a",)
    assert "SAE J1508" in clamp.spec


def test_hoses_of_one_bore_with_two_outsides_have_clamps_on_two_lines(renew):
    hoses = {"a": HOSE, "b": {**HOSE, "service": "exhaust"}}
    ends = [("end", f"e{n}", {"item": "ab"[n % 2], "joined": "clamp"}) for n in range(4)]
    line = next(line for line in renew(a=HOSE).lines if line.kind == HOSE["kind"])
    found = renew(*ends, ("spec", line.id, {"outside_mm": 40.0}), **hoses)
    clamps = [line for line in found.lines if line.kind == "hose-clamp"]
    assert sorted(line.items for line in clamps) == [("a",), ("b",)]
    assert len({line.id for line in clamps}) == 2
    # With one outside only, fixing it leaves the clamps on their line.
    before, after = (
        renew(*ends, a=HOSE),
        renew(*ends, ("spec", line.id, {"outside_mm": 40.0}), a=HOSE),
    )
    assert {line.id for line in before.lines} == {line.id for line in after.lines}


def test_a_bore_that_no_table_has_is_not_clamped_as_the_old_hose_was(renew):
    (line,) = renew(a=HOSE).lines
    found = renew(*two_ends("clamp", "clamp"), ("spec", line.id, {"bore_mm": 83.0}), a=HOSE)
    clamp = next(line for line in found.lines if line.kind == "hose-clamp")
    assert clamp.size == "for hose 83 mm"
    assert "The outside of the hose is not known" in clamp.open_questions[-1]


def test_the_cautions_come_with_the_list(renew):
    assert any("BSP and NPT" in caution for caution in renew().cautions)
