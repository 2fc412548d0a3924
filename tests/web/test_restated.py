"""What a phone knew of a lost change from a snapshot, said again after a restored backup."""

from __future__ import annotations

import uuid

import pytest


@pytest.fixture
def lost(pair, boat, new_id) -> dict:
    """A change by a phone that is gone, of which this server knows nothing."""
    return pair(name="gone").change("item", new_id(), name="pump", count=2)


def restated(change: dict, **members: object) -> dict:
    return {**change, "id": str(uuid.uuid4()), "seq": -5, "restates": change["id"], **members}


def outcomes(reply) -> list[str]:
    return [result["outcome"] for result in reply.json["results"]]


def versions(phone, boat: str) -> list[str]:
    return phone.http.get(f"/api/boats/{boat}/snapshot").json["versions"]["changes"]


def test_it_is_kept_under_its_author_and_says_that_it_is_restated(phone, boat, lost) -> None:
    part = restated(lost, set={"name": "pump"})
    assert outcomes(phone.push(boat, [part, part])) == ["accepted", "repeated"]
    entry = phone.pull_all(boat)[-1]
    assert entry["restates"] == lost["id"]
    assert (entry["device"], entry["stamp"]) == (lost["device"], lost["stamp"])
    history = phone.http.get(f"/api/boats/{boat}/records/item/{lost['key']}/history").json
    assert [one.get("restates") for one in history["changes"]] == [lost["id"]]
    # The record's version is that of the change which is lost.
    assert lost["id"].replace("-", "") in versions(phone, boat)
    assert part["id"].replace("-", "") not in versions(phone, boat)


def test_the_whole_change_may_come_after_it_and_adds_what_is_missing(phone, boat, lost) -> None:
    phone.push(boat, [restated(lost, set={"name": "pump"})])
    assert outcomes(phone.push(boat, [lost])) == ["accepted"]
    assert "restates" not in phone.pull_all(boat)[-1]
    again = restated(lost, id=str(uuid.uuid4()), seq=-6, set={"count": 2})
    assert outcomes(phone.push(boat, [again])) == ["repeated"]
    assert len(phone.pull_all(boat)) == 3
    assert phone.http.get(f"/api/boats/{boat}/clashes").json == []


def test_it_is_in_nobodys_count(phone, boat, lost, pair) -> None:
    phone.push(boat, [restated(lost)])
    session = pair(device=lost["device"], name="found again").http.get("/api/session").json
    assert (session["last_seq"], session["complete_to"]) == (0, 0)
    own = pair(device=lost["device"], name="found again")
    assert outcomes(own.push(boat, [lost])) == ["accepted"]
    session = own.http.get("/api/session").json
    assert session["last_seq"] == lost["seq"]


@pytest.mark.parametrize(
    ("spoilt", "pointer"),
    [
        ({"restates": "x"}, "/restates"),
        ({"restates": 7}, "/restates"),
        ({"seq": 1}, "/seq"),
        ({"seq": -1.5}, "/seq"),
        ({"seq": -(2**53)}, "/seq"),
    ],
)
def test_what_is_no_restatement_is_named(phone, boat, lost, spoilt, pointer) -> None:
    reply = phone.push(boat, [restated(lost, **spoilt)])
    assert outcomes(reply) == ["rejected"]
    assert reply.json["results"][0]["problem"]["errors"][0]["pointer"] == pointer


@pytest.mark.parametrize(
    "other",
    [{"set": {"name": "seacock"}}, {"key": "other"}, {"set": {"name": "pump", "note": "x"}}],
)
def test_it_cannot_put_other_words_into_a_change_that_is_here(phone, boat, lost, other) -> None:
    phone.push(boat, [lost])
    reply = phone.push(boat, [restated(lost, **other)])
    assert outcomes(reply) == ["rejected"]
    assert len(phone.pull_all(boat)) == 2
