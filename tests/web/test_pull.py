"""Pulling changes and reading the history of a record."""

from __future__ import annotations


def test_pages_follow_each_other_without_gap_or_double(phone, pair, boat, new_id) -> None:
    phone.push(boat, [phone.change("item", new_id(), name=f"{n}") for n in range(9)])
    other = pair()
    first = other.pull(boat, 0, 4).json
    second = other.pull(boat, first["cursor"], 4).json
    third = other.pull(boat, second["cursor"], 4).json
    assert [page["more"] for page in (first, second, third)] == [True, True, False]
    cursors = [one["cursor"] for page in (first, second, third) for one in page["changes"]]
    assert cursors == list(range(1, 11))


def test_exactly_one_full_page_has_no_more(phone, boat) -> None:
    page = phone.pull(boat, 0, 1).json
    assert (page["more"], page["cursor"], len(page["changes"])) == (False, 1, 1)


def test_with_nothing_new_the_cursor_stays(phone, boat) -> None:
    page = phone.pull(boat, 1).json
    assert (page["cursor"], page["more"], page["changes"]) == (1, False, [])


def test_pulled_change_is_the_one_that_was_sent(phone, pair, boat, new_id) -> None:
    sent = phone.change("item", new_id(), base=1, name="pump", mass_kg=1.5, drained=True, note=None)
    phone.push(boat, [sent])
    assert pair().pull(boat, 1).json["changes"] == [{**sent, "cursor": 2}]


def test_changes_of_other_boats_stay_out(phone, boat, new_id) -> None:
    other = phone.new_boat("Dunlin")
    phone.push(boat, [phone.change("item", new_id(), name="pump")])
    assert [one["table"] for one in phone.pull_all(other)] == ["boat"]


def test_unknown_boat_is_told(phone, new_id) -> None:
    reply = phone.pull(new_id())
    assert reply.status_code == 404
    assert reply.json["type"].endswith("/problems/no-such-boat")


def test_long_page_travels_compressed(phone, boat, new_id) -> None:
    phone.push(boat, [phone.change("item", new_id(), name="pump") for _ in range(50)])
    plain = phone.http.get(f"/api/boats/{boat}/changes")
    small = phone.http.get(f"/api/boats/{boat}/changes", headers={"Accept-Encoding": "gzip"})
    assert small.headers["Content-Encoding"] == "gzip"
    assert len(small.data) < len(plain.data) / 3
    import gzip

    assert gzip.decompress(small.data) == plain.data


def test_history_is_every_change_of_one_record_as_they_arrived(phone, boat, clock, new_id) -> None:
    item = new_id()
    phone.push(boat, [phone.change("item", item, name="pump"), phone.change("item", new_id())])
    phone.push(boat, [phone.change("item", new_id(), name="other")])
    clock.ms += 60_000
    phone.push(boat, [phone.change("item", item, name="bilge pump", condition="worn")])
    found = phone.http.get(f"/api/boats/{boat}/records/item/{item}/history").json["changes"]
    assert [one["set"] for one in found] == [
        {"name": "pump"},
        {"name": "bilge pump", "condition": "worn"},
    ]
    assert found[1]["received_ms"] - found[0]["received_ms"] == 60_000


def test_history_of_an_unknown_record_is_empty(phone, boat) -> None:
    path = f"/api/boats/{boat}/records/item/x/history"
    assert phone.http.get(path).json == {"more": False, "devices": {}, "changes": []}


def test_history_comes_in_pages_with_the_names_of_who_wrote(phone, pair, boat, new_id) -> None:
    item, other = new_id(), pair(name="Laptop in the shed")
    for n in range(3):
        phone.push(boat, [phone.change("item", item, count=n + 1)])
        other.push(boat, [other.change("item", item, note=f"{n}")])
    path, since, found = f"/api/boats/{boat}/records/item/{item}/history", 0, []
    while True:
        page = phone.http.get(f"{path}?since={since}&limit=4").json
        found += page["changes"]
        since = found[-1]["cursor"]
        assert page["devices"] == {phone.device: "phone", other.device: "Laptop in the shed"}
        if not page["more"]:
            break
    assert [one["cursor"] for one in found] == [2, 3, 4, 5, 6, 7]
