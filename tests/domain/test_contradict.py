"""Answers that can't both be right: said plainly, assumed at their worst, never milder."""

import datetime
import json
from pathlib import Path

import pytest

from shedtally.domain.records import Item
from shedtally.domain.waste.classify import classify
from shedtally.domain.waste.contradict import contradictions_of
from shedtally.rules.phone_waste import waste_for_phone

VECTORS = json.loads(
    (Path(__file__).parents[2] / "fixtures/contract/contradictions.json").read_text("utf-8")
)


@pytest.mark.parametrize("case", VECTORS["cases"], ids=lambda case: case["name"])
def test_the_phone_and_the_server_see_the_same(case, rules):
    found = contradictions_of(Item(key="k", **case["values"]), case["stream"], rules)
    assert [row.field for row in found] == case["fields"]


def test_the_rows_of_the_fixture_are_those_of_the_rules(rules):
    assert json.loads(json.dumps(waste_for_phone(rules)["contradictions"])) == VECTORS["rows"]


@pytest.mark.parametrize(
    ("values", "stream", "said"),
    [
        ({"kind": "oil-filter", "drained": True, "leaking": True}, "filter-oil", "leak"),
        ({"kind": "aerosol-can", "emptied": True, "leaking": True}, "aerosol", "what leaks"),
        ({"kind": "adhesive", "cured": True, "leaking": True}, "adhesive-wet", "not cured"),
        ({"kind": "old-diesel", "flash_point_c": -20}, "fuel-mixed", "not of diesel"),
        ({"kind": "old-diesel", "liquid": "petrol"}, "petrol", "answer says petrol"),
        ({"kind": "engine-oil", "liquid": "solvent"}, "oil-halogen", "answer says solvent"),
        ({"kind": "extinguisher-powder", "filling": "halon"}, "extinguisher-halon", "says halon"),
        ({"kind": "ballast-lead", "lead": "not found"}, "lead", "made of lead"),
    ],
)
def test_a_contradiction_is_asked_about_with_what_to_do(values, stream, said, rules):
    found = classify(Item(key="k", **values), rules, rules.rule_sets["us-federal"])
    assert (found.stream, found.assumed) == (stream, True)
    (question,) = [one for one in found.questions if said in one.ask]
    assert question.ask.count(".") >= 2


def test_no_contradiction_makes_anything_milder(rules):
    day = datetime.date(2027, 1, 1)
    for law in rules.rule_sets.values():
        for own, rows in rules.contradictions.items():
            for row in rows:
                if row.stream and (not row.streams or own in row.streams):
                    before = law.entry(own, "business", day).hazardous
                    assert law.entry(row.stream, "business", day).hazardous or not before
