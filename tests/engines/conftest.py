"""The two engines that phones have besides Chromium's, and a server that can be killed."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from engines.engine import Engine, NotInstalled
from engines.firefox import Firefox
from engines.webkit import WebKit
from real_server import RealServer


@pytest.fixture
def server(tmp_path: Path) -> Iterator[RealServer]:
    made = RealServer(tmp_path / "data")
    made.start()
    yield made
    made.kill()


@pytest.fixture(scope="session")
def display() -> Iterator[dict[str, str]]:
    """A screen that nobody sees: WebKitGTK has no mode without one."""
    program = shutil.which("Xvfb")
    if program is None:
        raise NotInstalled("Xvfb", "xvfb")
    reading, writing = os.pipe()
    words = ["-displayfd", str(writing), "-screen", "0", "1024x1024x24", "-nolisten", "tcp"]
    process = subprocess.Popen(
        [program, *words], pass_fds=[writing], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    )
    os.close(writing)
    with os.fdopen(reading) as said:
        number = said.readline().strip()
    assert number, "Xvfb did not start"
    # WebKitGTK keeps what it must between sessions under these; nothing of it is the person's.
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as home:
        yield {**os.environ, "DISPLAY": f":{number}", "HOME": home, "GDK_BACKEND": "x11"}
    process.terminate()
    process.wait(10)


@pytest.fixture
def webkit(display: dict[str, str]) -> Iterator[Engine]:
    engine = WebKit(display)
    yield engine
    engine.close()


@pytest.fixture
def open_firefox(tmp_path: Path) -> Iterator[Callable[[], Firefox]]:
    """Opens the one profile of this test, again after it was closed or killed."""
    opened: list[Firefox] = []

    def open_one() -> Firefox:
        opened.append(Firefox(tmp_path / "firefox"))
        return opened[-1]

    yield open_one
    for engine in opened:
        engine.close()


@pytest.fixture
def firefox(open_firefox: Callable[[], Firefox]) -> Engine:
    return open_firefox()


@pytest.fixture
def engine(request: pytest.FixtureRequest) -> Engine:
    """The engine that the test is parametrized with, by the name of its fixture."""
    made: Engine = request.getfixturevalue(request.param)
    return made
