"""The server's disk fills up: it says so, keeps what it has, and goes on when there is room."""

from __future__ import annotations

import uuid

from sqlalchemy import event

from shedtally.storage.tables import db


def test_full_database_is_told_and_takes_the_same_batch_when_there_is_room(app, phone, boat):
    limit = {"pages": 60}

    def set_limit(connection, _record) -> None:
        connection.execute(f"PRAGMA max_page_count={limit['pages']}")

    with app.app_context():
        event.listen(db.engine, "connect", set_limit)
        db.engine.dispose()
    accepted = 1
    while True:
        batch = [phone.change("item", str(uuid.uuid4()), note="x" * 500) for _ in range(20)]
        reply = phone.push(boat, batch)
        if reply.status_code != 200:
            break
        accepted += len(batch)
    assert reply.status_code == 507
    assert reply.json["type"].endswith("/problems/disk-full")
    assert accepted > 1
    assert len(phone.pull_all(boat)) == accepted

    limit["pages"] = 1_000_000
    with app.app_context():
        db.engine.dispose()
    again = phone.push(boat, batch).json
    assert {result["outcome"] for result in again["results"]} == {"accepted"}
    assert len(phone.pull_all(boat)) == accepted + len(batch)
