"""What two people write without sight of each other is kept, listed and settled by hand."""

from __future__ import annotations

import pytest


@pytest.fixture
def item(phone, boat, new_id) -> str:
    """An item that both phones know: cursor 2."""
    key = new_id()
    phone.push(boat, [phone.change("item", key, name="pump", condition="unknown")])
    return key


@pytest.fixture
def other(pair):
    return pair(name="other phone")


def clashes(phone, boat: str) -> list[tuple]:
    found = phone.http.get(f"/api/boats/{boat}/clashes").json
    return [(one["field"], one["kept"]["value"], one["lost"]["value"]) for one in found]


def test_value_written_over_unseen_is_listed_with_both_sides(phone, other, boat, item, clock):
    phone.push(boat, [phone.change("item", item, base=2, condition="sound")])
    clock.ms += 1000
    other.push(boat, [other.change("item", item, base=2, condition="failed")])
    (clash,) = phone.http.get(f"/api/boats/{boat}/clashes").json
    assert (clash["table"], clash["key"], clash["field"]) == ("item", item, "condition")
    assert (clash["kept"]["value"], clash["kept"]["device"]) == ("failed", other.device)
    assert (clash["lost"]["value"], clash["lost"]["device"]) == ("sound", phone.device)
    assert clash["cursor"] == 4


def test_value_that_arrives_late_and_loses_is_listed_too(phone, other, boat, item, clock) -> None:
    late = other.change("item", item, base=2, condition="failed")
    clock.ms += 1000
    phone.push(boat, [phone.change("item", item, base=2, condition="sound")])
    other.push(boat, [late])
    assert clashes(phone, boat) == [("condition", "sound", "failed")]


def test_value_written_over_in_full_sight_is_no_clash(phone, other, boat, item, clock) -> None:
    phone.push(boat, [phone.change("item", item, base=2, condition="sound")])
    clock.ms += 1000
    other.push(boat, [other.change("item", item, base=3, condition="failed")])
    assert clashes(phone, boat) == []


def test_same_value_from_two_phones_is_no_clash(phone, other, boat, item) -> None:
    for one in (phone, other):
        one.push(boat, [one.change("item", item, base=2, condition="worn", count=1)])
    assert clashes(phone, boat) == []


def test_yes_and_one_are_different_values(phone, other, boat, item) -> None:
    phone.push(boat, [phone.change("item", item, base=2, unknown=True)])
    other.push(boat, [other.change("item", item, base=2, unknown=1)])
    assert len(clashes(phone, boat)) == 1


def test_different_fields_are_no_clash(phone, other, boat, item) -> None:
    phone.push(boat, [phone.change("item", item, base=2, condition="worn")])
    other.push(boat, [other.change("item", item, base=2, fate="renew")])
    assert clashes(phone, boat) == []


def test_own_earlier_value_is_no_clash(phone, boat, item, clock) -> None:
    for condition in ("worn", "failed", "sound"):
        clock.ms += 1000
        phone.push(boat, [phone.change("item", item, base=2, condition=condition)])
    assert clashes(phone, boat) == []


def test_change_of_somebody_who_saw_the_clash_settles_it(phone, other, boat, item) -> None:
    phone.push(boat, [phone.change("item", item, base=2, condition="sound")])
    other.push(boat, [other.change("item", item, base=2, condition="failed")])
    phone.push(boat, [phone.change("item", item, base=3, note="had not seen it")])
    assert len(clashes(phone, boat)) == 1
    phone.push(boat, [phone.change("item", item, base=4, note="another field")])
    assert len(clashes(phone, boat)) == 1
    phone.push(boat, [phone.change("item", item, base=4, condition="failed")])
    assert clashes(phone, boat) == []


def test_repeated_push_lists_no_clash_twice(phone, other, boat, item) -> None:
    phone.push(boat, [phone.change("item", item, base=2, condition="sound")])
    batch = [other.change("item", item, base=2, condition="failed")]
    for _ in range(3):
        other.push(boat, batch)
    assert len(clashes(phone, boat)) == 1


def test_one_tag_on_two_items_keeps_both_and_lists_one_clash(phone, other, boat, new_id) -> None:
    mine, theirs, code = new_id(), new_id(), "0016JD"
    for one, item in ((phone, mine), (other, theirs)):
        one.push(
            boat,
            [
                one.change("item", item, base=1, name=f"of {one.device}"),
                one.change("tag", code, base=1, on=f"item/{item}"),
            ],
        )
    (clash,) = phone.http.get(f"/api/boats/{boat}/clashes").json
    assert (clash["table"], clash["key"], clash["field"]) == ("tag", code, "on")
    both = {clash["kept"]["value"], clash["lost"]["value"]}
    assert both == {f"item/{mine}", f"item/{theirs}"}
    kept = {one["key"] for one in phone.pull_all(boat) if one["table"] == "item"}
    assert kept == {mine, theirs}


def test_base_beyond_the_log_counts_as_having_seen_nothing(phone, other, boat, item, clock) -> None:
    phone.push(boat, [phone.change("item", item, base=2, condition="sound")])
    clock.ms += 1000
    other.push(boat, [other.change("item", item, base=999, condition="failed")])
    assert ("condition", "failed", "sound") in clashes(phone, boat)


def test_binning_what_somebody_works_on_unseen_is_a_clash(phone, other, boat, item, clock) -> None:
    phone.push(boat, [phone.change("item", item, base=2, note="cleaned it")])
    clock.ms += 1000
    other.push(boat, [other.change("item", item, base=2, binned=True)])
    assert clashes(phone, boat) == [("binned", True, False)]


def test_work_on_what_was_binned_unseen_is_a_clash_and_the_later_stands(
    phone, other, boat, item, clock
) -> None:
    other.push(boat, [other.change("item", item, base=2, binned=True)])
    clock.ms += 1000
    phone.push(boat, [phone.change("item", item, base=2, note="cleaned it")])
    assert clashes(phone, boat) == [("binned", False, True)]


def test_work_older_than_an_unseen_binning_is_a_clash_and_the_bin_stands(
    phone, other, boat, item, clock
) -> None:
    older = phone.change("item", item, base=2, note="cleaned it")
    clock.ms += 1000
    other.push(boat, [other.change("item", item, base=2, binned=True)])
    phone.push(boat, [older])
    assert clashes(phone, boat) == [("binned", True, False)]


def test_binning_in_full_sight_is_no_clash(phone, other, boat, item) -> None:
    other.push(boat, [other.change("item", item, base=2, binned=True)])
    assert clashes(phone, boat) == []


def test_both_binning_is_no_clash(phone, other, boat, item) -> None:
    for one in (phone, other):
        one.push(boat, [one.change("item", item, base=2, binned=True)])
    assert clashes(phone, boat) == []


def test_clashes_of_an_unknown_boat_are_told(phone, new_id) -> None:
    assert phone.http.get(f"/api/boats/{new_id()}/clashes").status_code == 404
