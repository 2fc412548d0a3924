"""The real server on a real SQLite file: requests, restarts, failing commits, backups."""

from __future__ import annotations

import datetime as dt
import io
import logging
import shutil
from collections.abc import Callable
from contextlib import contextmanager
from dataclasses import dataclass
from http.cookies import SimpleCookie
from pathlib import Path
from typing import Any
from urllib.parse import unquote, urlsplit

from flask import Flask
from sqlalchemy import delete, event, select

from shedtally.app import create_app
from shedtally.domain.sync.merge import State
from shedtally.settings import Settings
from shedtally.storage import tables
from shedtally.storage.photo_store import PhotoStore
from shedtally.storage.tables import db
from shedtally.storage.unit_of_work import reading, writing
from shedtally.usecases.back_up import back_up
from shedtally.usecases.bring_back import bring_back
from shedtally.usecases.pair_device import make_code, revoke_device


@dataclass(frozen=True)
class Reply:
    """What the server answered."""

    status: int
    headers: dict[str, str]
    body: bytes


class PowerCut(Exception):
    """The server died before its commit."""


class ShedServer:
    """A server whose data can be made new, lost and brought back at any time."""

    def __init__(self, folder: Path, clock: Callable[[], int]) -> None:
        self._clock = clock
        self._template = folder / "template"
        self._data = folder / "data"
        self._backups = folder / "backups"
        self._backup: Path | None = None
        self._fails = False
        self.app = create_app(Settings(self._template, keep_free_bytes=0), clock)
        _let_go(self.app)
        shutil.copytree(self._template, self._data)
        # Loggers belong to the whole process: what is hushed here is given back at the end.
        self._level = self.app.logger.level
        self.app = self._started()

    def _started(self) -> Flask:
        app = create_app(Settings(self._data, keep_free_bytes=0), self._clock)
        app.logger.setLevel(logging.CRITICAL + 1)
        return app

    def fresh(self) -> None:
        """An empty server, in the same process."""
        _let_go(self.app)
        for folder in (self._data, self._backups):
            shutil.rmtree(folder, ignore_errors=True)
        shutil.copytree(self._template, self._data)
        self._backup = None

    def restart(self) -> None:
        """Stop, and start again on the same data."""
        _let_go(self.app)
        self.app = self._started()

    def close(self) -> None:
        """Let go of the files."""
        self.app.logger.setLevel(self._level)
        _let_go(self.app)

    def back_up(self) -> None:
        """Make a backup; an older one is forgotten."""
        shutil.rmtree(self._backups, ignore_errors=True)
        now = dt.datetime.fromtimestamp(self._clock() / 1000, dt.UTC)
        self._backup = back_up(self._data, self._backups, now).folder

    def bring_back(self) -> bool:
        """Lose the data and go on from the last backup; whether there was one."""
        if self._backup is None:
            return False
        _let_go(self.app)
        shutil.rmtree(self._data)
        bring_back(self._backup, self._data)
        self.app = self._started()
        return True

    def lose_photos(self) -> None:
        """Let every photograph go, with its row, though records name it."""
        with self.app.app_context(), db.engine.begin() as connection:
            lost = list(connection.execute(select(tables.photo.c.sha256)).scalars())
            connection.execute(delete(tables.photo))
        for sha256 in lost:
            PhotoStore(self._data, 0, 0, 0).original(sha256).unlink()

    def pairing_code(self) -> str:
        """A code that lets one device in."""
        with self.app.app_context(), writing() as uow:
            return make_code(uow, self._clock()).code

    def revoke(self, device: str) -> None:
        """Shut a device out, as an owner would on the screen of devices."""
        with self.app.app_context(), writing() as uow:
            revoke_device(uow, device, self._clock())

    def states(self, boat: str, names: set[tuple[str, str]]) -> dict[tuple[str, str], State]:
        """The records as the server holds them."""
        with self.app.app_context(), reading() as uow:
            return uow.records(boat).states(names)

    def cursor(self, boat: str) -> int:
        """How many changes the boat has."""
        with self.app.app_context(), reading() as uow:
            return uow.log(boat).cursor()

    def has_preview(self, sha256: str) -> bool:
        """Whether a small picture sent ahead still stands in for a photograph."""
        return PhotoStore(self._data, 0, 0, 0).preview(sha256).exists()

    def clash_rows(self, boat: str) -> list[dict[str, Any]]:
        """Every clash that was ever listed, settled or not."""
        query = select(tables.clash).where(tables.clash.c.boat == boat)
        with self.app.app_context(), db.engine.connect() as connection:
            return [dict(row) for row in connection.execute(query).mappings()]

    @contextmanager
    def dying(self):
        """Every commit fails while this lasts, as if the power went."""

        def die(_session: object) -> None:
            raise PowerCut

        event.listen(db.session, "before_commit", die)
        try:
            yield
        finally:
            event.remove(db.session, "before_commit", die)

    def request(
        self, method: str, path: str, headers: dict[str, str], body: bytes | None, cookie: str
    ) -> tuple[Reply, str]:
        """One request by a device: the reply, and its cookie after it."""
        environ = _environ(method, path, headers, body, cookie)
        got: dict[str, Any] = {}

        def start_response(status: str, sent: list[tuple[str, str]], *_: object) -> Any:
            got["status"] = int(status[:3])
            got["headers"] = sent

        answer = self.app.wsgi_app(environ, start_response)
        try:
            content = b"".join(answer)
        finally:
            if hasattr(answer, "close"):
                answer.close()
        for name, value in got["headers"]:
            if name == "Set-Cookie":
                cookie = next(iter(SimpleCookie(value).values())).value
        shown = {name: value for name, value in got["headers"] if name in _SHOWN}
        return Reply(got["status"], shown, content), cookie


_SHOWN = {"Content-Type", "Content-Encoding", "ETag", "Retry-After", "X-Shedtally-Preview"}


def _environ(
    method: str, path: str, headers: dict[str, str], body: bytes | None, cookie: str
) -> dict[str, Any]:
    address = urlsplit(path)
    environ: dict[str, Any] = {
        "REQUEST_METHOD": method,
        "SCRIPT_NAME": "",
        "PATH_INFO": unquote(address.path),
        "QUERY_STRING": address.query,
        "SERVER_NAME": "localhost",
        "SERVER_PORT": "80",
        "SERVER_PROTOCOL": "HTTP/1.1",
        "REMOTE_ADDR": "127.0.0.1",
        "HTTP_HOST": "localhost",
        "wsgi.version": (1, 0),
        "wsgi.url_scheme": "http",
        "wsgi.input": io.BytesIO(body or b""),
        "wsgi.errors": io.StringIO(),
        "wsgi.multithread": False,
        "wsgi.multiprocess": False,
        "wsgi.run_once": False,
    }
    for name, value in headers.items():
        upper = name.upper().replace("-", "_")
        environ[upper if upper == "CONTENT_TYPE" else f"HTTP_{upper}"] = value
    if body is not None:
        environ["CONTENT_LENGTH"] = str(len(body))
    if cookie:
        environ["HTTP_COOKIE"] = f"shedtally={cookie}"
    return environ


def _let_go(app: Flask) -> None:
    with app.app_context():
        db.engine.dispose()
