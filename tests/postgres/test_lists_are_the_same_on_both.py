"""The lists of the demo boat come out alike from either database, row by row."""

from __future__ import annotations

import datetime as dt
from dataclasses import asdict
from pathlib import Path

import pytest
from sqlalchemy import update

from conftest import close
from shedtally.app import create_app
from shedtally.domain.renewals.lines import renewals
from shedtally.domain.waste.by_stream import waste_list
from shedtally.domain.work.left import left_to_take_out
from shedtally.settings import Settings
from shedtally.storage.tables import db, server
from shedtally.usecases import load_demo
from shedtally.usecases.demo_source import demo_source

FIRST_TAG = 2**21
TODAY = dt.date(2027, 3, 14)


def everything_of(settings: Settings) -> tuple[list[dict], list[dict]]:
    """The lists and the log of the demo boat, loaded by the server with these settings."""
    app = create_app(settings)
    with app.app_context():
        with db.engine.begin() as connection:  # it is a random one otherwise
            connection.execute(update(server).values(next_tag=FIRST_TAG))
        shed = app.extensions["shedtally"]
        boat = load_demo.load(shed, demo_source()).boat
        with shed.reading() as uow:
            records = uow.records(boat).read_boat()
            log = [one.change.as_sent() for one in uow.log(boat).since(0, 100_000)]
            clashes = [asdict(one) for one in uow.clashes(boat).open()]
    close(app)
    lists = [
        asdict(left_to_take_out(records, shed.rules)),
        asdict(waste_list(records, shed.rules, "eu", "", TODAY)),
        asdict(renewals(records, shed.rules)),
        {"clashes": clashes},
    ]
    return lists, log


def test_lists_log_and_clashes_of_the_demo_boat_are_alike(
    tmp_path: Path, new_database: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    # No list looks into a picture, and decoding them all, twice, is most of the time.
    monkeypatch.setattr(load_demo, "keep_photo", lambda *_words, **_named: None)
    in_sqlite = everything_of(Settings(tmp_path / "a", keep_free_bytes=0))
    in_postgres = everything_of(
        Settings(tmp_path / "b", database_url=new_database, keep_free_bytes=0)
    )
    assert len(in_sqlite[1]) > 100
    assert in_postgres == in_sqlite
