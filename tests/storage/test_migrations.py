"""The migrations make exactly the tables that the code declares, from an empty folder on."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from alembic.util import CommandError
from sqlalchemy import create_engine, text

from shedtally.app import create_app
from shedtally.storage import database
from shedtally.storage.migrate import MIGRATIONS
from shedtally.storage.tables import db
from shedtally.storage.unit_of_work import reading


def test_migrated_database_has_exactly_the_declared_tables(app) -> None:
    with app.app_context(), db.engine.connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        assert compare_metadata(context, db.metadata) == []


def test_migrations_are_one_line_without_branches() -> None:
    script = ScriptDirectory(str(MIGRATIONS))
    assert len(script.get_heads()) == 1
    assert len(script.get_bases()) == 1


def test_every_migration_can_be_taken_back_and_run_again(tmp_path: Path) -> None:
    from alembic import command

    from shedtally.storage.migrate import configuration

    engine = create_engine(f"sqlite:///{tmp_path / 'x.sqlite3'}")
    database.prepare(engine)
    with engine.begin() as connection:
        for direction in (command.upgrade, command.downgrade, command.upgrade):
            direction(
                configuration(connection), "base" if direction is command.downgrade else "head"
            )
        tables = connection.execute(text("SELECT count(*) FROM sqlite_master WHERE type='table'"))
        assert tables.scalar_one() == len(db.metadata.tables) + 1
    engine.dispose()


def test_second_start_keeps_what_the_first_made(app, settings) -> None:
    with app.app_context(), reading() as uow:
        first = uow.server.identity()
    again = create_app(settings)
    with again.app_context():
        with reading() as uow:
            assert uow.server.identity() == first
        db.engine.dispose()


def test_data_of_a_newer_version_is_refused_and_left_alone(app, settings) -> None:
    with app.app_context(), db.engine.begin() as connection:
        connection.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    with pytest.raises(CommandError, match="9999"):
        create_app(settings)
    with app.app_context(), db.engine.connect() as connection:
        assert connection.execute(text("SELECT count(*) FROM server")).scalar_one() == 1


def test_two_processes_may_start_on_one_new_folder_at_once(tmp_path: Path) -> None:
    code = (
        "import sys, pathlib\n"
        "from shedtally.app import create_app\n"
        "from shedtally.settings import Settings\n"
        "from shedtally.storage.unit_of_work import reading\n"
        "app = create_app(Settings(pathlib.Path(sys.argv[1])))\n"
        "with app.app_context(), reading() as uow:\n"
        "    print(uow.server.identity().id)\n"
    )
    command = [sys.executable, "-c", code, str(tmp_path / "data")]
    running = [subprocess.Popen(command, stdout=subprocess.PIPE, text=True) for _ in range(3)]
    answers = [process.communicate(timeout=60)[0].strip() for process in running]
    assert [process.returncode for process in running] == [0, 0, 0]
    assert len(set(answers)) == 1
    assert answers[0]
