"""Stamps, held to the vectors that the phone's tests run too."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from shedtally.domain.sync import stamp

VECTORS = json.loads(
    (Path(__file__).parents[2] / "fixtures/contract/stamp.json").read_text(encoding="utf-8")
)


@pytest.mark.parametrize("case", VECTORS["make"], ids=lambda case: case["stamp"])
def test_stamp_is_milliseconds_then_counter_in_hexadecimal(case: dict) -> None:
    assert stamp.make(case["ms"], case["counter"]) == case["stamp"]
    assert stamp.ms_of(case["stamp"]) == case["ms"]
    assert stamp.counter_of(case["stamp"]) == case["counter"]


@pytest.mark.parametrize("case", VECTORS["is_stamp"], ids=lambda case: repr(case["text"]))
def test_only_sixteen_lower_case_digits_are_a_stamp(case: dict) -> None:
    assert stamp.is_stamp(case["text"]) is case["is"]


def test_what_is_no_text_is_no_stamp() -> None:
    assert not stamp.is_stamp(1)


@pytest.mark.parametrize("case", VECTORS["following"], ids=lambda case: case["why"])
def test_next_stamp_is_above_all_that_was_seen(case: dict) -> None:
    found = stamp.following(case["seen"], case["now_ms"])
    assert found == case["next"]
    assert found > case["seen"]


@pytest.mark.parametrize("case", VECTORS["too_far_ahead"], ids=lambda case: case["why"])
def test_only_more_than_five_minutes_ahead_is_too_far(case: dict) -> None:
    assert stamp.is_too_far_ahead(case["stamp"], case["now_ms"]) is case["is"]


def test_stamps_in_ascending_order_are_ascending_as_text_and_as_time() -> None:
    ascending = VECTORS["ascending"]
    assert sorted(ascending) == ascending
    times = [(stamp.ms_of(one), stamp.counter_of(one)) for one in ascending]
    assert sorted(times) == times


@pytest.mark.parametrize(("ms", "counter"), [(-1, 0), (2**48, 0), (0, -1), (0, 65_536)])
def test_no_stamp_is_made_outside_the_range(ms: int, counter: int) -> None:
    with pytest.raises(ValueError, match="no stamp"):
        stamp.make(ms, counter)
