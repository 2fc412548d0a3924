"""Data of every released version is brought up to date, on either database, and nothing is lost."""

from __future__ import annotations

from pathlib import Path

import pytest
from alembic import command
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from sqlalchemy import Engine, create_engine

import released
from shedtally.app import create_app
from shedtally.settings import Settings
from shedtally.storage.database import postgres_url, prepare
from shedtally.storage.migrate import configuration, migrate
from shedtally.storage.tables import db
from shedtally.storage.unit_of_work import reading


@pytest.fixture(params=["sqlite", "postgres"])
def url(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    if request.param == "sqlite":
        return ""
    return request.getfixturevalue("new_database")


@pytest.fixture
def engine(url: str, tmp_path: Path):
    made = create_engine(
        postgres_url(url) if url else f"sqlite:///{tmp_path / 'shedtally.sqlite3'}"
    )
    prepare(made)
    yield made
    made.dispose()


def as_released(engine: Engine, version: str) -> dict[str, list[str]]:
    """Make the tables of that version, with rows in them; what they hold."""
    with engine.begin() as connection:
        command.upgrade(configuration(connection), released.VERSIONS[version])
        released.fill(connection)
        return released.contents(connection)


@pytest.mark.parametrize("version", released.VERSIONS)
def test_every_released_version_is_brought_up_to_date_with_all_its_rows(
    engine: Engine, version: str, tmp_path: Path
) -> None:
    before = as_released(engine, version)
    assert all(before.values())
    migrate(engine, tmp_path / "migrate.lock")
    with engine.connect() as connection:
        assert released.contents(connection) == before
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        assert compare_metadata(context, db.metadata) == []


@pytest.mark.parametrize("version", released.VERSIONS)
def test_the_application_goes_on_with_the_data_of_every_released_version(
    engine: Engine, url: str, version: str, tmp_path: Path
) -> None:
    as_released(engine, version)
    app = create_app(Settings(tmp_path, database_url=url))
    with app.app_context():
        with reading() as uow:
            assert uow.server.identity().id == released.SERVER
            (one, two) = uow.log(released.BOAT).since(0, 10)
            assert two.change.values == {"name": "Maßband \N{WRENCH}", "of_later": 1.5}
            assert [clash.field for clash in uow.clashes(released.BOAT).open()] == ["name"]
            assert uow.photos.find(released.PHOTO) is not None
            assert (one.cursor, uow.log(released.BOAT).cursor()) == (1, 2)
        db.engine.dispose()


def test_every_migration_can_be_taken_back_and_run_again(engine: Engine) -> None:
    with engine.begin() as connection:
        for direction, to in (
            (command.upgrade, "head"),
            (command.downgrade, "base"),
            (command.upgrade, "head"),
        ):
            direction(configuration(connection), to)
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        assert compare_metadata(context, db.metadata) == []
