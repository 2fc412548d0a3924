"""Joining the parts of the server; the only module that knows all of them."""

from __future__ import annotations

import os
import time
from collections.abc import Callable

from flask_openapi3.models.info import Info
from flask_openapi3.openapi import OpenAPI
from werkzeug.middleware.proxy_fix import ProxyFix

from shedtally.rules.load import load
from shedtally.rules.local_folder import LocalFolder
from shedtally.settings import Settings
from shedtally.settings import from_environment as settings_from
from shedtally.storage import database, migrate
from shedtally.storage.photo_store import PhotoStore
from shedtally.storage.tables import db
from shedtally.storage.unit_of_work import writing
from shedtally.usecases.shed import Shed
from shedtally.web import (
    box_lists,
    compress,
    describe,
    float_lists,
    guard,
    inflate,
    lists,
    mass_lists,
    order_lists,
    pages,
    pairing,
    photos,
    problems,
    quantities,
    rescue,
    rules,
    schedules,
    schemas,
    sync,
    tags,
    tank_lists,
    waste_papers,
    wire_lists,
    work,
)

# As it travels; what is gzipped may be larger unpacked, and photos have their own limit.
MAX_JSON_BYTES = 8_000_000


def now_ms() -> int:
    """The server's clock, in milliseconds since 1970."""
    return time.time_ns() // 1_000_000


def from_environment() -> OpenAPI:
    """The application for any WSGI server, with its settings from SHEDTALLY_... variables."""
    return create_app(settings_from(os.environ))


def create_app(settings: Settings, clock: Callable[[], int] = now_ms) -> OpenAPI:
    """Make the application for one data folder, and bring its database up to date.

    Raises: alembic.util.CommandError if the data is from a newer version; DatabaseUnusable.
    """
    settings.data_dir.mkdir(parents=True, exist_ok=True)
    app = OpenAPI(
        "shedtally",
        info=Info(title="Shedtally", version="1"),
        validation_error_callback=problems.from_validation,
        validation_error_model=schemas.Problem,
        doc_ui=False,
        static_folder=None,
    )
    _configure(app, settings)
    _open_database(app, settings)
    photo_store = PhotoStore(
        settings.data_dir,
        settings.max_photo_bytes,
        settings.max_photo_pixels,
        settings.keep_free_bytes,
    )
    photo_store.remove_leftovers(time.time())
    app.extensions["shedtally"] = Shed(
        settings.name,
        settings.address,
        photo_store,
        LocalFolder(settings.data_dir, load()).now,
        clock,
    )
    guard.install(app)
    inflate.install(app)
    compress.install(app)
    problems.install(app)
    for group in (
        pairing,
        sync,
        photos,
        rescue,
        tags,
        lists,
        waste_papers,
        quantities,
        mass_lists,
        tank_lists,
        box_lists,
        float_lists,
        order_lists,
        wire_lists,
        schedules,
        work,
        rules,
    ):
        app.register_api(group.api)
    description = describe.described(app)
    app.add_url_rule("/api/openapi.json", "openapi", lambda: description)
    app.register_blueprint(pages.pages)
    return app


def _configure(app: OpenAPI, settings: Settings) -> None:
    url = f"sqlite:///{settings.data_dir / 'shedtally.sqlite3'}"
    if settings.database_url:
        url = database.postgres_url(settings.database_url)
    app.config.update(
        SQLALCHEMY_DATABASE_URI=url,
        SQLALCHEMY_ENGINE_OPTIONS=database.engine_options(url),
        MAX_CONTENT_LENGTH=MAX_JSON_BYTES,
        SHEDTALLY_HOSTS=frozenset(settings.trusted_hosts),
        SHEDTALLY_CLIENT=settings.client_dir or pages.CLIENT,
    )
    app.json.sort_keys = False  # type: ignore[attr-defined]  # the default provider has it
    if settings.proxies:
        count = settings.proxies
        app.wsgi_app = ProxyFix(app.wsgi_app, x_for=count, x_proto=count, x_host=count)  # type: ignore[method-assign]


def _open_database(app: OpenAPI, settings: Settings) -> None:
    db.init_app(app)
    with app.app_context():
        database.prepare(db.engine)
        migrate.migrate(db.engine, settings.data_dir / "migrate.lock")
        with writing() as uow:
            uow.server.make()
