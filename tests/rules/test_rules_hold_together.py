"""The rules data: every row has a source, everything refers to something, every day has a code."""

import copy
import datetime
import json
import re
import shutil
import tomllib

import pytest

from shedtally.domain.records import Item
from shedtally.domain.records.shape import fields_of
from shedtally.rules import read
from shedtally.rules.check import BadRules
from shedtally.rules.load import FOLDER, build, load, rules_for_phone

RULES = load()
SYSTEMS = [
    "fuel",
    "raw-water",
    "fresh-water",
    "sanitation",
    "dc",
    "ac",
    "propulsion",
    "steering",
    "gas",
    "heating",
    "deck",
    "rig",
    "joinery",
    "hull",
    "safety",
    "electronics",
]


@pytest.fixture
def docs():
    """The documents as they stand, to be spoiled one value at a time."""
    return {
        path.relative_to(FOLDER).as_posix(): tomllib.loads(path.read_text("utf-8"))
        for path in FOLDER.rglob("*.toml")
    }


def refused(docs, message):
    with pytest.raises(BadRules, match=re.escape(message)):
        build(docs, {})


def row(docs, name, table, key, value):
    return next(one for one in docs[name][table] if one[key] == value)


def test_the_sixteen_systems_are_there_in_their_order():
    assert list(RULES.systems) == SYSTEMS


def test_there_are_at_least_a_hundred_kinds_and_some_of_every_system():
    assert len(RULES.kinds) >= 100
    assert {kind.system for kind in RULES.kinds.values()} == set(SYSTEMS)


def test_ids_are_kebab_case_words():
    ids = [*RULES.systems, *RULES.kinds, *RULES.materials, *RULES.streams, *RULES.rule_sets]
    assert [one for one in ids if not re.fullmatch("[a-z0-9]+(-[a-z0-9]+)*", one)] == []


@pytest.mark.parametrize(
    "kind",
    [
        "rag-oily",
        "rag-drying-oil",
        "rag-solvent",
        "old-diesel",
        "old-petrol",
        "bilge-water-oily",
        "coolant",
        "engine-oil",
        "oil-filter",
        "fuel-filter-element",
        "battery-lead-acid",
        "battery-agm",
        "battery-gel",
        "battery-lithium",
        "battery-nicd",
        "cells-alkaline",
        "flare-hand",
        "flare-parachute",
        "flare-smoke",
        "flare-cartridge",
        "beacon-distress",
        "extinguisher-halon",
        "gas-cylinder",
        "paint-can",
        "dust-antifouling",
        "dust-paint",
        "lagging-exhaust",
        "glycol-winter",
        "smoke-alarm",
        "fridge-unit",
        "thermostat-mercury",
        "lamp-fluorescent",
    ],
)
def test_the_dangerous_kinds_are_known_and_carry_a_caution(kind):
    found = RULES.kinds[kind]
    assert found.cautions
    assert RULES.streams[found.waste].keep_in


@pytest.mark.parametrize("part", ["hose-", "cable-"])
def test_every_hose_and_cable_is_a_run_and_always_renewed(part):
    kinds = [kind for kind in RULES.kinds.values() if kind.id.startswith(part)]
    kinds = [kind for kind in kinds if kind.id not in {"hose-clamp", "hose-tail", "cable-terminal"}]
    assert len(kinds) > 3
    assert all(kind.is_run and kind.always_renewed and kind.section for kind in kinds)
    assert all(kind.default_fate == "renew" for kind in kinds)
    assert all({"size", "length_mm"} <= set(kind.prompts) for kind in kinds)


@pytest.mark.parametrize("kind", ["seacock", "skin-fitting", "hose-clamp", "anode", "stern-gland"])
def test_skin_fittings_clamps_anodes_and_seals_are_always_renewed(kind):
    assert RULES.kinds[kind].always_renewed


def test_residues_have_the_fate_waste_and_are_never_renewed():
    for kind in RULES.kinds.values():
        if kind.always_waste:
            assert (kind.default_fate, kind.always_renewed) == ("waste", False), kind.id


def test_every_row_names_a_source_and_no_source_stands_idle(docs):
    tables = [
        ("materials.toml", "material", "sources"),
        ("streams.toml", "stream", "sources"),
        ("sets/eu.toml", "entry", "sources"),
        ("sets/us-federal.toml", "entry", "sources"),
        ("sizes.toml", "hose", "source"),
        ("sizes.toml", "clamp", "source"),
        ("trust.toml", "trust", "source"),
        ("cautions.toml", "caution", "source"),
        ("renewing.toml", "standard", "sources"),
        *((f"kinds/{system}.toml", "kind", "mass_source") for system in SYSTEMS),
    ]
    weightless = {"density", "kg_per_wh"}
    for name, table, field in tables:
        for one in docs[name][table]:
            if name == "materials.toml" and not weightless & set(one):
                continue
            assert one.get(field), (name, one)


def test_a_source_that_was_read_says_where_and_when():
    for source in RULES.sources.values():
        seen = source.standing in ("seen", "reproduced")
        assert bool(source.where) is seen or source.standing == "from memory", source.key
        assert (source.read is not None) is seen, source.key


def test_a_row_that_leans_on_memory_is_marked_so():
    for stream in RULES.streams.values():
        assert stream.from_memory is ("memory" in stream.sources), stream.id
    for rule_set in RULES.rule_sets.values():
        for rows in rule_set.entries.values():
            for entry in rows:
                assert entry.from_memory or "memory" not in entry.sources, entry


def test_hoses_go_from_small_to_large_and_their_walls_hold_their_bore():
    bores = [hose.bore_mm for hose in RULES.sizes.hoses]
    assert bores == sorted(bores)
    assert all(hose.outside_mm.low > hose.bore_mm for hose in RULES.sizes.hoses)


def test_every_usual_hose_has_a_clamp_that_closes_on_it():
    for hose in RULES.sizes.hoses:
        assert any(
            clamp.closed_mm <= hose.outside_mm.likely <= clamp.open_mm
            for clamp in RULES.sizes.clamps
        ), hose.shown


def test_the_phone_gets_what_it_needs_as_plain_json():
    sent = json.loads(json.dumps(rules_for_phone(RULES)))
    assert sent["version"] == RULES.version
    assert [row["id"] for row in sent["systems"]] == SYSTEMS
    assert {row["id"] for row in sent["rule_sets"]} == {"eu", "gb", "us-federal", "ca-bc"}
    assert len(sent["kinds"]) == len(RULES.kinds)
    assert set(sent["kinds"][0]) == {
        "id",
        "name",
        "system",
        "words",
        "usual_in",
        "default_fate",
        "is_run",
        "make_safe",
        "cautions",
        "prompts",
        "material",
        "waste",
    }
    assert all(set(kind["prompts"]) <= set(fields_of(Item)) for kind in sent["kinds"])
    assert sent["materials"][0].keys() == {"id", "name"}


def test_the_version_changes_with_the_data_and_only_with_it(tmp_path):
    shutil.copytree(FOLDER, tmp_path / "rules")
    same = load(tmp_path / "rules")
    assert same.version == RULES.version
    shutil.copytree(FOLDER, tmp_path / "other")
    with (tmp_path / "other" / "trust.toml").open("a", encoding="utf-8") as file:
        file.write("# a remark\n")
    assert load(tmp_path / "other").version != RULES.version


def test_the_data_as_it_stands_is_accepted(docs):
    assert build(docs, {}).kinds == RULES.kinds


@pytest.mark.parametrize(
    ("place", "value", "message"),
    [
        (("kinds/fuel.toml", "kind", "id", "fuel-tank", "material"), "unobtainium", "material"),
        (("kinds/fuel.toml", "kind", "id", "fuel-tank", "waste"), "limbo", "stream"),
        (("kinds/fuel.toml", "kind", "id", "fuel-tank", "default_fate"), "burn", "fate"),
        (("kinds/fuel.toml", "kind", "id", "hose-fuel", "section"), "square", "section"),
        (("kinds/fuel.toml", "kind", "id", "fuel-tank", "prompts"), ["colour"], "prompt"),
        (("kinds/fuel.toml", "kind", "id", "fuel-tank", "make_safe"), ["deck"], "make safe"),
        (("kinds/fuel.toml", "kind", "id", "fuel-tank", "cautions"), ["boo"], "no caution is"),
        (("kinds/fuel.toml", "kind", "id", "fuel-tank", "mass_kg"), [9, 2, 3], "low, likely"),
        (("kinds/fuel.toml", "kind", "id", "fuel-tank", "mass_kg"), [-1, 2, 3], "low, likely"),
        (("kinds/fuel.toml", "kind", "id", "fuel-tank", "mass_kg"), [2, 3], "low, likely"),
        (("kinds/fuel.toml", "kind", "id", "fuel-tank", "mass_source"), "X9", "not in sources"),
        (("kinds/fuel.toml", "kind", "id", "fuel-tank", "id"), "fuel-cock", "there twice"),
        (("streams.toml", "stream", "id", "metal", "if_soaked"), "limbo", "stream"),
        (("streams.toml", "stream", "id", "metal", "sources"), ["X9"], "not in sources"),
        (("streams.toml", "stream", "id", "metal", "id"), "scrap", "stream"),
        (("sources.toml", "source", "key", "E1", "standing"), "hearsay", "standing"),
        (
            ("renewing.toml", "standard", "ask_for", "ISO 10592, pressure of the pump", "kinds"),
            ["hose-garden"],
            "standard",
        ),
        (("trust.toml", "trust", "how", "weighed", "how"), "sniffed", "trust"),
        (("sizes.toml", "hose", "bore_mm", 9.5, "bore_mm"), 99.0, "small to large"),
        (("sets/eu.toml", "entry", "stream", "petrol", "holder"), "museum", "without a code"),
        (("sets/eu.toml", "entry", "stream", "petrol", "code"), "99 99 99", "without a title"),
    ],
)
def test_a_spoiled_value_is_refused(docs, place, value, message):
    name, table, key, which, field = place
    row(docs, name, table, key, which)[field] = value
    refused(docs, message)


def test_a_question_about_a_field_that_does_not_exist_is_refused(docs):
    stream = row(docs, "streams.toml", "stream", "id", "diesel")
    stream["ask"][0]["field"] = "smell"
    refused(docs, "stream diesel: field: smell")


def test_a_question_for_an_unknown_rule_set_is_refused(docs):
    stream = row(docs, "streams.toml", "stream", "id", "diesel")
    stream["ask"][0]["only_in"] = ["atlantis"]
    refused(docs, "stream diesel: rule set: atlantis")


def test_codes_of_an_unknown_stream_are_refused(docs):
    entries = docs["sets/eu.toml"]["entry"]
    entries.append({**copy.deepcopy(entries[0]), "stream": "ghost"})
    refused(docs, "codes of no stream")


def test_a_code_that_starts_only_some_day_is_refused(docs):
    row(docs, "sets/eu.toml", "entry", "stream", "petrol")["valid_from"] = datetime.date(2026, 1, 1)
    refused(docs, "no first entry")


def test_two_codes_for_one_day_are_refused(docs):
    docs["sets/eu.toml"]["entry"].append(row(docs, "sets/eu.toml", "entry", "stream", "petrol"))
    refused(docs, "two for one day")


def test_a_source_that_nothing_cites_is_refused(docs):
    docs["sources.toml"]["source"].append({"key": "ZZ", "title": "idle", "standing": "judgement"})
    refused(docs, "sources that nothing cites: ZZ")


def test_an_unknown_key_in_a_row_is_refused():
    with pytest.raises(TypeError, match="colour"):
        read.system({"id": "fuel", "name": "Fuel", "colour": "red"})


def test_a_stream_in_two_groups_or_signs_of_nothing_are_refused(docs):
    docs["groups.toml"]["group"][0]["streams"].append("petrol")
    refused(docs, "streams in two groups: petrol")


def test_signs_of_an_unknown_stream_are_refused(docs):
    docs["signs.toml"]["sign"][0]["streams"].append("plasma")
    refused(docs, "signs: stream: plasma")


def test_each_survey_can_begin_a_walk_round():
    """Every template has compartments below others only, and orders that apply to its items."""
    assert set(RULES.surveys) == {"day-boat", "sailing-cruiser", "motor-cruiser", "work-boat"}
    offered = {kind for order in RULES.orders for kind in order.then}
    for survey in RULES.surveys.values():
        kinds = {kind for place in survey.compartments for kind, _ in place.likely}
        assert len(survey.compartments) >= 9
        assert kinds & offered
        assert {place.level for place in survey.compartments} >= {"deck", "cabin", "under sole"}
        assert len(survey.orders) >= 5


def test_an_order_of_a_survey_on_nothing_or_in_a_ring_is_refused(docs):
    survey = docs["surveys.toml"]["survey"][0]
    survey["orders"].append(["mast/mast", "mast/flagpole", "made up"])
    refused(docs, "order: compartment/kind: mast/flagpole")
    survey["orders"][-1] = ["mast/mast", "mast/sail", "made up"]
    refused(docs, "orders in a ring")
