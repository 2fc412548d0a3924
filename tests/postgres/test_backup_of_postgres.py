"""A backup of a server on PostgreSQL: one state, restorable into either kind of database."""

from __future__ import annotations

import datetime as dt
import hashlib
import shutil
import threading
from pathlib import Path

import pytest
from flask import Flask
from sqlalchemy import create_engine, select, text

from conftest import Browser, Phone, close
from shedtally.app import create_app
from shedtally.settings import Settings
from shedtally.storage.copying import DatabaseInUse, OtherVersion
from shedtally.storage.database import postgres_url
from shedtally.storage.tables import db
from shedtally.usecases.back_up import NothingThere, back_up
from shedtally.usecases.bring_back import bring_back
from shedtally.usecases.check_data import check_data

NOW = dt.datetime(2027, 3, 14, 20, 15, tzinfo=dt.UTC)


@pytest.fixture
def settings(tmp_path: Path, new_database: str) -> Settings:
    return Settings(tmp_path / "data", database_url=new_database, keep_free_bytes=0)


@pytest.fixture
def filled(app: Flask, pair, boat: str, phone: Phone, jpeg: bytes, new_id) -> str:  # noqa: PLR0917
    """A boat with items, a clash, a photograph and a block of tags; its key."""
    item = new_id()
    phone.push(boat, [phone.change("item", item, name="Maßband \N{WRENCH}", count=2)])
    pair().push(boat, [pair().change("item", item, name="tape")])
    phone.put_photo(jpeg)
    body = {"count": 5}
    phone.http.post(f"/api/boats/{boat}/tag-blocks", json=body, headers={"X-Shedtally": "1"})
    return boat


def rows(url: str) -> dict[str, list[str]]:
    engine = create_engine(url)
    with engine.connect() as connection:
        found = {
            table.name: sorted(str(row) for row in connection.execute(select(table)).all())
            for table in db.metadata.sorted_tables
        }
    engine.dispose()
    return found


def but_for_the_epoch(found: dict[str, list[str]]) -> dict[str, list[str]]:
    return {name: lines for name, lines in found.items() if name != "server"}


@pytest.mark.parametrize("into", ["sqlite", "postgres"])
def test_every_row_and_photograph_comes_back_in_a_new_epoch(
    filled: str, settings: Settings, tmp_path: Path, postgres, into: str
) -> None:
    made = back_up(settings.data_dir, tmp_path / "stick", NOW, settings.database_url)
    assert made.photos == 1
    url = postgres.new_database() if into == "postgres" else ""
    again = tmp_path / "again"
    assert bring_back(made.folder, again, url) == 1
    here = postgres_url(url) if url else f"sqlite:///{again / 'shedtally.sqlite3'}"
    before, after = rows(postgres_url(settings.database_url)), rows(here)
    assert len(before["change"]) == 3
    assert before["clash"]
    assert but_for_the_epoch(after) == but_for_the_epoch(before)
    assert before["server"] != after["server"]
    assert (again / "shedtally.sqlite3").exists() == (url == "")
    assert check_data(again, url).damage == ()
    if url:
        postgres.drop(url)


def test_the_restored_server_goes_on_where_the_backup_ended(  # noqa: PLR0917
    filled: str, settings: Settings, tmp_path: Path, postgres, phone: Phone, clock, pair, new_id
) -> None:
    made = back_up(settings.data_dir, tmp_path / "stick", NOW, settings.database_url)
    cookie = phone.http.get_cookie("shedtally").value
    with postgres.a_database() as url:
        bring_back(made.folder, tmp_path / "again", url)
        app = create_app(Settings(tmp_path / "again", database_url=url), clock)
        app.test_client_class = Browser
        same = Phone(app.test_client(), clock, phone.device, phone.seq)
        same.http.set_cookie("shedtally", cookie)
        cursor = same.pull(filled).json["cursor"]
        item = new_id()
        reply = same.push(filled, [same.change("item", item, name="pump")])
        assert reply.json["cursor"] == cursor + 1
        # A new clash gets a number of its own, after those that were copied with theirs.
        with app.app_context(), db.engine.begin() as connection:
            insert = (
                "INSERT INTO clash (boat, table_name, key, field, kept, lost, cursor)"
                " SELECT boat, table_name, key, field, kept, lost, cursor FROM clash"
            )
            connection.execute(text(insert))
        close(app)


def test_restoring_never_touches_a_database_that_holds_something(
    filled: str, settings: Settings, tmp_path: Path
) -> None:
    made = back_up(settings.data_dir, tmp_path / "stick", NOW, settings.database_url)
    before = rows(postgres_url(settings.database_url))
    with pytest.raises(DatabaseInUse, match="nothing in it was touched"):
        bring_back(made.folder, tmp_path / "again", settings.database_url)
    assert rows(postgres_url(settings.database_url)) == before
    assert not (tmp_path / "again").exists()
    assert not (tmp_path / "again.part").exists()


def test_a_backup_taken_while_phones_push_is_one_state(  # noqa: PLR0917
    filled: str, settings: Settings, tmp_path: Path, phone: Phone, app: Flask, new_id
) -> None:
    stop = threading.Event()

    def push() -> None:
        while not stop.is_set():
            phone.push(filled, [phone.change("item", new_id(), name="pump") for _ in range(9)])

    thread = threading.Thread(target=push)
    thread.start()
    made = [
        back_up(settings.data_dir, tmp_path / str(n), NOW, settings.database_url).folder
        for n in range(4)
    ]
    stop.set()
    thread.join()
    reports = [check_data(folder) for folder in made]
    assert [report.damage for report in reports] == [()] * 4
    assert reports[0].changes < reports[-1].changes


def test_a_database_of_another_version_is_not_copied_by_guess(
    filled: str, settings: Settings, tmp_path: Path, app: Flask
) -> None:
    with app.app_context(), db.engine.begin() as connection:
        connection.execute(text("UPDATE alembic_version SET version_num = '0001'"))
    with pytest.raises(OtherVersion, match="Start shedtally serve"):
        back_up(settings.data_dir, tmp_path / "stick", NOW, settings.database_url)
    assert list((tmp_path / "stick").iterdir()) == []


def test_the_check_names_a_missing_file_and_a_gap_in_the_log(
    filled: str, settings: Settings, app: Flask, jpeg: bytes
) -> None:
    assert check_data(settings.data_dir, settings.database_url).damage == ()
    shutil.rmtree(settings.data_dir / "photos" / hashlib.sha256(jpeg).hexdigest()[:2])
    with app.app_context(), db.engine.begin() as connection:
        connection.execute(text("DELETE FROM change WHERE cursor = 2"))
    damage = check_data(settings.data_dir, settings.database_url).damage
    assert [line.split(" ")[0] for line in damage] == ["database:", "photograph"]
    assert "2 changes are there, 3 were counted" in damage[0]


def test_a_folder_without_photographs_is_no_data_folder(settings: Settings, tmp_path: Path) -> None:
    with pytest.raises(NothingThere, match="--data"):
        back_up(tmp_path / "none", tmp_path / "stick", NOW, settings.database_url)
