"""A real server over HTTPS, and phones: Chromium at phone size that trusts the shed's authority.

Every phone has a profile of its own, so it can be closed, killed and opened again as a phone is.
"""

from __future__ import annotations

import contextlib
import os
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Playwright, expect

from browser.phone import PATIENCE_MS, Phone, Shed
from processes import CHROMIUM_ARGUMENTS, chromium, free_port, home_that_trusts, start_command

expect.set_options(timeout=PATIENCE_MS)

NAME = "shed.test"
FAKE_CAMERA = ("--use-fake-ui-for-media-stream", "--use-fake-device-for-media-stream")


@pytest.fixture(scope="module")
def shed(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shed]:
    """`shedtally serve` with its own authority, and a home folder whose browser trusts it."""
    data = tmp_path_factory.mktemp("shed") / "data"
    port, plain_port = free_port(), free_port()
    words = ("serve", "--data", str(data), "--name", NAME)
    ports = ("--port", str(port), "--plain-port", str(plain_port))
    running = start_command(*words, *ports, data=data, port=port, plain_port=plain_port)
    running.wait_for("fingerprint")
    home = home_that_trusts(tmp_path_factory.mktemp("home"), data / "authority" / "authority.pem")
    yield Shed(running, f"https://{NAME}:{port}", f"http://{NAME}:{plain_port}", home)
    if running.process.poll() is None:
        running.stop()


@pytest.fixture
def open_phone(playwright: Playwright, tmp_path: Path) -> Iterator[Callable[..., Phone]]:
    """Opens a phone: ``open_phone("M", shed, film=...)``; the same name opens the same profile."""
    with phones(playwright, tmp_path) as open_one:
        yield open_one


@contextlib.contextmanager
def phones(playwright: Playwright, folder: Path) -> Iterator[Callable[..., Phone]]:
    """Opens phones whose profiles lie in ``folder``, and closes them all at the end."""
    contexts = []

    def open_one(name: str, shed: Shed, *, film: Path | None = None, dark: bool = False) -> Phone:
        arguments = [
            *CHROMIUM_ARGUMENTS,
            *FAKE_CAMERA,
            f"--host-resolver-rules=MAP {NAME} 127.0.0.1",
        ]
        if film:
            arguments.append(f"--use-file-for-fake-video-capture={film}")
        context = playwright.chromium.launch_persistent_context(
            str(folder / f"profile-{name}"),
            executable_path=chromium(),
            args=arguments,
            env={**os.environ, "HOME": str(shed.home)},
            viewport={"width": 390, "height": 844},
            device_scale_factor=2,
            is_mobile=True,
            has_touch=True,
            permissions=["camera"],
            color_scheme="dark" if dark else "light",
        )
        context.set_default_timeout(PATIENCE_MS)
        contexts.append(context)
        return Phone(context, shed, name)

    try:
        yield open_one
    finally:
        for context in contexts:
            context.close()
