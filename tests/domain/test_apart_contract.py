"""What may not share a container, and which stream an item is of: the phone judges as the server.

`fixtures/contract/apart.json` is run here and by `pwa/src/domain/apart.test.ts`.
"""

import importlib.util
import json
from pathlib import Path

import pytest

from shedtally.domain.records import Item
from shedtally.domain.waste.apart import may_share
from shedtally.domain.waste.classify import classify
from shedtally.rules.load import load

FOLDER = Path(__file__).parents[2] / "fixtures/contract"
DOC = json.loads((FOLDER / "apart.json").read_text("utf-8"))
RULES = load()


def test_the_fixture_is_that_of_the_rules_as_they_are() -> None:
    spec = importlib.util.spec_from_file_location("make_apart", FOLDER / "make_apart.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    assert (FOLDER / "apart.json").read_text("utf-8") == module.text(), (
        "make it anew: python fixtures/contract/make_apart.py"
    )


def test_it_has_cases_of_every_sort() -> None:
    assert len(DOC["cases"]) > 200
    assert {sign for row in DOC["pairs"] for sign in row} == {".", "x", "o"}


@pytest.mark.parametrize("rule_set", sorted({case[2] for case in DOC["cases"]}))
def test_an_item_is_of_the_stream_that_the_fixture_says(rule_set: str) -> None:
    for kind, said, asked, stream in DOC["cases"]:
        if asked == rule_set:
            item = Item(key="i", kind=kind, **said)
            assert classify(item, RULES, RULES.rule_sets[rule_set]).stream == stream, (kind, said)


def test_two_streams_share_a_container_as_the_fixture_says() -> None:
    names = [stream["id"] for stream in DOC["streams"]]
    for one, row in zip(names, DOC["pairs"], strict=True):
        for other, sign in zip(names, row, strict=True):
            ban = may_share(RULES, one, other, "container")
            assert sign == ("." if ban is None else "o" if ban.only_if else "x"), (one, other)
