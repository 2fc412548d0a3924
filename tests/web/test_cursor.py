"""A reader whose cursor is none of this log is told so, and starts anew."""

from __future__ import annotations

import pytest


def pull(phone, boat: str, **query):
    asked = "&".join(f"{name}={value}" for name, value in query.items())
    return phone.http.get(f"/api/boats/{boat}/changes?{asked}")


def is_unknown(reply) -> bool:
    return reply.status_code == 409 and reply.json["type"].endswith("/problems/cursor-unknown")


def test_cursor_ahead_of_the_log_is_unknown(phone, boat, new_id) -> None:
    phone.push(boat, [phone.change("item", new_id(), name="pump")])
    assert pull(phone, boat, since=2).json["changes"] == []
    assert is_unknown(pull(phone, boat, since=3))
    assert is_unknown(pull(phone, boat, since=2**53 - 1))


@pytest.mark.parametrize("since", ["-1", "1.5", "x", str(2**53)])
def test_cursor_that_is_none_is_a_problem(phone, boat, since) -> None:
    reply = pull(phone, boat, since=since)
    assert reply.status_code == 422
    assert reply.json["errors"][0]["pointer"] == "/since"


def test_cursor_of_another_boat_is_noticed_by_the_change_there(phone, boat, new_id) -> None:
    other = phone.new_boat("Tern")
    for one in (boat, other):
        phone.push(one, [phone.change("item", new_id(), name=f"{n}") for n in range(3)])
    page = pull(phone, boat, since=0, limit=2).json
    assert page["last"] == page["changes"][-1]["id"]
    mark = {"since": page["cursor"], "last": page["last"]}
    assert len(pull(phone, boat, **mark).json["changes"]) == 2
    assert is_unknown(pull(phone, other, **mark))
    assert len(pull(phone, other, since=page["cursor"]).json["changes"]) == 2


def test_cursor_from_before_another_epoch_is_unknown(app, phone, boat) -> None:
    from shedtally.storage.unit_of_work import writing

    epoch = pull(phone, boat, since=1).json["epoch"]
    assert epoch == phone.http.get("/api/ping").json["epoch"]
    assert pull(phone, boat, since=1, epoch=epoch).status_code == 200
    with app.app_context(), writing() as uow:
        uow.server.start_epoch()
    assert is_unknown(pull(phone, boat, since=1, epoch=epoch))


def test_empty_page_repeats_the_mark_that_it_was_asked_with(phone, boat) -> None:
    page = pull(phone, boat, since=0).json
    again = pull(phone, boat, since=page["cursor"], last=page["last"]).json
    assert (again["cursor"], again["last"], again["more"]) == (page["cursor"], page["last"], False)
