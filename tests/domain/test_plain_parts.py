"""Plain parts: how a size is read and found, what makes two of them one line, what is asked."""

import pytest

from shedtally.domain.renewals.lines import renewals
from shedtally.domain.renewals.plain_parts import readable, sized


@pytest.fixture
def renew(items, rules):
    return lambda *rows, **by_key: renewals(items(*rows, **by_key), rules).lines


@pytest.fixture
def part(rules):
    return lambda name: next(row for row in rules.renewal.parts.values() if row.id == name)


@pytest.mark.parametrize(
    ("what", "typed", "shown"),
    [
        ("fastener", "m8x40", "M8 x 40"),
        ("fastener", "M8 \u00d7 40 mm", "M8 x 40"),
        ("fastener", "M8 x 1 x 40", "M8 x 1 x 40"),
        ("fastener", "M8", "M8"),
        ("fastener", "1/4-20 x 1 1/2 in", "1/4-20 UNC x 1 1/2 in"),
        ("fastener", "1/4 x 1 in", "1/4-20 UNC x 1 in"),
        ("battery", "LN2", "L2"),
        ("battery", "242 x 175 x 190", "L2"),
        ("battery", "242x175x189 mm", "L2"),
        ("battery", "240 x 120 x 200", "240 x 120 x 200 mm"),
        ("battery", "242 x 179 x 190", "242 x 179 x 190 mm"),
        ("battery", "group 31", "group 31"),
        ("battery", "330 x 173 x 240 mm", "group 31"),
        ("o-ring", "25 x 3.53", "AS568-214"),
        ("o-ring", "214", "AS568-214"),
        ("o-ring", "25 x 3,5", "AS568-214"),
        ("o-ring", "26 x 3.53", "26 x 3.53 mm"),
        ("shaft-seal", "35x52x7", "35 x 52 x 7 mm"),
        ("gland-packing", "8 mm", "8 mm"),
        ("drive-belt", "A x 950 mm", "A x 950"),
        ("drive-belt", "10 mm", "10 mm"),
        ("light-navigation", "Port light", "sidelight, red"),
        ("bilge-pump", "2000 gph", "126 l/min"),
        ("bilge-pump", "80 l/min", "80 l/min"),
        ("bilge-pump", "4800 l/h", "80 l/min"),
        ("bilge-pump", "like the old one", "like the old one"),
    ],
)
def test_a_size_is_shown_as_it_is_sold(part, what, typed, shown):
    assert sized(typed, part(what))[0] == shown


@pytest.mark.parametrize(
    ("what", "typed", "can"),
    [
        ("fastener", "M8 x 40", True),
        ("fastener", "a long one", False),
        ("shaft-seal", "35 x 52", False),
        ("shaft-seal", "35 x 52 x 7", True),
        ("o-ring", "as the old", False),
        ("battery", "big", False),
        ("bilge-pump", "like the old one", True),
    ],
)
def test_a_size_that_nobody_can_order_by_is_known_as_such(part, what, typed, can):
    assert readable(typed, part(what)) is can


def test_every_name_of_a_size_leads_to_its_own_row(rules):
    for rule in {row.id: row for row in rules.renewal.parts.values()}.values():
        for row in rule.sizes:
            for word in row.words:
                assert sized(word.upper(), rule)[1] is row, (rule.id, word)
            if rule.within_mm and len(row.measures) in rule.numbers:
                typed = " x ".join(f"{one:g}" for one in row.measures)
                assert sized(typed, rule)[1] is row, typed


BATTERY = {"kind": "battery-agm", "fate": "renew", "voltage_v": 12, "capacity_ah": 110}


def test_batteries_are_one_line_by_voltage_capacity_and_case(renew):
    lines = renew(
        a={**BATTERY, "size": "L5"},
        b={**BATTERY, "size": "353 x 175 x 190 mm"},
        c={**BATTERY, "size": "L5", "capacity_ah": 70},
        d={**BATTERY, "size": "L5", "voltage_v": 6},
        e={**BATTERY, "size": "group 31"},
    )
    assert {line.size: line.count for line in lines} == {
        "L5, 12 V, 110 Ah": 2,
        "L5, 12 V, 70 Ah": 1,
        "L5, 6 V, 110 Ah": 1,
        "group 31, 12 V, 110 Ah": 1,
    }
    assert all(line.open_questions == () for line in lines)


def test_what_is_missing_of_a_part_is_asked_for_with_how_to_measure_it(renew):
    (line,) = renew(a={"kind": "battery-agm", "fate": "renew", "voltage_v": 12})
    assert line.size == "12 V"
    (ask,) = line.open_questions
    assert ask.startswith("Write voltage, capacity and case, or length x width x height")
    assert any(said.startswith("Measure: Length, width and height") for said in line.details)


@pytest.mark.parametrize("fixed", [{"size": "L5"}, {"note": "as the box"}, {"standard": "BCI"}])
def test_fixing_the_line_closes_the_question(renew, fixed):
    bare = {"kind": "battery-agm", "fate": "renew"}
    (line,) = renew(a=bare)
    (found,) = renew(("spec", line.id, fixed), a=bare)
    assert (found.id, found.open_questions) == (line.id, ())
    assert not any(said.startswith("Measure") for said in found.details)


def test_bolts_in_one_size_are_counted_together_and_never_with_inches(renew):
    bolt = {"kind": "fastener", "fate": "renew"}
    lines = renew(
        a={**bolt, "size": "M6 x 25", "count": 12},
        b={**bolt, "size": "m6x25mm", "count": 8},
        c={**bolt, "size": "1/4 x 1 in", "count": 4},
    )
    assert {line.size: line.count for line in lines} == {"M6 x 25": 20, "1/4-20 UNC x 1 in": 4}
    said = {line.size: line.details[0] for line in lines}
    assert said["M6 x 25"] == "M6: pitch 1 mm, spanner 10 mm, key of a socket head 5 mm."
    assert said["1/4-20 UNC x 1 in"].endswith("no metric nut goes on it.")


def test_an_anode_asks_for_its_metal_and_goes_by_it(renew):
    zinc, aluminium, open_one = (
        {"kind": "anode", "material": "zinc"},
        {"kind": "anode", "material": "aluminium"},
        {"kind": "anode"},
    )
    lines = renew(a=zinc, b=zinc, c=aluminium, d=open_one)
    assert sorted(line.count for line in lines) == [1, 1, 2]
    asked = [line for line in lines if line.open_questions]
    assert [line.items for line in asked] == [("d",)]
    assert "zinc for sea water" in asked[0].open_questions[0]


def test_a_navigation_light_wants_a_name_and_says_how_far_it_is_seen(renew):
    light = {"kind": "light-navigation", "fate": "renew", "voltage_v": 12}
    named, bare = renew(a={**light, "size": "stern light"}, b=light)
    if not named.open_questions:
        named, bare = bare, named
    assert named.open_questions == ("Write which light it is, and its voltage.",)
    assert bare.size == "sternlight, 12 V"
    assert bare.details[0].startswith("sternlight: seen 2 miles off under 12 m of boat")


def test_an_old_gasket_is_ordered_as_a_gasket_free_of_asbestos(renew):
    (line,) = renew(a={"kind": "gasket-old", "count": 2})
    assert (line.spec, line.count) == ("Gasket", 2)
    assert "Ask for: free of asbestos." in line.details


WIRE = {
    "kind": "cable-dc", "size": "2.5 mm2", "length_mm": 3000, "load_a": 5, "voltage_v": 12,
    "insulation_c": 105, "bundled": 2, "duty": "hours", "critical": False, "hot_space": False,
}  # fmt: skip


def test_a_fuse_says_in_which_forms_its_rating_is_made(renew):
    (fuse,) = [line for line in renew(a=WIRE) if line.kind == "fuse"]
    assert (fuse.size, fuse.details[0]) == ("7.5 A", "Made as mini blade or blade.")
    (big,) = [ln for ln in renew(a={**WIRE, "load_a": 50, "size": "35 mm2"}) if ln.kind == "fuse"]
    assert (big.size, big.details[0]) == ("70 A", "Made as large blade.")


def test_what_protects_mains_is_never_merged_with_a_fuse_for_dc(renew):
    mains = {**WIRE, "kind": "cable-ac", "voltage_v": 230, "size": "3 x 2.5 mm2"}
    found = [line for line in renew(a=WIRE, b=mains) if "A" in line.size and line.count == 1]
    parts = {(line.kind, line.system, line.size) for line in found if not line.runs}
    assert parts == {("fuse", "dc", "7.5 A"), ("fuse-holder", "ac", "7.5 A AC")}
