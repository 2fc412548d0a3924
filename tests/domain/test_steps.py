"""The open work as steps; the cases are those that the phone's copy is held to."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from shedtally.domain.boat import from_values
from shedtally.domain.work.left import waits_for
from shedtally.domain.work.steps import opened, steps_of
from shedtally.rules.load import rules_for_phone

VECTORS = json.loads(
    (Path(__file__).parents[2] / "fixtures/contract/steps.json").read_text(encoding="utf-8")
)


@pytest.mark.parametrize("case", VECTORS["cases"], ids=lambda case: case["name"])
def test_work_waits_for_what_the_fixture_says(case, rules):
    boat = from_values("boat", [tuple(row) for row in case["rows"]])
    assert waits_for(steps_of(boat, rules)) == {
        target: tuple(words) for target, words in case["waits"].items()
    }


def test_the_rules_of_the_fixture_are_those_that_phones_get(rules):
    sent = rules_for_phone(rules)
    assert VECTORS["rules"]["spark_tasks"] == sent["spark_tasks"]
    for name in ("systems", "kinds"):
        known = {row["id"]: row for row in sent[name]}
        for row in VECTORS["rules"][name]:
            assert row.items() <= known[row["id"]].items()


def test_what_a_step_opens_is_seen_through_the_gate_of_a_compartment(items, rules):
    boat = items(
        ("compartment", "bilge", {"name": "Bilge"}),
        ("before", "o", {"first": "item/board", "then": "compartment/bilge"}),
        board={"kind": "sole-board"},
        tank={"kind": "water-tank", "compartment": "bilge"},
        ballast={"kind": "ballast-lead", "compartment": "bilge"},
    )
    assert set(opened(steps_of(boat, rules), "item/board")) == {"item/tank", "item/ballast"}
