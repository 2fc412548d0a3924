"""What every kind of test shares: an application on a data folder of its own, and phones."""

from __future__ import annotations

import base64
import hashlib
import io
import uuid
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from flask import Flask
from flask.testing import FlaskClient
from PIL import Image

from postgres_server import Postgres, empty, running_postgres
from real_server import RealServer
from shedtally.app import create_app
from shedtally.domain.sync import stamp
from shedtally.settings import Settings
from shedtally.storage.tables import db
from shedtally.storage.unit_of_work import writing
from shedtally.usecases.pair_device import make_code
from spread import pytest_collection_modifyitems, pytest_xdist_make_scheduler

__all__ = ["pytest_collection_modifyitems", "pytest_xdist_make_scheduler"]

# 2026-05-04 18:30 UTC; any day would do.
START_MS = 1_777_919_400_000
WRITE = {"X-Shedtally": "1"}


class Browser(FlaskClient):
    """A client that reads every answer to its end, as browsers do, and closes it."""

    def open(self, *args: object, **options: object):
        return super().open(*args, buffered=True, **options)


@dataclass
class Clock:
    """A clock that goes only when told."""

    ms: int = START_MS

    def __call__(self) -> int:
        return self.ms


@dataclass
class Phone:
    """A device as the server sees it: a cookie jar, an id, a running number, a clock of its own."""

    http: FlaskClient
    clock: Clock
    device: str = field(default_factory=lambda: str(uuid.uuid4()))
    seq: int = 0
    ahead_ms: int = 0
    last_stamp: str = stamp.FIRST

    def change(self, table: str, key: str, base: int = 0, **values: object) -> dict:
        """A new change, stamped by this phone."""
        self.seq += 1
        self.last_stamp = stamp.following(self.last_stamp, self.clock.ms + self.ahead_ms)
        return {
            "id": str(uuid.uuid4()),
            "device": self.device,
            "seq": self.seq,
            "stamp": self.last_stamp,
            "table": table,
            "key": key,
            "set": values,
            "base": base,
        }

    def push(self, boat: str, changes: list, schema: int = 1):
        body = {"schema": schema, "changes": changes}
        return self.http.post(f"/api/boats/{boat}/changes", json=body, headers=WRITE)

    def pull(self, boat: str, since: int = 0, limit: int = 500):
        return self.http.get(f"/api/boats/{boat}/changes?since={since}&limit={limit}")

    def pull_all(self, boat: str) -> list[dict]:
        found: list[dict] = []
        since = 0
        while True:
            page = self.pull(boat, since).json
            found += page["changes"]
            if not page["more"]:
                return found
            since = page["cursor"]

    def put_photo(
        self,
        body: bytes,
        digest: str | None = None,
        kind: str = "image/jpeg",
        announced: int | None = None,
        **environ: object,
    ):
        """Upload ``body``, saying that it has ``announced`` bytes, or as many as it has."""
        digest = digest or hashlib.sha256(body).hexdigest()
        environ["CONTENT_LENGTH"] = str(len(body) if announced is None else announced)
        return self.http.put(
            f"/api/photos/{digest}",
            input_stream=io.BytesIO(body),
            content_type=kind,
            headers=WRITE,
            environ_overrides=environ,
        )

    def put_preview(
        self,
        of: str,
        body: bytes,
        kind: str = "image/jpeg",
        announced: int | None = None,
        digest: bytes | None = None,
        **environ: object,
    ):
        """Send ``body`` ahead of the photo ``of``, as a small picture of it."""
        told = base64.b64encode(digest or hashlib.sha256(body).digest()).decode()
        environ["CONTENT_LENGTH"] = str(len(body) if announced is None else announced)
        return self.http.put(
            f"/api/photos/{of}/preview",
            input_stream=io.BytesIO(body),
            content_type=kind,
            headers={**WRITE, "Content-Digest": f"sha-256=:{told}:"},
            environ_overrides=environ,
        )

    def new_boat(self, name: str = "Corncrake") -> str:
        key = str(uuid.uuid4())
        reply = self.push(key, [self.change("boat", key, name=name)])
        assert reply.json["results"][0]["outcome"] == "accepted"
        return key


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture(scope="session")
def postgres() -> Iterator[Postgres]:
    """A PostgreSQL server that ends with the test run."""
    with running_postgres() as server:
        yield server


@pytest.fixture(scope="session")
def shared_database(postgres: Postgres) -> Iterator[str]:
    """One database with its tables, for tests that need it empty."""
    with postgres.a_database() as url:
        yield url


@pytest.fixture
def serve(tmp_path: Path) -> Iterator[Callable[..., RealServer]]:
    """Starts a real server process: ``serve(database="", workers=1, **settings)``."""
    started: list[RealServer] = []

    def serve_one(**options: object) -> RealServer:
        server = RealServer(tmp_path / f"data{len(started)}", **options)
        server.start()
        started.append(server)
        return server

    yield serve_one
    for server in started:
        server.kill()


@pytest.fixture
def new_database(postgres: Postgres) -> Iterator[str]:
    """A PostgreSQL database without tables."""
    with postgres.a_database() as url:
        yield url


@pytest.fixture
def database(request: pytest.FixtureRequest) -> Iterator[str]:
    """The address of an empty PostgreSQL database; empty for SQLite in the data folder."""
    if getattr(request, "param", "sqlite") == "sqlite":
        yield ""
        return
    url = request.getfixturevalue("shared_database")
    yield url
    empty(url)


@pytest.fixture
def settings(tmp_path: Path, database: str) -> Settings:
    return Settings(data_dir=tmp_path / "data", database_url=database, keep_free_bytes=0)


@pytest.fixture
def app(settings: Settings, clock: Clock) -> Iterator[Flask]:
    made = create_app(settings, clock)
    made.test_client_class = Browser
    yield made
    close(made)


@pytest.fixture
def client(app: Flask) -> FlaskClient:
    """A browser that is not paired."""
    return app.test_client()


@pytest.fixture
def pair(app: Flask, clock: Clock) -> Callable[..., Phone]:
    """Pairs one more phone each time it is called."""

    def pair_one(device: str | None = None, name: str = "phone") -> Phone:
        with app.app_context(), writing() as uow:
            code = make_code(uow, clock()).code
        phone = Phone(app.test_client(), clock)
        phone.device = device or phone.device
        body = {"code": code, "device": phone.device, "name": name}
        reply = phone.http.post("/api/pair", json=body, headers=WRITE)
        assert reply.status_code == 200, reply.json
        return phone

    return pair_one


@pytest.fixture
def phone(pair: Callable[..., Phone]) -> Phone:
    return pair()


@pytest.fixture
def boat(phone: Phone) -> str:
    return phone.new_boat()


@pytest.fixture
def jpeg() -> bytes:
    return draw_picture("JPEG")


@pytest.fixture
def picture() -> Callable[..., bytes]:
    """Draws a picture: ``picture("PNG", (width, height), **options of the encoder)``."""
    return draw_picture


def draw_picture(form: str, size: tuple[int, int] = (400, 300), **options: object) -> bytes:
    """A small drawn picture."""
    buffer = io.BytesIO()
    Image.linear_gradient("L").resize(size).convert("RGB").save(buffer, form, **options)
    return buffer.getvalue()


def close(app: Flask) -> None:
    """Let go of the database files, so that no connection outlives its test."""
    with app.app_context():
        db.engine.dispose()


@pytest.fixture
def new_id() -> Callable[[], str]:
    return lambda: str(uuid.uuid4())
