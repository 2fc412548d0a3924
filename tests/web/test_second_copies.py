"""What a phone is told of other devices that have its changes."""

from __future__ import annotations

from sqlalchemy.exc import OperationalError

from shedtally.storage.reading_marks import ReadingMarks
from shedtally.storage.unit_of_work import writing

MINUTE_MS = 60_000


def copies(phone) -> list[dict]:
    return phone.http.get("/api/session").json["copies"]


def read_on(phone, boat: str, clock) -> None:
    """All of the boat, and the request after it that says that it was stored."""
    clock.ms += MINUTE_MS
    at = phone.pull(boat, 0, 2000).json["cursor"]
    phone.pull(boat, at)


def test_nobody_else_has_what_nobody_else_has_read(phone, pair, boat) -> None:
    pair()
    assert copies(phone) == []


def test_own_reading_is_no_second_copy(phone, boat, clock) -> None:
    read_on(phone, boat, clock)
    assert copies(phone) == []


def test_page_that_was_sent_counts_only_when_the_reader_goes_on_after_it(
    phone, pair, boat, clock
) -> None:
    other = pair(name="Anna's phone")
    cursor = other.pull(boat, 0).json["cursor"]
    assert copies(phone) == []
    clock.ms += MINUTE_MS
    other.pull(boat, cursor)
    [copy] = copies(phone)
    assert (copy["boat"], copy["name"], copy["whole"]) == (boat, "Anna's phone", True)


def test_copy_is_whole_only_with_the_last_change(phone, pair, boat, clock, new_id) -> None:
    other = pair()
    read_on(other, boat, clock)
    phone.push(boat, [phone.change("item", new_id(), name="pump")])
    assert [copy["whole"] for copy in copies(phone)] == [False]
    read_on(other, boat, clock)
    assert [copy["whole"] for copy in copies(phone)] == [True]


def test_the_device_that_has_read_most_is_named(phone, pair, boat, clock, new_id) -> None:
    behind, ahead = pair(name="behind"), pair(name="ahead")
    read_on(behind, boat, clock)
    phone.push(boat, [phone.change("item", new_id(), name="pump")])
    read_on(ahead, boat, clock)
    assert [copy["name"] for copy in copies(phone)] == ["ahead"]


def test_device_that_was_shut_out_counts_no_longer(phone, pair, boat, clock) -> None:
    other = pair()
    read_on(other, boat, clock)
    phone.http.post(f"/api/devices/{other.device}/revoke", headers={"X-Shedtally": "1"})
    assert copies(phone) == []


def test_each_boat_is_told_of_by_itself(phone, pair, boat, clock) -> None:
    dunlin = phone.new_boat("Dunlin")
    other = pair()
    read_on(other, dunlin, clock)
    assert [copy["boat"] for copy in copies(phone)] == [dunlin]


def test_reading_of_a_log_that_was_lost_says_nothing(phone, pair, boat, clock, app) -> None:
    read_on(pair(), boat, clock)
    with app.app_context(), writing() as uow:
        uow.server.start_epoch()
    assert copies(phone) == []


def test_reading_is_noted_at_most_twice_a_minute(phone, pair, boat, clock, new_id) -> None:
    other = pair()
    read_on(other, boat, clock)
    phone.push(boat, [phone.change("item", new_id(), name="pump")])
    clock.ms += 29_999
    other.pull(boat, 2)
    assert [copy["whole"] for copy in copies(phone)] == [False]
    clock.ms += 1
    other.pull(boat, 2)
    assert [copy["whole"] for copy in copies(phone)] == [True]


def test_full_disk_keeps_nobody_from_reading(phone, pair, boat, clock, monkeypatch) -> None:
    def full(*_: object) -> None:
        raise OperationalError("INSERT", {}, Exception("database or disk is full"))

    other = pair()
    cursor = other.pull(boat, 0).json["cursor"]
    monkeypatch.setattr(ReadingMarks, "note", full)
    clock.ms += MINUTE_MS
    assert other.pull(boat, cursor).status_code == 200
