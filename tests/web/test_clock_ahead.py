"""A phone whose clock is wrong neither wins for ever nor loses its edits."""

from __future__ import annotations

from shedtally.domain.sync import merge, stamp
from shedtally.domain.sync.change import parse

YEAR_MS = 365 * 24 * 3600 * 1000


def record(phone, boat: str, key: str) -> dict:
    """What any phone makes of all changes of one record."""
    members = ("id", "device", "seq", "stamp", "table", "key", "set", "base")
    pulled = [one for one in phone.pull_all(boat) if one["key"] == key]
    return dict(merge.replay(parse({m: one[m] for m in members}) for one in pulled).values)


def test_five_minutes_ahead_are_believed(phone, boat, new_id) -> None:
    phone.ahead_ms = stamp.MAX_AHEAD_MS
    sent = phone.change("item", new_id(), name="pump")
    reply = phone.push(boat, [sent]).json
    assert "stamp" not in reply["results"][0]
    assert phone.pull(boat, 1).json["changes"][0]["stamp"] == sent["stamp"]


def test_stamp_from_the_future_is_brought_back_and_the_own_one_kept(phone, boat, clock, new_id):
    phone.ahead_ms = YEAR_MS
    sent = phone.change("item", new_id(), name="pump")
    result = phone.push(boat, [sent]).json["results"][0]
    assert result["outcome"] == "accepted"
    assert stamp.ms_of(result["stamp"]) == clock.ms
    pulled = phone.pull(boat, 1).json["changes"][0]
    assert pulled["stamp"] == result["stamp"]
    assert pulled["own_stamp"] == sent["stamp"]


def test_repeated_push_gets_the_same_stamp_again(phone, boat, clock, new_id) -> None:
    phone.ahead_ms = YEAR_MS
    sent = [phone.change("item", new_id(), name="pump")]
    first = phone.push(boat, sent).json["results"][0]
    clock.ms += 10_000
    again = phone.push(boat, sent).json["results"][0]
    assert again == {**first, "outcome": "repeated"}


def test_change_sent_with_the_stamp_that_the_server_gave_is_the_same_change(phone, boat, new_id):
    phone.ahead_ms = YEAR_MS
    sent = phone.change("item", new_id(), name="pump")
    given = phone.push(boat, [sent]).json["results"][0]["stamp"]
    again = phone.push(boat, [sent | {"stamp": given}]).json["results"][0]
    assert again["outcome"] == "repeated"


def test_phone_a_year_ahead_does_not_win_for_ever(phone, pair, boat, clock, new_id) -> None:
    wrong, item = pair(), new_id()
    wrong.ahead_ms = YEAR_MS
    wrong.push(boat, [wrong.change("item", item, name="from the future")])
    clock.ms += 1
    phone.push(boat, [phone.change("item", item, base=2, name="written after")])
    assert record(phone, boat, item) == {"name": "written after"}


def test_edits_of_a_phone_ahead_keep_their_own_order(pair, boat, new_id) -> None:
    wrong, item = pair(), new_id()
    wrong.ahead_ms = YEAR_MS
    names = [f"name {n}" for n in range(5)]
    batch = [wrong.change("item", item, name=name) for name in names]
    wrong.push(boat, batch[:2])
    wrong.push(boat, batch[2:])
    assert record(wrong, boat, item) == {"name": "name 4"}


def test_phone_ahead_wins_over_what_it_has_seen_even_if_that_is_a_little_ahead_too(
    phone, pair, boat, new_id
) -> None:
    item = new_id()
    phone.ahead_ms = stamp.MAX_AHEAD_MS
    phone.push(boat, [phone.change("item", item, name="a little ahead")])
    wrong = pair()
    wrong.ahead_ms = YEAR_MS
    wrong.push(boat, [wrong.change("item", item, base=2, name="seen, then written over")])
    assert record(phone, boat, item) == {"name": "seen, then written over"}


def test_phone_years_behind_wins_over_what_it_has_seen(phone, pair, boat, new_id) -> None:
    item = new_id()
    phone.push(boat, [phone.change("item", item, name="first")])
    behind = pair()
    behind.ahead_ms = -10 * YEAR_MS
    behind.last_stamp = behind.pull_all(boat)[-1]["stamp"]
    behind.push(boat, [behind.change("item", item, base=2, name="second")])
    assert record(phone, boat, item) == {"name": "second"}


def test_what_a_lost_log_had_keeps_its_order_though_this_clock_is_years_behind(
    phone, boat, clock, new_id
) -> None:
    item = new_id()
    phone.ahead_ms = 10 * YEAR_MS
    older, newer = (phone.change("item", item, name=name) for name in ("older", "newer"))
    for sent in (newer, older):
        result = phone.push(boat, [sent | {"again": True}]).json["results"][0]
        assert result["outcome"] == "accepted"
        assert "stamp" not in result
    assert record(phone, boat, item) == {"name": "newer"}
    # A new edit by somebody who has seen that lies above it, by whatever clock.
    phone.push(boat, [phone.change("item", item, name="newest")])
    assert record(phone, boat, item) == {"name": "newest"}


def test_centuries_are_put_right_whatever_is_said_of_them(phone, boat, clock, new_id) -> None:
    phone.ahead_ms = 101 * YEAR_MS
    sent = phone.change("item", new_id(), name="pump") | {"again": True}
    result = phone.push(boat, [sent]).json["results"][0]
    assert stamp.ms_of(result["stamp"]) == clock.ms


def test_again_that_is_neither_true_nor_false_is_refused(phone, boat, new_id) -> None:
    sent = phone.change("item", new_id(), name="pump") | {"again": "yes"}
    result = phone.push(boat, [sent]).json["results"][0]
    assert result["outcome"] == "rejected"
    assert result["problem"]["errors"][0]["pointer"] == "/again"
