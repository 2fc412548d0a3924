"""The server is killed in mid-work: what it acknowledged is there, and nothing is there by half.

A few kills; `kill_many.py` beside this file is the same with hundreds.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from faults.kill_many import kill_many
from real_server import RealServer


@pytest.mark.parametrize("database", ["sqlite", "postgres"])
def test_all_that_was_acknowledged_survives_being_killed(
    serve: Callable[..., RealServer], database: str, request: pytest.FixtureRequest
) -> None:
    if database == "sqlite":
        server = serve()
    else:
        server = serve(database=request.getfixturevalue("new_database"), workers=2)
    outcome = kill_many(server, 3, seed=42)
    assert outcome.wrong == []
    assert outcome.kills.total() == 3
    assert outcome.changes_survived == outcome.changes_acknowledged > 3
    assert outcome.photos_survived == outcome.photos_acknowledged
