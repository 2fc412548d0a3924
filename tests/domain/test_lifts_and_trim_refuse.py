"""Lifts and trim outside what they can reckon: refused with the reason, the range, the way out."""

import json
import math
from pathlib import Path

import pytest

from shedtally.domain.floating.trim import trim_list
from shedtally.domain.floating.waterplane import faults_of, missing_of
from shedtally.domain.lifting.lifts import lift_list
from shedtally.domain.lifting.sling import NotHung, Point, hang, two_legs
from shedtally.rules.load import rules_for_phone

MIDDLE = Point(0.0, 0.0, 0.0)
TWO = [Point(-1.0, 0.0, 0.5), Point(1.0, 0.0, 0.5)]


@pytest.mark.parametrize(
    ("kg", "centre", "hook", "eyes", "said"),
    [
        (100, MIDDLE, Point(0, 0, 2), [], "0 eyes: this reckons 1 to 4 legs."),
        (100, MIDDLE, Point(0, 0, 2), [Point(n, 0, 0) for n in range(5)], "5 eyes: this reckons"),
        (0, MIDDLE, Point(0, 0, 2), TWO, "the mass must be more than 0 kg. Weigh it."),
        (100, MIDDLE, Point(0, 0, 2), [TWO[0], TWO[0]], "at least 2 cm apart. Measure again."),
        (100, MIDDLE, Point(0, 0, 0.4), TWO, "is not above an eye, 0.5 m up: the hook must be"),
        (100, Point(0, 0, 3), Point(0, 0, 2), TWO, "The hook is not above the middle of mass"),
        (100, Point(0, 0, 1), Point(0, 0, 2), [Point(0, 0, 0.5)], "the load would turn over"),
        (100, Point(0, 0, 1), Point(0, 0, 2), TWO, "The two eyes are not above the middle of mass"),
        (100, Point(2, 0, 0), Point(0, 0, 2), TWO, "The middle of mass is not between the eyes"),
        (
            100, MIDDLE, Point(0, 0, 2), [*TWO, Point(0.2, 0, 0.5)],
            "The three eyes stand in one line: move one of them aside",
        ),
        (
            100, MIDDLE, Point(0, 0, 2), [Point(0, 0, 0.2), Point(0, 0, 0.8)],
            "The two eyes are above each other: choose eyes beside each other.",
        ),
    ],
)  # fmt: skip
def test_what_can_hang_in_no_such_way_says_why_and_what_to_change(kg, centre, hook, eyes, said):
    with pytest.raises(NotHung) as refused:
        hang(kg, centre, hook, eyes)
    assert said in str(refused.value)


def test_one_leg_hangs_plumb_and_the_load_turns_until_its_middle_is_under_the_eye():
    hung = hang(80, Point(0.3, 0.4, 0.0), Point(0, 0, 2), [Point(0, 0, 0.5)])
    assert [leg.tension_kg for leg in hung.legs] == [80]
    assert hung.swing_m == pytest.approx(0.5)
    assert hung.tilt_deg == pytest.approx(45)


def test_two_plumb_legs_are_one():
    with pytest.raises(NotHung):
        two_legs(100, 0, 0)


LIFT = {
    "of": "engine",
    "hook_up_m": 2.0,
    "centre_aft_m": 0.0,
    "centre_off_m": 0.0,
    "centre_up_m": 0.0,
}
ENGINE = {"kind": "engine", "mass_kg": 200.0, "mass_how": "weighed"}
EYES = {
    "port": {"lift": "l", "name": "Port", "aft_m": 0.0, "off_m": -0.5, "up_m": 0.5},
    "star": {"lift": "l", "name": "Starboard", "aft_m": 0.0, "off_m": 0.5, "up_m": 0.5},
}


@pytest.fixture
def lifted(items, rules):
    """The one lift of an engine by two eyes, with what differs."""

    def made(eyes=EYES, engine=ENGINE, **lift):
        rows = [("eye", key, values) for key, values in eyes.items()]
        boat = items(("lift", "l", {**LIFT, **lift}), *rows, engine=engine)
        (line,) = lift_list(boat, rules).lifts
        return line

    return made


def test_a_sound_lift_has_two_equal_legs_and_an_allowance_for_jerks(lifted):
    line = lifted(leg_rated_kg=200, hook_rated_kg=240)
    assert line.refused == ""
    # 0.5 m aside and 1.5 m up: 200 kg / 2 / cos.
    each = 100 / math.cos(math.atan2(0.5, 1.5))
    assert [leg.tension_kg for leg in line.legs] == pytest.approx([each, each])
    assert all(leg.most_kg > each * 1.25 for leg in line.legs)
    assert line.hook_kg >= 250
    assert line.hook_verdict != lifted(hook_rated_kg=1000).hook_verdict
    assert line.outside.startswith("By the standard's factor of 1.4 these slings may carry 280 kg")


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"of": "gone"}, "What is lifted is not here: pick the item."),
        ({"eyes": {}}, "No eye is written down: add each eye that a leg goes to, 1 to 4."),
        ({"eyes": {"a": {"lift": "l", "name": "A"}}}, "A has no place yet: measure along, across"),
        ({"hook_up_m": None}, "How high is the hook with the slings taut?"),
        ({"centre_aft_m": None}, "Nobody said where the load's middle of mass is"),
        ({"hook_up_m": 0.6}, "from the vertical: 0 to 60° is allowed. Take longer slings"),
        ({"engine": {"name": "?"}}, "Nobody knows what it weighs"),
        (
            {"centre_off_m": 0.4, "hook_off_m": 0.0, "hook_up_m": 1.2},
            "It would hang 18° out of level: up to 15° is reckoned.",
        ),
    ],
)
def test_a_lift_that_cant_be_reckoned_says_what_is_missing(lifted, change, said):
    line = lifted(**change)
    assert said in line.refused
    assert line.legs == ()


RIGS = json.loads((Path(__file__).parents[2] / "fixtures/contract/rigs.json").read_text("utf-8"))


@pytest.mark.parametrize("case", RIGS["rigs"], ids=str)
def test_the_phone_refuses_the_same_rigs(lifted, rules, case):
    assert rules.lifting.most_angle_deg == RIGS["most_angle_deg"]
    assert rules_for_phone(rules)["lifting"] == {"most_angle_deg": RIGS["most_angle_deg"]}
    ways = ("aft_m", "off_m", "up_m")
    eyes = {
        str(n): {"lift": "l", "name": "Eye", **dict(zip(ways, eye, strict=True))}
        for n, eye in enumerate(case["eyes"])
    }
    parts = {"hook": case["hook"], "centre": case["middle"]}
    lift = {
        f"{what}_{way}": at
        for what, where in parts.items()
        for way, at in zip(ways, where, strict=True)
    }
    line = lifted(eyes=eyes, engine={**RIGS["item"], **case.get("item", {})}, **lift)
    if case["says"] is None:
        assert line.refused == ""
    else:
        assert case["says"] in line.refused


def test_wide_legs_four_legs_and_a_high_middle_are_warned_of(lifted):
    wide = lifted(hook_up_m=0.95)
    assert any("each degree more costs a lot" in said for said in wide.warnings)
    corners = [("a", -0.5, -0.5), ("b", 0.5, -0.5), ("c", 0.5, 0.5), ("d", -0.5, 0.5)]
    four = {
        key: {"lift": "l", "name": key, "aft_m": aft, "off_m": off, "up_m": 0.0}
        for key, aft, off in corners
    }
    line = lifted(eyes=four, centre_up_m=0.2)
    assert len(line.legs) == 4
    assert any(
        said.startswith("Four legs: which of them carry can't be told") for said in line.warnings
    )
    assert any("The middle of mass is above the eyes" in said for said in line.warnings)


BOAT = {"length_m": 11.0, "beam_m": 3.4}


@pytest.fixture
def record(items):
    return lambda **fields: items(("boat", "boat", {**BOAT, **fields})).boat


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"length_m": 0}, "A length of 0 m is no boat"),
        ({"waterline_m": 12}, "longer than the boat, 11 m: it must be 11 m or less."),
        ({"waterline_beam_m": 4}, "is more than the beam, 3.4 m: it must be that or less."),
        ({"waterline_m": 9, "bow_overhang_m": 3}, "the overhang can be 0 to 2.00 m."),
        ({"float_centre_m": 12}, "is not in the boat: it must be between 0 and 11 m."),
        ({"waterplane_m2": 0}, "A waterplane of 0 m2 carries nothing"),
        ({"waterplane_m2": 60}, "more than length by beam: it must be 37.4 m2 or less."),
        ({"trim_moment": 0}, "it must be more than 0."),
        ({"displacement_kg": 0}, "A displacement of 0 kg is no boat"),
    ],
)
def test_a_figure_that_no_boat_can_have_is_told_with_its_range(record, fields, said):
    (fault,) = faults_of(record(**fields))
    assert said in fault


def test_a_sound_boat_has_no_faults_and_lacks_nothing(record):
    boat = record(waterline_m=9, bow_overhang_m=1, waterplane_m2=22, float_centre_m=5.8)
    assert (faults_of(boat), missing_of(boat)) == ((), ())


def test_a_boat_without_size_is_asked_for_it(items, rules):
    boat = items(("boat", "boat", {"name": "?"}))
    assert missing_of(boat.boat) == (
        "the length of the boat, or of her waterline",
        "her beam, or the beam at the waterline",
    )
    found = trim_list(boat, rules)
    assert all(state.sinkage_cm is None for state in found.states)
    assert "Enter it on the boat's page." in found.states[0].refused[-1]


BALLAST = {
    "name": "Ballast",
    "mass_kg": 500.0,
    "mass_how": "weighed",
    "aft_m": 5.5,
    "off_m": 0.0,
    "up_m": 0.5,
}


@pytest.fixture
def floats(items, rules):
    """How she floats now with one thing ashore."""

    def made(boat=None, **thing):
        rows = ("boat", "boat", {**BOAT, **(boat or {})})
        out = {**BALLAST, "whereabouts": "ashore", **thing}
        return trim_list(items(rows, it=out), rules).states[0]

    return made


def test_a_change_too_large_for_the_formulas_is_refused_with_the_most_that_is_reckoned(floats):
    state = floats({"displacement_kg": 1500})
    assert state.refused == (
        "500 kg is too much of her 1500 kg: small changes only, up to 450 kg.",
    )
    assert (state.sinkage_cm, state.mass.likely) == (None, -500)


def test_more_than_a_share_of_the_draught_is_refused(floats):
    (said,) = floats({"draught_m": 0.05}).refused
    assert "cm is too much of her draught: up to 2 cm." in said


def test_a_steep_trim_is_refused(floats):
    (said,) = floats(mass_kg=4000.0, aft_m=0.2).refused
    assert "She would trim" in said
    assert "up to 3° is reckoned" in said


@pytest.mark.parametrize(
    ("boat", "thing", "said"),
    [
        ({}, {}, "No list: her GM and displacement is not known"),
        ({"gm_m": 0.8}, {}, "No list: her displacement is not known"),
        ({"gm_m": 0, "displacement_kg": 9000}, {}, "a GM of 0 m is not stable"),
        (
            {"gm_m": 0.1, "displacement_kg": 9000},
            {"off_m": 1.5},
            "is beyond small angles, up to 6°",
        ),
    ],
)
def test_a_list_is_given_only_with_what_it_takes(floats, boat, thing, said):
    state = floats(boat, **thing)
    assert state.list_deg is None
    assert said in state.refused[0]


def test_a_weight_taken_off_to_starboard_lists_her_to_port(floats):
    state = floats({"gm_m": 0.8, "displacement_kg": 9000}, off_m=1.2)
    # tan(list) = w d / (W GM), with 9000 kg less what came off (Barrass and Derrett).
    expected = math.degrees(math.atan(-500 * 1.2 / (8500 * 0.8)))
    assert state.list_deg.likely == pytest.approx(expected, abs=0.05)
