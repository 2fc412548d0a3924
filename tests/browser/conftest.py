"""A real server over HTTPS, and phones: Chromium at phone size that trusts the shed's authority.

Every phone has a profile of its own, so it can be closed, killed and opened again as a phone is.
"""

from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from browser.phone import Phone, Shed
from playwright.sync_api import Playwright

from processes import free_port, start_command

NAME = "shed.test"
ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    f"--host-resolver-rules=MAP {NAME} 127.0.0.1",
]
CAMERA = ["--use-fake-ui-for-media-stream", "--use-fake-device-for-media-stream"]


@pytest.fixture(scope="session")
def chromium() -> str:
    """The browser's program; its absence is a failure that names the cure, never a skip."""
    named = os.environ.get("SHEDTALLY_CHROMIUM")
    for candidate in (named, "chromium", "chromium-browser", "google-chrome"):
        found = shutil.which(candidate) if candidate else None
        if found:
            return found
    pytest.fail("no Chromium found; python3 tests/run.py installs it, or set SHEDTALLY_CHROMIUM")


@pytest.fixture(scope="module")
def shed(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shed]:
    """`shedtally serve` with its own authority, and a home folder whose browser trusts it."""
    data = tmp_path_factory.mktemp("shed") / "data"
    port, plain_port = free_port(), free_port()
    words = ("serve", "--data", str(data), "--name", NAME)
    ports = ("--port", str(port), "--plain-port", str(plain_port))
    running = start_command(*words, *ports, data=data, port=port, plain_port=plain_port)
    running.wait_for("fingerprint")
    home = tmp_path_factory.mktemp("home")
    trust(home, data / "authority" / "authority.pem")
    yield Shed(running, f"https://{NAME}:{port}", f"http://{NAME}:{plain_port}", home)
    if running.process.poll() is None:
        running.stop()


@pytest.fixture
def open_phone(
    playwright: Playwright, chromium: str, tmp_path: Path
) -> Iterator[Callable[..., Phone]]:
    """Opens a phone: ``open_phone("M", shed, film=...)``; the same name opens the same profile."""
    contexts = []

    def open_one(name: str, shed: Shed, *, film: Path | None = None, **more: Any) -> Phone:
        arguments = [*ARGUMENTS, *CAMERA]
        if film:
            arguments.append(f"--use-file-for-fake-video-capture={film}")
        home = more.pop("home", shed.home)
        context = playwright.chromium.launch_persistent_context(
            str(tmp_path / f"profile-{name}"),
            executable_path=chromium,
            args=arguments,
            env={**os.environ, "HOME": str(home)},
            viewport={"width": 390, "height": 844},
            device_scale_factor=2,
            is_mobile=True,
            has_touch=True,
            permissions=["camera"],
            **more,
        )
        context.set_default_timeout(15_000)
        contexts.append(context)
        return Phone(context, shed, name)

    yield open_one
    for context in contexts:
        context.close()


def trust(home: Path, authority: Path) -> None:
    """Put the authority into the certificate store that Chromium reads from this home folder."""
    store = home / ".pki" / "nssdb"
    store.mkdir(parents=True)
    certutil = shutil.which("certutil")
    if certutil is None:
        pytest.fail("no certutil found; apt-get install libnss3-tools")
    base = [certutil, "-d", f"sql:{store}"]
    subprocess.run([*base, "-N", "--empty-password"], check=True)
    add = ["-A", "-t", "C,,", "-n", "shed authority", "-i", str(authority)]
    subprocess.run([*base, *add], check=True)
