"""How the database is opened: what is promised must be on the disk, and nobody is overtaken."""

from __future__ import annotations

import sqlite3
import threading
from contextlib import closing

import pytest
from sqlalchemy import text
from sqlalchemy.exc import OperationalError

from shedtally.app import create_app
from shedtally.storage import database
from shedtally.storage.database import journal_mode
from shedtally.storage.tables import db
from shedtally.storage.unit_of_work import reading, writing


# Source of the versions: https://www.sqlite.org/wal.html#walresetbug
@pytest.mark.parametrize(
    ("version", "mode"),
    [
        ((3, 40, 1), "DELETE"),
        ((3, 44, 5), "DELETE"),
        ((3, 44, 6), "WAL"),
        ((3, 45, 9), "DELETE"),
        ((3, 50, 6), "DELETE"),
        ((3, 50, 7), "WAL"),
        ((3, 51, 2), "DELETE"),
        ((3, 51, 3), "WAL"),
        ((3, 52, 0), "WAL"),
        ((4, 0, 0), "WAL"),
    ],
)
def test_wal_only_where_its_reset_is_mended(version: tuple[int, int, int], mode: str) -> None:
    assert journal_mode(version) == mode


def test_commits_wait_for_the_disk(app) -> None:
    with app.app_context(), db.engine.connect() as connection:
        full = 2
        assert connection.execute(text("PRAGMA synchronous")).scalar_one() == full
        mode = connection.execute(text("PRAGMA journal_mode")).scalar_one()
        assert mode == journal_mode().lower()
        assert connection.execute(text("PRAGMA foreign_keys")).scalar_one() == 1


def test_read_then_write_from_many_threads_loses_no_update(app) -> None:
    with app.app_context(), db.engine.begin() as connection:
        connection.execute(text("CREATE TABLE tally (n INTEGER)"))
        connection.execute(text("INSERT INTO tally VALUES (0)"))

    def add_fifty() -> None:
        with app.app_context():
            for _ in range(50):
                with db.engine.begin() as connection:
                    n = connection.execute(text("SELECT n FROM tally")).scalar_one()
                    connection.execute(text("UPDATE tally SET n = :n"), {"n": n + 1})

    threads = [threading.Thread(target=add_fifty) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    with app.app_context(), db.engine.connect() as connection:
        assert connection.execute(text("SELECT n FROM tally")).scalar_one() == 200


def test_a_long_read_keeps_nobody_from_starting_to_write(app) -> None:
    with app.app_context(), reading() as uow:
        uow.server.identity()
        started = threading.Event()

        def write() -> None:
            with app.app_context(), db.engine.connect() as connection:
                connection.begin()
                started.set()
                connection.rollback()

        thread = threading.Thread(target=write)
        thread.start()
        assert started.wait(5)
        thread.join()


def test_a_reader_sees_one_state_throughout(app, phone, boat) -> None:
    with app.app_context(), reading() as uow:
        before = uow.log(boat).cursor()
        thread = threading.Thread(
            target=lambda: phone.push(boat, [phone.change("boat", boat, note="n")])
        )
        thread.start()
        assert uow.log(boat).cursor() == before
    thread.join()
    with app.app_context(), reading() as uow:
        assert uow.log(boat).cursor() == before + 1


def test_a_second_writer_waits_and_does_not_run_beside_the_first(app) -> None:
    with app.app_context(), writing() as uow:
        uow.server.start_epoch()
        outcome: list[str] = []

        def write() -> None:
            with app.app_context(), db.engine.connect() as connection:
                connection.connection.driver_connection.execute("PRAGMA busy_timeout=50")
                try:
                    connection.begin()
                except OperationalError as error:
                    outcome.append(str(error.orig))

        thread = threading.Thread(target=write)
        thread.start()
        thread.join()
    assert outcome == ["database is locked"]


def test_a_commit_that_fails_leaves_no_transaction_behind(settings, monkeypatch) -> None:
    """Outside WAL a long read makes commits fail; the next writer must not meet their remains."""
    monkeypatch.setattr(database, "WAIT_S", 0.1)
    monkeypatch.setattr(database, "journal_mode", lambda: "DELETE")
    app = create_app(settings)
    with app.app_context():
        with closing(sqlite3.connect(settings.data_dir / "shedtally.sqlite3")) as reader:
            reader.execute("BEGIN")
            reader.execute("SELECT * FROM server").fetchall()
            with reading() as uow:
                before = uow.server.identity()
            with pytest.raises(OperationalError, match="database is locked"), writing() as uow:
                uow.server.start_epoch()
            with db.engine.connect() as connection:
                assert connection.execute(text("SELECT epoch FROM server")).scalar_one()
        with reading() as uow:
            assert uow.server.identity() == before
        with writing() as uow:
            uow.server.start_epoch()
        with reading() as uow:
            assert uow.server.identity() != before
        db.engine.dispose()


def write_and_fail() -> None:
    with writing() as uow:
        uow.server.start_epoch()
        raise RuntimeError("midway")


def test_what_was_raised_is_rolled_back(app) -> None:
    with app.app_context():
        with reading() as uow:
            before = uow.server.identity()
        with pytest.raises(RuntimeError, match="midway"):
            write_and_fail()
        with reading() as uow:
            assert uow.server.identity() == before
