"""The waste list: what stands on it, in which stream, and how much of it."""

import datetime

import pytest

from shedtally.domain.errors import NoSuchRuleSet
from shedtally.domain.waste.box import day_of


def ids(found):
    return [row.id for row in found.streams]


def test_a_rule_set_without_data_is_refused(waste):
    with pytest.raises(NoSuchRuleSet):
        waste(law="atlantis", rags={"kind": "rag-oily"})


@pytest.mark.parametrize("fate", ["scrap", "waste", "renew"])
def test_what_is_given_up_stands_on_the_list(waste, fate):
    assert ids(waste(it={"kind": "battery-agm", "fate": fate})) == ["lead-acid"]


@pytest.mark.parametrize("fate", ["scrap", "waste", "renew"])
@pytest.mark.parametrize("where", ["aboard", "ashore", None])
def test_harmless_things_that_are_given_up_stand_there_too_wherever_they_are(waste, fate, where):
    found = waste(it={"kind": "winch", "fate": fate, "whereabouts": where})
    assert ids(found) == ["metal"]


@pytest.mark.parametrize("fate", ["refit", "sell"])
@pytest.mark.parametrize("kind", ["battery-agm", "hose-fuel", "paint-can"])
def test_what_goes_back_or_is_sold_stays_off_the_list(waste, kind, fate):
    assert ids(waste(it={"kind": kind, "fate": fate, "whereabouts": "ashore"})) == []


@pytest.mark.parametrize("fate", [None, "undecided"])
def test_a_hazard_ashore_that_nobody_decided_on_counts_and_is_asked_for(waste, fate):
    found = waste(it={"kind": "battery-agm", "fate": fate, "whereabouts": "ashore"})
    (line,) = found.streams[0].items
    assert line.assumed
    assert line.reason.endswith("Not yet decided.")
    assert [q.field for q in found.questions] == ["leaking", "fate"]


def test_a_hazard_of_which_nobody_said_where_it_is_counts(waste):
    assert ids(waste(it={"kind": "battery-agm"})) == ["lead-acid"]


def test_what_is_known_to_be_aboard_and_undecided_is_no_waste_yet(waste):
    assert ids(waste(it={"kind": "battery-agm", "whereabouts": "aboard"})) == []


def test_harmless_things_that_nobody_decided_on_are_no_waste_yet(waste):
    assert ids(waste(it={"kind": "winch", "whereabouts": "ashore"}, other={})) == []


def test_an_old_hose_ashore_is_waste_because_hoses_are_always_renewed(waste):
    found = waste(it={"kind": "hose-gas", "whereabouts": "ashore"})
    (line,) = found.streams[0].items
    assert (found.streams[0].id, line.assumed, found.questions) == ("hose", False, ())


@pytest.mark.parametrize("where", ["aboard", "ashore", None])
def test_residues_are_waste_wherever_they_are(waste, where):
    assert ids(waste(it={"kind": "old-diesel", "whereabouts": where})) == ["diesel"]
    assert ids(waste(it={"kind": "grp-offcut", "whereabouts": where})) == ["grp"]


def test_something_without_a_kind_that_is_thrown_away_is_taken_for_hazardous(stream):
    found = stream(fate="waste")
    assert (found.id, found.hazardous, found.items[0].assumed) == ("unsorted", True, True)


def test_hazardous_streams_come_first(waste):
    found = waste(
        a={"kind": "winch", "fate": "scrap"},
        b={"kind": "petrol-can-of-a-newer-phone", "fate": "waste"},
        c={"kind": "rag-oily", "soaked_in": "mineral oil"},
    )
    assert [row.hazardous for row in found.streams] == [True, True, False]
    assert ids(found) == ["rag-oil", "unsorted", "metal"]


def test_a_stream_says_everything_that_the_person_at_the_bench_needs(stream):
    found = stream(kind="rag-drying-oil")
    assert (found.code, found.name) == ("15 02 02*", "Rags with drying oil")
    assert "wiping cloths" in found.code_title
    assert "under water" in found.keep_in
    assert found.cautions[0].startswith("It can catch fire by itself")
    assert found.keep_apart
    assert found.call
    assert found.transport.startswith("UN1856")
    assert any("Fire marshals" in source for source in found.sources)
    assert found.from_memory


def test_a_row_seen_in_its_source_is_not_marked_as_from_memory(stream):
    assert not stream(kind="rag-solvent").from_memory


def test_a_home_has_its_own_codes_where_there_are_any(stream):
    assert stream(holder="household", kind="engine-oil").code == "20 01 26*"
    assert stream(holder="business", kind="engine-oil").code == "13 02 08*"
    rags = stream(holder="household", kind="rag-oily", soaked_in="mineral oil")
    assert rags.code == "15 02 02*"
    assert "no entry" in rags.why


def test_a_holder_that_nobody_named_counts_as_a_business_and_is_asked_for(waste):
    found = waste(holder="", it={"kind": "engine-oil"})
    assert (found.holder, found.streams[0].code) == ("business", "13 02 08*")
    assert found.questions[0].field == "holder"


def test_us_law_asks_before_it_lets_a_home_off(waste):
    found = waste(law="us-federal", holder="household", it={"kind": "old-petrol"})
    assert "premises of a home" in found.questions[0].ask
    assert found.streams[0].hazardous
    assert "261.4(b)(1)" in found.streams[0].why
    business = waste(law="us-federal", it={"kind": "old-petrol"})
    assert [one.field for one in business.questions] == ["rule_area"]


def test_where_rules_differ_inside_their_land_the_place_is_asked_for(waste):
    def said(law, area):
        found = waste(("boat", "boat", {"rule_area": area}), law=law)
        return [one.field for one in found.questions], " ".join(found.notes)

    asked, notes = said("gb", "scotland")
    assert asked == []
    assert "special waste" in notes
    assert "Wales:" not in notes
    asked, notes = said("gb", None)
    assert asked == ["rule_area"]
    assert "Wales:" in notes
    assert "Scotland:" in notes
    assert said("gb", "atlantis")[0] == ["rule_area"]
    assert said("eu", None)[0] == []


def test_every_list_says_that_local_rules_and_licensed_firms_come_first(waste, rules):
    for law in rules.rule_sets:
        assert waste(law=law).notes[0].startswith("Local rules and licensed firms come first")


def test_the_list_carries_its_day_its_rule_set_and_the_standing_statement(waste):
    found = waste(it={"kind": "old-petrol"})
    assert (found.rule_set, found.rule_set_name) == ("eu", "European list of waste")
    assert found.dated == "2026-10-01"
    assert "worksheet, not a legal classification" in found.standing


ALKALINE = {"kind": "cells-alkaline", "leaking": False, "count": 10}


@pytest.mark.parametrize(
    ("day", "code", "hazardous"),
    [
        ("2026-12-07", "16 06 04", False),
        ("2026-12-08", "16 06 04", False),
        ("2026-12-09", "16 06 04*", True),
        ("2026-12-10", "16 06 04*", True),
    ],
)
def test_the_code_of_a_battery_goes_by_the_day_of_handover(stream, day, code, hazardous):
    found = stream(on=datetime.date.fromisoformat(day), **ALKALINE)
    assert (found.code, found.hazardous) == (code, hazardous)


@pytest.mark.parametrize(
    ("day", "doubt"),
    [("2026-11-08", False), ("2026-11-09", True), ("2026-12-08", True), ("2026-12-09", False)],
)
def test_the_doubt_about_the_day_is_shown_while_it_lasts(stream, day, doubt):
    found = stream(on=datetime.date.fromisoformat(day), **ALKALINE)
    assert ("corrigendum" in found.why) is doubt


def test_what_went_before_the_change_keeps_the_code_it_went_under(waste):
    found = waste(
        ("container", "tub", {"name": "Tub", "handover": "h"}),
        ("handover", "h", {"on": "2026-11-02T10:00:00+01:00"}),
        on=datetime.date(2026, 12, 20),
        went={**ALKALINE, "container": "tub"},
        here=ALKALINE,
    )
    assert [(row.code, row.items[0].key) for row in found.streams] == [
        ("16 06 04*", "here"),
        ("16 06 04", "went"),
    ]


def test_a_handover_without_a_day_takes_the_day_of_the_list(waste):
    found = waste(
        ("container", "tub", {"handover": "h"}),
        ("handover", "h", {"to": "the site"}),
        on=datetime.date(2026, 12, 20),
        went={**ALKALINE, "container": "tub"},
    )
    assert found.streams[0].code == "16 06 04*"
    assert found.streams[0].items[0].gone


def test_what_has_gone_is_summed_apart_from_what_is_on_site(waste):
    oil = {"kind": "engine-oil", "mass_how": "weighed"}
    found = waste(
        ("container", "drum", {"name": "Drum 1", "handover": "not-here-yet"}),
        here={**oil, "mass_kg": 4.0},
        gone={**oil, "mass_kg": 7.0, "whereabouts": "gone"},
        drum={**oil, "mass_kg": 2.0, "container": "drum"},
    )
    (row,) = found.streams
    assert (row.on_site.likely, row.gone.likely) == (4.0, 9.0)
    assert (found.on_site.likely, found.gone.likely) == (4.0, 9.0)
    assert [(line.key, line.gone) for line in row.items] == [
        ("here", False),
        ("drum", True),
        ("gone", True),
    ]
    assert row.items[1].container == "Drum 1"


def test_a_weighed_container_counts_instead_of_the_guesses_inside_it(waste):
    rags = {"kind": "rag-oily", "soaked_in": "mineral oil", "container": "can"}
    can = {"name": "Can", "stream": "rag-oil", "tare_kg": 2.0, "gross_kg": 9.5}
    found = waste(("container", "can", can), a=rags, b=rags)
    assert [line.key for line in found.streams[0].items] == ["a", "b"]
    assert found.on_site.likely == 7.5
    assert found.on_site.basis == "weighed"
    assert found.weighed_share == 1.0


@pytest.mark.parametrize(
    "can",
    [
        {"gross_kg": 9.5},
        {"tare_kg": 2.0},
        {"tare_kg": 9.0, "gross_kg": 2.0},
    ],
)
def test_a_container_that_was_not_weighed_both_ways_counts_by_what_is_inside(waste, can):
    rags = {"kind": "rag-oily", "soaked_in": "mineral oil", "container": "can"}
    found = waste(("container", "can", can), a=rags)
    assert found.on_site.likely == 1.0
    assert found.weighed_share == 0.0


def test_the_weight_of_a_mixture_is_not_divided(waste):
    can = {"name": "Can", "tare_kg": 2.0, "gross_kg": 9.5}
    found = waste(
        ("container", "can", can),
        a={"kind": "rag-oily", "soaked_in": "mineral oil", "container": "can"},
        b={"kind": "engine-oil", "volume_l": 5.0, "container": "can"},
    )
    assert found.on_site.likely == pytest.approx(1.0 + 4.4)
    assert found.questions[-1].field == "container"
    assert "can it be taken out?" in found.questions[-1].ask


def test_what_lies_in_a_container_of_another_stream_is_asked_for(waste):
    drum = ("container", "d", {"name": "Drum 2", "stream": "coolant"})
    oil = {"kind": "engine-oil", "halogens_ppm": 200, "container": "d"}
    found = waste(drum, it=oil)
    (question,) = found.questions
    assert question.ask.startswith(
        "Drum 2 holds old coolant and glycol, this belongs to old engine"
    )


def test_a_milder_stream_may_share_the_container_of_its_worse_sort(waste):
    drum = ("container", "d", {"name": "Drum 2", "stream": "coolant"})
    tested = {"kind": "coolant", "lead": "not found", "container": "d"}
    assert waste(drum, it=tested).questions == ()


def test_a_container_with_a_stream_and_nothing_recorded_inside_still_counts(waste):
    found = waste(
        ("container", "d", {"name": "Drum", "stream": "diesel", "tare_kg": 8, "gross_kg": 70}),
        ("container", "e", {"stream": "petrol"}),
        ("container", "f", {"stream": "a-newer-stream"}),
        ("container", "g", {"name": "Empty"}),
        ("tag", "K7Q4M2", {"on": "container/d"}),
    )
    diesel, petrol = found.streams
    assert (diesel.id, diesel.on_site.likely, diesel.items[0].tags) == ("diesel", 62, ("K7Q4M2",))
    assert not diesel.items[0].assumed
    assert (petrol.id, petrol.items[0].name) == ("petrol", "Container without a name")
    assert petrol.items[0].assumed


def test_an_unknown_container_is_no_container(waste):
    found = waste(it={"kind": "paint-can", "container": "not-here-yet"})
    assert found.streams[0].items[0].container is None
    assert found.questions == ()


def test_the_weighed_share_is_by_mass(waste):
    found = waste(
        a={"kind": "engine-oil", "mass_kg": 9.0, "mass_how": "weighed"},
        b={"kind": "engine-oil", "mass_kg": 1.0},
    )
    assert found.weighed_share == pytest.approx(0.9)


def test_an_empty_list_weighs_nothing(waste):
    found = waste()
    assert (found.streams, found.on_site.likely, found.weighed_share) == ((), 0, 0.0)


def test_lines_carry_tags_and_pieces(stream, waste):
    found = waste(("tag", "K7Q4M2", {"on": "item/it"}), it={"kind": "flare-hand", "count": 6})
    (line,) = found.streams[0].items
    assert (line.tags, line.count, line.name) == (("K7Q4M2",), 6, "Hand flare")


def test_a_moment_is_the_day_on_its_authors_clock():
    assert day_of("2026-12-08T23:30:00-05:00") == datetime.date(2026, 12, 8)
    assert day_of("2026-12-08") == datetime.date(2026, 12, 8)
    assert day_of(None) is None
