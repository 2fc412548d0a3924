"""Pushing changes: judged one by one, kept once, in any number of tries."""

from __future__ import annotations

import threading
import uuid

import pytest

from shedtally.usecases.receive_changes import MAX_BATCH


def outcomes(reply) -> list[str]:
    return [result["outcome"] for result in reply.json["results"]]


def test_accepted_changes_get_the_next_cursors_in_the_order_sent(phone, boat, new_id) -> None:
    changes = [phone.change("item", new_id(), name=f"item {n}") for n in range(3)]
    reply = phone.push(boat, changes)
    assert reply.status_code == 200
    assert [result["cursor"] for result in reply.json["results"]] == [2, 3, 4]
    assert [result["id"] for result in reply.json["results"]] == [one["id"] for one in changes]
    assert reply.json["cursor"] == 4


def test_repeated_batch_changes_nothing_and_is_answered_alike(phone, boat, new_id) -> None:
    batch = [phone.change("item", new_id(), name="pump"), phone.change("item", "x", count=-1)]
    first = phone.push(boat, batch).json
    replies = [phone.push(boat, batch).json for _ in range(3)]
    assert replies[0] == replies[1] == replies[2]
    assert replies[0]["cursor"] == first["cursor"]
    accepted, rejected = first["results"]
    assert replies[0]["results"] == [{**accepted, "outcome": "repeated"}, rejected]
    assert len(phone.pull_all(boat)) == 2


def test_change_twice_in_one_batch_is_kept_once(phone, boat, new_id) -> None:
    change = phone.change("item", new_id(), name="pump")
    assert outcomes(phone.push(boat, [change, change])) == ["accepted", "repeated"]
    assert len(phone.pull_all(boat)) == 2


def test_one_bad_change_is_named_and_the_good_ones_land(phone, boat, new_id) -> None:
    good, bad, also_good = (phone.change("item", new_id(), length_mm=n) for n in (10, -10, 20))
    reply = phone.push(boat, [good, bad, also_good])
    assert outcomes(reply) == ["accepted", "rejected", "accepted"]
    problem = reply.json["results"][1]["problem"]
    assert problem["type"].endswith("/problems/invalid")
    assert problem["errors"] == [{"pointer": "/length_mm", "detail": "must lie from 0 to 50000 mm"}]
    assert problem["instance"] == f"urn:uuid:{bad['id']}"
    assert [one["id"] for one in phone.pull_all(boat)[1:]] == [good["id"], also_good["id"]]


@pytest.mark.parametrize(
    ("spoilt", "pointer"),
    [
        ({"id": "1"}, "/id"),
        ({"id": "A" * 36}, "/id"),
        ({"device": None}, "/device"),
        ({"seq": 0}, "/seq"),
        ({"seq": True}, "/seq"),
        ({"seq": 1.5}, "/seq"),
        ({"seq": 2**53}, "/seq"),
        ({"stamp": "now"}, "/stamp"),
        ({"stamp": "0199C82CC0000003"}, "/stamp"),
        ({"table": "Item; DROP TABLE change"}, "/table"),
        ({"key": ""}, "/key"),
        ({"key": "a" * 65}, "/key"),
        ({"key": "../etc"}, "/key"),
        ({"base": -1}, "/base"),
        ({"set": {}}, "/set"),
        ({"set": []}, "/set"),
        ({"set": {f"field{n}": n for n in range(101)}}, "/set"),
        ({"set": {"__proto__": 1}}, "/set"),
        ({"set": {"name": ["a"]}}, "/name"),
        ({"set": {"name": "x" * 201}}, "/name"),
        ({"set": {"unknown": {"a": 1}}}, "/unknown"),
        ({"set": {"unknown": float("inf")}}, "/unknown"),
        ({"set": {"unknown": float("nan")}}, "/unknown"),
        ({"set": {"unknown": 2**60}}, "/unknown"),
        ({"set": {"unknown": "half a \ud83d pair"}}, "/unknown"),
        ({"set": {"unknown": "nul \x00"}}, "/unknown"),
        ({"set": {"unknown": "x" * 4001}}, "/unknown"),
        ({"table": "boat", "set": {"name": "other boat"}}, "/key"),
        ({"table": "tag", "key": "K7Q4M3", "set": {"on": None}}, "/key"),
        ({"table": "tag", "key": "0016jd", "set": {"on": None}}, "/key"),
    ],
    ids=lambda value: repr(value)[:40],
)
def test_change_that_cannot_be_is_rejected_alone(phone, boat, new_id, spoilt, pointer) -> None:
    good = phone.change("item", new_id(), name="pump")
    bad = phone.change("item", new_id(), name="pump") | spoilt
    reply = phone.push(boat, [bad, good])
    assert outcomes(reply) == ["rejected", "accepted"]
    assert reply.json["results"][0]["problem"]["errors"][0]["pointer"] == pointer


@pytest.mark.parametrize("nonsense", [None, 1, "change", [], {}, [[]]])
def test_what_is_no_change_at_all_is_rejected_alone(phone, boat, new_id, nonsense) -> None:
    good = phone.change("item", new_id(), name="pump")
    reply = phone.push(boat, [nonsense, good])
    assert outcomes(reply) == ["rejected", "accepted"]
    assert reply.json["results"][0]["id"] is None


def test_same_id_with_other_content_is_rejected_and_the_first_stands(phone, boat, new_id) -> None:
    change = phone.change("item", new_id(), name="pump")
    phone.push(boat, [change])
    reply = phone.push(boat, [change | {"set": {"name": "other"}}])
    assert outcomes(reply) == ["rejected"]
    assert reply.json["results"][0]["problem"]["errors"][0]["pointer"] == "/id"
    assert phone.pull_all(boat)[-1]["set"] == {"name": "pump"}


def test_yes_is_not_the_same_content_as_one(phone, boat, new_id) -> None:
    change = phone.change("item", new_id(), unknown=1)
    phone.push(boat, [change])
    assert outcomes(phone.push(boat, [change | {"set": {"unknown": True}}])) == ["rejected"]
    assert outcomes(phone.push(boat, [change | {"set": {"unknown": 1.0}}])) == ["repeated"]


def test_same_id_for_another_boat_is_rejected(phone, boat, new_id) -> None:
    change = phone.change("item", new_id(), name="pump")
    phone.push(boat, [change])
    assert outcomes(phone.push(phone.new_boat("Dunlin"), [change])) == ["rejected"]


def test_number_used_twice_by_one_device_is_rejected(phone, boat, new_id) -> None:
    first = phone.change("item", new_id(), name="pump")
    second = phone.change("item", new_id(), name="hose") | {"seq": first["seq"]}
    reply = phone.push(boat, [first, second])
    assert outcomes(reply) == ["accepted", "rejected"]
    assert reply.json["results"][1]["problem"]["errors"][0]["pointer"] == "/seq"


def test_unknown_tables_and_fields_come_back_as_they_were(phone, pair, boat) -> None:
    sent = phone.change("rope-work", "r1", colour="red", knots=3, share=0.25, done=True, by=None)
    phone.push(boat, [sent])
    got = pair().pull_all(boat)[-1]
    assert got["set"] == sent["set"]
    assert got["table"] == "rope-work"


def test_gap_in_the_running_numbers_is_accepted_and_reported(phone, boat, new_id) -> None:
    phone.push(boat, [phone.change("item", new_id(), name="kept")])
    lost = phone.change("item", new_id(), name="lost on the way")
    phone.push(boat, [phone.change("item", new_id(), name="after")])
    session = phone.http.get("/api/session").json
    assert (session["complete_to"], session["last_seq"]) == (2, 4)
    assert session["missing"] == [[3, 3]]
    phone.push(boat, [lost])
    session = phone.http.get("/api/session").json
    assert (session["complete_to"], session["last_seq"], session["missing"]) == (4, 4, [])


def test_numbers_of_rejected_changes_are_told_as_missing(phone, boat, new_id) -> None:
    bad = [phone.change("item", new_id(), count=-1) for _ in range(3)]
    good = phone.change("item", new_id(), count=1)
    phone.push(boat, [*bad, good])
    session = phone.http.get("/api/session").json
    assert (session["complete_to"], session["last_seq"]) == (1, 5)
    assert session["missing"] == [[2, 4]]


def test_boat_comes_to_be_by_its_own_record(phone, new_id) -> None:
    key = new_id()
    assert phone.push(key, [phone.change("item", new_id(), name="pump")]).status_code == 404
    assert phone.http.get("/api/boats").json == []
    reply = phone.push(
        key, [phone.change("item", new_id(), name="hose"), phone.change("boat", key, name="Tern")]
    )
    assert outcomes(reply) == ["accepted", "accepted"]
    assert phone.http.get("/api/boats").json == [{"key": key, "name": "Tern"}]


def test_binned_boat_is_not_listed_until_it_is_taken_out(phone, boat) -> None:
    phone.push(boat, [phone.change("boat", boat, binned=True)])
    assert phone.http.get("/api/boats").json == []
    phone.push(boat, [phone.change("boat", boat, binned=False)])
    assert len(phone.http.get("/api/boats").json) == 1


def test_two_thousand_changes_go_in_one_batch_and_one_more_does_not(phone, boat, new_id) -> None:
    changes = [phone.change("item", new_id(), name=f"{n}") for n in range(MAX_BATCH + 1)]
    reply = phone.push(boat, changes)
    assert reply.status_code == 422
    assert reply.json["errors"][0]["pointer"] == "/changes"
    assert set(outcomes(phone.push(boat, changes[:MAX_BATCH]))) == {"accepted"}


def test_app_that_is_too_old_is_told_and_nothing_of_it_is_kept(phone, boat, new_id) -> None:
    reply = phone.push(boat, [phone.change("item", new_id(), name="pump")], schema=0)
    assert reply.status_code == 426
    assert reply.json["type"].endswith("/problems/client-too-old")
    assert "stays on the phone" in reply.json["detail"]
    assert len(phone.pull_all(boat)) == 1


def test_app_newer_than_the_server_is_heard(phone, boat, new_id) -> None:
    reply = phone.push(boat, [phone.change("item", new_id(), shine="high")], schema=99)
    assert outcomes(reply) == ["accepted"]


def test_changes_of_a_lost_phone_can_be_brought_in_by_another(phone, pair, boat, new_id) -> None:
    lost = pair(name="lost phone")
    rescued = [lost.change("item", new_id(), name="pump")]
    phone.http.post(f"/api/devices/{lost.device}/revoke", headers={"X-Shedtally": "1"})
    assert lost.push(boat, rescued).status_code == 401
    assert outcomes(phone.push(boat, rescued)) == ["accepted"]
    assert phone.pull_all(boat)[-1]["device"] == lost.device


def test_many_phones_pushing_at_once_get_cursors_without_gap_or_double(pair, phone, boat) -> None:
    phones = [pair(name=f"phone {n}") for n in range(4)]
    failed: list[object] = []

    def work(one) -> None:
        for _ in range(10):
            item = str(uuid.uuid4())
            batch = [one.change("item", item, name=f"{n}") for n in range(5)]
            reply = one.push(boat, batch)
            if reply.status_code != 200 or set(outcomes(reply)) != {"accepted"}:
                failed.append(reply.json)

    threads = [threading.Thread(target=work, args=(one,)) for one in phones]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert failed == []
    cursors = [one["cursor"] for one in phone.pull_all(boat)]
    assert cursors == list(range(1, 202))


def test_one_batch_sent_by_many_threads_at_once_is_kept_once(phone, boat, new_id) -> None:
    batch = [phone.change("item", new_id(), name=f"{n}") for n in range(20)]
    replies: list[dict] = []
    threads = [
        threading.Thread(target=lambda: replies.append(phone.push(boat, batch).json))
        for _ in range(5)
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    words = sorted({result["outcome"] for result in reply["results"]}.pop() for reply in replies)
    assert words == ["accepted", "repeated", "repeated", "repeated", "repeated"]
    assert len(phone.pull_all(boat)) == 21


def test_reader_who_polls_while_others_write_skips_nothing(pair, phone, boat) -> None:
    writers = [pair(name=f"phone {n}") for n in range(3)]
    reader = pair(name="reader")
    done = threading.Event()
    seen: list[int] = []

    def read() -> None:
        since = 0
        while True:
            last_round = done.is_set()
            page = reader.pull(boat, since).json
            seen.extend(one["cursor"] for one in page["changes"])
            since = page["cursor"]
            if last_round and not page["more"]:
                return

    def write(one) -> None:
        for n in range(15):
            one.push(boat, [one.change("item", str(uuid.uuid4()), name=f"{n}")])

    reading = threading.Thread(target=read)
    writing = [threading.Thread(target=write, args=(one,)) for one in writers]
    reading.start()
    for thread in writing:
        thread.start()
    for thread in writing:
        thread.join()
    done.set()
    reading.join()
    assert seen == list(range(1, 47))
