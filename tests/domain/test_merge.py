"""Merging, held to the vectors that the phone's tests run too."""

from __future__ import annotations

import itertools
import json
from pathlib import Path

import pytest

from shedtally.domain.sync import merge
from shedtally.domain.sync.change import parse

CASES = json.loads(
    (Path(__file__).parents[2] / "fixtures/contract/merge.json").read_text(encoding="utf-8")
)["cases"]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_vector_in_every_order(case: dict) -> None:
    changes = [parse(sent) for sent in case["changes"]]
    for order in itertools.permutations(changes):
        state = merge.replay(order)
        assert state.values == case["values"]
        versions = {
            field: [version.stamp, version.device, version.change]
            for field, version in state.versions.items()
        }
        assert versions == case["versions"]
        assert merge.is_binned(state) is case["binned"]


def test_shown_values_say_not_binned_when_an_edit_brought_the_record_back() -> None:
    case = next(case for case in CASES if case["name"].startswith("an edit later than"))
    shown = merge.shown(merge.replay(parse(sent) for sent in case["changes"]))
    assert shown == {"name": "seacock", "binned": False, "condition": "sound"}


def test_a_record_that_was_never_binned_shows_no_such_field() -> None:
    shown = merge.shown(merge.replay(parse(sent) for sent in CASES[1]["changes"]))
    assert "binned" not in shown
