"""Commands that were started end with the test run."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import pytest

from processes import Running, start_command


@pytest.fixture(scope="session")
def start() -> Iterator[Callable[..., Running]]:
    running: list[Running] = []

    def start_one(*words: str, **places: Any) -> Running:
        running.append(start_command(*words, **places))
        return running[-1]

    yield start_one
    for one in running:
        if one.process.poll() is None:
            one.stop()
