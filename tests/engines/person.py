"""A person at a browser of any engine, in the words of the screens; no camera, so files."""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from browser.phone import CONTROLLED, READ_STORE
from engines.engine import Engine, NotThere
from real_server import RealServer

WAITS_S = 40
PICKER = "//input[@type='file']"
NOTE = "//textarea"


def link(words: str) -> str:
    return f"//a[contains(normalize-space(.), '{words}')]"


def button(words: str) -> str:
    return f"//button[contains(normalize-space(.), '{words}')]"


def field(label: str) -> str:
    return f"//input[@id = //label[contains(normalize-space(.), '{label}')]/@for]"


class Person:
    """Does what its owner does, and waits for what its owner waits for."""

    def __init__(self, engine: Engine, server: RealServer) -> None:
        self.engine = engine
        self.server = server

    def open(self, path: str = "/") -> None:
        self.engine.open(self.server.address + path)

    def pair(self, name: str) -> None:
        self.open(f"/pair#{self.server.new_code()}")
        self.type(field("Name of this phone"), name)
        self.press(button("Pair"))
        self.until(lambda: self.path() != "/pair", "pairing did not end")

    def begin_boat(self, name: str) -> None:
        self.type(field("Name of the boat"), name)
        self.press(button("Begin this boat"))
        self.until(lambda: self.path() == "/", "the boat was not begun")

    def ready_for_offline(self) -> None:
        """Until the service worker holds the app, and the server has given tags."""
        self.engine.ask(CONTROLLED)
        self.until(lambda: len(self.stored("tag")) > 0, "the server gave no tags")
        self.until(self.is_sent, "the boat itself was not sent")

    def next_code(self) -> str:
        words = self.engine.ask(
            "async () => document.querySelector('[data-testid=next-code]')?.textContent ?? ''"
        )
        return str(words).replace("-", "")

    def take_out(self, condition: str, picture: Path) -> str:
        """One item with a picture from a file; its tag's code, once it is kept."""
        before = len(self.items())
        self.press(f"//label[contains(normalize-space(.), '{condition}')]")
        self.until(lambda: len(self.next_code()) == 6, "no tag was offered")
        code = self.next_code()
        self.within(lambda: self.engine.choose_file(PICKER, picture), "there is no file picker")
        self.until(lambda: len(self.items()) > before, "the item was not kept")
        self.until(lambda: "Kept on this phone" in self.text(), "the screen never said kept")
        return code

    def find(self, code: str) -> str:
        """What the screen says of the item whose tag has this code."""
        self.press(link("Find"))
        self.type(field("Or type its code"), code)
        self.press(button("Open"))
        self.until(lambda: self.path().startswith("/item/"), "no item was opened")
        return self.text()

    def is_sent(self) -> bool:
        return not self.stored("outbox") and not self.stored("photo_outbox")

    def send_now(self) -> None:
        self.open("/kept")
        self.press(button("Send and receive now"))

    def items(self) -> list[dict[str, Any]]:
        return [row for row in self.stored("record") if row["table"] == "item"]

    def stored(self, store: str) -> list[dict[str, Any]]:
        return list(self.engine.ask(READ_STORE, store))

    def path(self) -> str:
        return str(self.engine.ask("async () => location.pathname"))

    def text(self) -> str:
        return str(self.engine.ask("async () => document.body.innerText"))

    def press(self, xpath: str) -> None:
        self.within(lambda: self.engine.click(xpath), f"nothing to press: {xpath}")

    def type(self, xpath: str, text: str) -> None:
        self.within(lambda: self.engine.type(xpath, text), f"no such field: {xpath}")

    def within(self, act: Callable[[], None], complaint: str) -> None:
        """Do it as soon as the page is ready for it."""

        def done() -> bool:
            try:
                act()
            except NotThere:
                return False
            return True

        self.until(done, complaint)

    def until(self, true: Callable[[], bool], complaint: str) -> None:
        deadline = time.monotonic() + WAITS_S
        while not true():
            assert time.monotonic() < deadline, f"{self.engine.name}: {complaint}\n{self.text()}"
            time.sleep(0.1)
