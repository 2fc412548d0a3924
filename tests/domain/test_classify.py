"""Which stream an item falls into, and what is asked before that is sure."""

import pytest

from shedtally.domain.records import Item
from shedtally.domain.waste.classify import classify


@pytest.fixture
def judge(rules):
    def made(law="eu", **values):
        return classify(Item(key="k", **values), rules, rules.rule_sets[law])

    return made


@pytest.mark.parametrize("law", ["eu", "us-federal"])
@pytest.mark.parametrize(
    ("soaked_in", "stream"),
    [
        ("mineral oil", "rag-oil"),
        ("drying oil", "rag-drying"),
        ("solvent", "rag-solvent"),
        ("fuel", "rag-solvent"),
    ],
)
def test_oily_rags_go_by_what_they_are_soaked_in(judge, law, soaked_in, stream):
    found = judge(law, kind="rag-oily", soaked_in=soaked_in)
    assert (found.stream, found.assumed, found.questions) == (stream, False, ())


@pytest.mark.parametrize("kind", ["rag-oily", "rag-unknown"])
def test_rags_that_nobody_looked_at_are_taken_for_self_heating(judge, kind):
    found = judge(kind=kind)
    assert (found.stream, found.assumed) == ("rag-drying", True)
    (question,) = found.questions
    assert question.field == "soaked_in"
    assert "drying oil" in question.assumed


@pytest.mark.parametrize(
    ("kind", "stream"),
    [("rag-drying-oil", "rag-drying"), ("rag-solvent", "rag-solvent"), ("rag-fuel", "rag-solvent")],
)
def test_rags_whose_kind_names_the_liquid_need_no_question(judge, kind, stream):
    found = judge(kind=kind)
    assert (found.stream, found.assumed) == (stream, False)


@pytest.mark.parametrize(
    ("kind", "said", "stream"),
    [
        ("rag-oily", "clean", "rag-oil"),
        ("rag-drying-oil", "mineral oil", "rag-drying"),
        ("rag-fuel", "water", "rag-solvent"),
    ],
)
def test_an_answer_never_makes_rags_milder_than_their_kind(judge, kind, said, stream):
    found = judge(kind=kind, soaked_in=said)
    assert (found.stream, found.assumed) == (stream, True)
    assert "which is right?" in found.questions[0].ask


@pytest.mark.parametrize(
    ("values", "stream"),
    [
        ({"soaked_in": "mineral oil", "asbestos": "found"}, "asbestos-board"),
        ({"soaked_in": "mineral oil", "lead": "found"}, "dust-paint"),
        ({"soaked_in": "drying oil", "lead": "found"}, "rag-drying"),
    ],
)
def test_findings_on_rags_count_for_more_than_oil_but_not_than_fire(judge, values, stream):
    assert judge(kind="rag-oily", **values).stream == stream


def test_rags_of_unknown_kind_that_are_clean_are_clean(judge):
    assert judge(kind="rag-unknown", soaked_in="clean").stream == "rag-clean"


@pytest.mark.parametrize(
    ("flash", "stream"),
    [(59.9, "diesel"), (60.0, "diesel-high-flash"), (74.0, "diesel-high-flash")],
)
def test_us_law_draws_a_line_through_diesel_at_sixty_degrees(judge, flash, stream):
    found = judge("us-federal", kind="old-diesel", flash_point_c=flash)
    assert (found.stream, found.assumed) == (stream, False)


def test_diesel_without_a_flash_point_is_ignitable_until_somebody_knows(judge):
    found = judge("us-federal", kind="old-diesel")
    assert (found.stream, found.assumed) == ("diesel", True)
    assert found.questions[0].field == "flash_point_c"


def test_the_european_list_asks_no_flash_point_of_diesel(judge):
    assert judge("eu", kind="old-diesel").questions == ()
    assert judge("eu", kind="old-diesel", flash_point_c=80.0).stream == "diesel"


@pytest.mark.parametrize("kind", ["battery-lead-acid", "battery-agm", "battery-gel"])
def test_every_lead_battery_is_lead_acid_and_a_leak_is_asked_for(judge, kind):
    found = judge(kind=kind)
    assert found.stream == "lead-acid"
    assert (found.assumed, found.questions[0].field) == (True, "leaking")
    assert not judge(kind=kind, leaking=False).assumed


def test_a_leak_stands_in_the_reason(judge):
    assert judge(kind="battery-gel", leaking=True).reason.endswith(", leaking.")
    assert "leaking" not in judge(kind="battery-gel", leaking=False).reason


def test_a_lithium_battery_is_damaged_unless_somebody_says_that_it_is_not(judge):
    assert judge(kind="battery-lithium", damaged=False, leaking=False).stream == "lithium"
    assert judge(kind="battery-lithium", damaged=True).stream == "lithium-damaged"
    assert judge(kind="battery-lithium", leaking=False).stream == "lithium-damaged"
    assert judge(kind="battery-lithium", leaking=True).stream == "lithium-damaged"
    unseen = judge(kind="battery-lithium")
    assert (unseen.stream, unseen.assumed) == ("lithium-damaged", True)
    assert "not looked at" in unseen.reason


@pytest.mark.parametrize(
    ("values", "stream", "sure"),
    [
        ({"kind": "lagging-exhaust"}, "asbestos", False),
        ({"kind": "lagging-exhaust", "asbestos": "found"}, "asbestos", True),
        ({"kind": "lagging-exhaust", "asbestos": "not found"}, "insulation-other", True),
        ({"kind": "gasket-old"}, "asbestos-board", False),
        ({"kind": "hull-insulation", "asbestos": "found"}, "asbestos", True),
        ({"kind": "engine", "asbestos": "found"}, "asbestos-board", True),
        ({"kind": "engine"}, "metal-dirty", False),
        ({"kind": "engine", "soaked_in": "clean"}, "metal", True),
        ({"kind": "engine", "soaked_in": "mineral oil"}, "metal-dirty", True),
        ({"kind": "hull-plate"}, "metal-painted", False),
        ({"kind": "hull-plate", "lead": "not found"}, "metal", True),
        ({"kind": "hose-fuel"}, "plastic-dirty", False),
        ({"kind": "hose-fuel", "soaked_in": "clean"}, "hose", True),
        ({"kind": "hose-raw-water"}, "hose", True),
        ({"kind": "hose-raw-water", "soaked_in": "mineral oil"}, "plastic-dirty", True),
        ({"kind": "cushion", "soaked_in": "fuel"}, "rag-solvent", True),
        ({"kind": "curtain", "soaked_in": "drying oil"}, "rag-drying", True),
        ({"kind": "panel-ply", "lead": "found"}, "timber-treated", True),
        ({"kind": "panel-ply", "lead": "not found"}, "timber", True),
        ({"kind": "dust-paint", "lead": "not found"}, "dust-paint-no-lead", True),
        ({"kind": "dust-paint", "asbestos": "found", "lead": "not found"}, "asbestos", True),
        ({"kind": "cells-alkaline", "leaking": False}, "alkaline", True),
        ({"kind": "battery-unknown", "leaking": False}, "battery-unknown", False),
        ({"kind": "flare-unknown"}, "flare-unknown", False),
    ],
)
def test_an_answer_moves_an_item_to_the_stream_it_belongs_to(judge, values, stream, sure):
    found = judge(**values)
    assert (found.stream, not found.assumed) == (stream, sure)
    assert bool(found.questions) is not sure


def test_oil_filters_are_asked_for_draining_only_where_it_matters(judge):
    assert judge("eu", kind="oil-filter").questions == ()
    assert judge("us-federal", kind="oil-filter").questions[0].field == "drained"
    assert judge("us-federal", kind="oil-filter", drained=True).stream == "filter-oil-drained"
    assert judge("us-federal", kind="oil-filter", drained=False).stream == "filter-oil"


def test_coolant_is_asked_for_lead_only_under_us_law(judge):
    assert judge("eu", kind="coolant").questions == ()
    assert judge("us-federal", kind="coolant").questions[0].field == "lead"
    assert judge("us-federal", kind="coolant", lead="not found").stream == "coolant-tested"


def test_what_has_no_kind_is_unsorted_and_asked_for(judge):
    found = judge()
    assert (found.stream, found.assumed, found.questions[0].field) == ("unsorted", True, "kind")
    newer = judge(kind="from-a-newer-phone")
    assert "from-a-newer-phone" in newer.reason


def test_asbestos_found_on_something_unsorted_is_asbestos(judge):
    found = judge(asbestos="found")
    assert (found.stream, found.assumed) == ("asbestos-board", True)
    assert found.reason == "It has no kind yet; asbestos found."
