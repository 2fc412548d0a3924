"""Real servers, on either database, ended with their test."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from postgres_server import Postgres
from real_server import RealServer


@pytest.fixture
def serve(tmp_path: Path) -> Iterator[Callable[..., RealServer]]:
    """Starts a server: ``serve(database="", workers=1, **settings)``."""
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
