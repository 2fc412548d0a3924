"""`shedtally demo`: the demo boat on this machine alone, with the first browser let in."""

from __future__ import annotations

import os
import shutil
import sys
import tempfile
import threading
import webbrowser
from dataclasses import replace
from pathlib import Path

from shedtally.serving import announce
from shedtally.serving.address import StableAddress
from shedtally.serving.application import application, opened
from shedtally.serving.listen import Listener, ensure_free, listen
from shedtally.serving.pairing import link, new_code
from shedtally.serving.plan import settings_for
from shedtally.usecases.demo_source import demo_source
from shedtally.usecases.load_demo import load
from shedtally.web.setup import SetupFacts

HOST = "127.0.0.1"


def demo(data: Path | None, port: int, *, browser: bool) -> None:
    """Serve the demo boat until stopped; ends with SystemExit.

    Args: data: a folder that keeps it; None = a temporary one, removed at the end.
    Raises: CannotListen, before anything is made.
    """
    listener = Listener(HOST, port)
    ensure_free(listener, "--port")
    folder = data or Path(tempfile.mkdtemp(prefix="shedtally-demo-"))
    # localhost needs no certificate: browsers count it as safe.
    address = StableAddress(HOST, port, "http")
    # Never the database of the real boats, whatever the environment says.
    settings = replace(settings_for(folder, address), name="Demo shed", database_url="")
    announce.say(["Making the demo boat ready; it takes some seconds."])
    with opened(settings) as shed:
        load(shed, demo_source())
    url = link(address.url, new_code(settings))
    listen(
        listener,
        lambda: application(settings, SetupFacts(address.url)),
        when_ready=lambda: announce.say(_lines(address.url, url, data)),
        in_worker=(lambda: _open(url)) if browser and _has_screen() else lambda: None,
        at_end=(lambda: None) if data else lambda: shutil.rmtree(folder, ignore_errors=True),
    )


def _lines(address: str, url: str, data: Path | None) -> list[str]:
    where = f"It is kept in {data}." if data else "Nothing is kept after it stops."
    return [
        "",
        f"The demo boat is at {address}",
        "  Open this first; it lets one browser in, once, within 5 minutes:",
        f"  {url}",
        f"  {where} Stop it with Ctrl-C.",
    ]


def _open(url: str) -> None:
    threading.Thread(target=webbrowser.open, args=(url,), daemon=True).start()


def _has_screen() -> bool:
    """Without one, the library would start a text browser over these lines."""
    on_linux = sys.platform.startswith("linux")
    return not on_linux or bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))
