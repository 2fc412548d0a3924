"""Where the commit fails, no answer may say that anything was kept: phones delete what is kept."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator

import pytest
from flask import Flask
from sqlalchemy import event
from sqlalchemy.exc import OperationalError

from shedtally.storage.tables import db

WRITE = {"X-Shedtally": "1"}


@pytest.fixture
def broken_commits(app: Flask, phone, boat: str) -> Iterator[None]:
    """From here on every commit fails, as on a disk that breaks."""

    def fail(_connection: object) -> None:
        raise OperationalError("COMMIT", None, sqlite3.OperationalError("disk I/O error"))

    with app.app_context():
        engine = db.engine
    event.listen(engine, "commit", fail)
    yield
    event.remove(engine, "commit", fail)


def test_push_is_not_acknowledged(phone, boat: str, new_id, broken_commits: None) -> None:
    reply = phone.push(boat, [phone.change("item", new_id(), name="pump")])
    assert reply.status_code == 500
    assert "results" not in reply.json
    assert [one["table"] for one in phone.pull_all(boat)] == ["boat"]


def test_photograph_is_not_acknowledged(phone, jpeg: bytes, broken_commits: None) -> None:
    assert phone.put_photo(jpeg).status_code == 500


def test_tag_codes_are_not_given_out(phone, boat: str, broken_commits: None) -> None:
    path = f"/api/boats/{boat}/tag-blocks"
    reply = phone.http.post(path, json={"count": 3}, headers=WRITE)
    assert reply.status_code == 500
    assert "codes" not in reply.json


def test_revoking_is_not_confirmed(phone, broken_commits: None) -> None:
    path = f"/api/devices/{phone.device}/revoke"
    assert phone.http.post(path, headers=WRITE).status_code == 500
