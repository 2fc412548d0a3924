"""How the tests are spread over worker processes (`pytest -n 3`): whole files, long ones first.

A file stays together, because most of its time may lie in what its tests share: a server, a
browser, a filled database. The files in APART share nothing dear; each of their tests goes alone.
Those in BY_CASE share what belongs to a case, the words in brackets behind a test's name.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from xdist.scheduler import LoadScopeScheduling

# Folders and files in the order in which they begin, the longest first; all others follow.
FIRST = ("browser", "faults", "simulation", "printing", "engines", "serving", "postgres", "bench")
APART = ("engines/", "faults/test_kill", "faults/test_full_disk", "faults/test_line")
BY_CASE = ("printing/test_demo_boat",)


def place(item: pytest.Item) -> int:
    """Where an item's folder stands in FIRST."""
    folder = Path(item.nodeid).parts[1]
    return FIRST.index(folder) if folder in FIRST else len(FIRST)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    items.sort(key=place)


def scope_of(nodeid: str) -> str:
    """What goes to one worker as a whole: a file, a case of it, or one test that stands apart."""
    file, _, test = nodeid.partition("::")
    short = file.removeprefix("tests/")
    if short.startswith(APART):
        return nodeid
    return f"{file}[{test.partition('[')[2]}" if short.startswith(BY_CASE) else file


@pytest.hookimpl(optionalhook=True)  # runs without workers need no pytest-xdist
def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> LoadScopeScheduling:
    from xdist.scheduler import LoadScopeScheduling

    class Files(LoadScopeScheduling):
        def _split_scope(self, nodeid: str) -> str:
            return scope_of(nodeid)

    config.option.loadscopereorder = False  # by their number of tests; a number says little
    return Files(config, log)
