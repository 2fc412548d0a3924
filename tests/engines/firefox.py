"""Firefox, driven by WebDriver BiDi: it speaks that itself, so no driver beside it is needed."""

from __future__ import annotations

import contextlib
import itertools
import json
import os
import shutil
import signal
import subprocess
import time
from pathlib import Path
from typing import Any

import websocket

from engines.engine import NotInstalled, NotThere
from processes import free_port

PREFERENCES = {
    # It would otherwise fetch updates, lists and experiments while the test runs.
    "app.normandy.enabled": False,
    "app.update.disabledForTesting": True,
    "browser.safebrowsing.update.enabled": False,
    "browser.shell.checkDefaultBrowser": False,
    "browser.startup.page": 0,
    "datareporting.policy.dataSubmissionEnabled": False,
    "extensions.update.enabled": False,
    "network.captive-portal-service.enabled": False,
    "network.connectivity-service.enabled": False,
    "services.settings.server": "data:,#remote-settings-dummy/v1",
    "toolkit.telemetry.enabled": False,
    # As on a phone that has no camera to give: the app then offers the file picker.
    "media.navigator.enabled": True,
    "media.getusermedia.camera.deny": True,
    "permissions.default.camera": 2,
}
STARTS_WITHIN_S = 30
FUNCTION = "(argument) => (%s)(JSON.parse(argument)).then((value) => JSON.stringify(value ?? null))"
CENTRE = """
(element) => element.scrollIntoView({ block: "center", behavior: "instant" })
"""


class Refused(NotThere):
    """Firefox did not do what it was asked to; mostly since the page has changed under it."""


class Firefox:
    """One profile, which may be opened again after it was closed or killed."""

    name = "Firefox"

    def __init__(self, profile: Path) -> None:
        program = shutil.which("firefox-esr") or shutil.which("firefox")
        if program is None:
            raise NotInstalled("Firefox", "firefox-esr")
        profile.mkdir(exist_ok=True)
        lines = [
            f'user_pref("{name}", {json.dumps(value)});' for name, value in PREFERENCES.items()
        ]
        (profile / "user.js").write_text("\n".join(lines), encoding="utf-8")
        self._numbers = itertools.count(1)
        self._start(program, profile)

    def _start(self, program: str, profile: Path) -> None:
        port = free_port()
        self.process = subprocess.Popen(
            [program, "--headless", "--no-remote", "--profile", str(profile),
             "--remote-debugging-port", str(port), "about:blank"],
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
            env={**os.environ, "MOZ_DISABLE_AUTO_SAFE_MODE": "1"},
        )  # fmt: skip
        deadline = time.monotonic() + STARTS_WITHIN_S
        while True:
            try:
                address = f"ws://127.0.0.1:{port}/session"
                self._line = websocket.create_connection(address, timeout=30, suppress_origin=True)
                break
            except (OSError, websocket.WebSocketException):
                assert self.process.poll() is None, "Firefox ended before it could be talked to"
                assert time.monotonic() < deadline, "Firefox did not begin to listen"
                time.sleep(0.1)
        self.call("session.new", capabilities={})
        self._page = self.call("browsingContext.getTree")["contexts"][0]["context"]
        size = {"width": 390, "height": 844}
        self.call("browsingContext.setViewport", context=self._page, viewport=size)

    def call(self, method: str, **parameters: object) -> Any:
        """The result of one command of the protocol."""
        number = next(self._numbers)
        self._line.send(json.dumps({"id": number, "method": method, "params": parameters}))
        while True:
            message = json.loads(self._line.recv())
            if message.get("id") != number:
                continue  # an event
            if message["type"] == "error":
                raise Refused(f"{method}: {message['error']}: {message['message']}")
            return message["result"]

    def open(self, address: str) -> None:
        self.call("browsingContext.navigate", context=self._page, url=address, wait="complete")

    def reload(self) -> None:
        self.call("browsingContext.reload", context=self._page, wait="complete")

    def ask(self, function: str, argument: object = None) -> Any:
        written = {"type": "string", "value": json.dumps(argument)}
        result = self._run(FUNCTION % function, written)
        return json.loads(result["value"])

    def click(self, xpath: str) -> None:
        where = {"type": "element", "element": self._shown(xpath)}
        self._act(
            "pointer",
            {"type": "pointerMove", "x": 0, "y": 0, "origin": where},
            {"type": "pointerDown", "button": 0},
            {"type": "pointerUp", "button": 0},
        )

    def type(self, xpath: str, text: str) -> None:
        self._run("(element) => { element.focus(); element.select(); }", self._shown(xpath))
        ways = ("keyDown", "keyUp")
        self._act("key", *({"type": way, "value": one} for one in text for way in ways))

    def choose_file(self, xpath: str, file: Path) -> None:
        element = self._found(xpath)[0]
        self.call("input.setFiles", context=self._page, element=element, files=[str(file)])

    def close(self) -> None:
        """As a person does: everything that it holds is written to its profile first."""
        with contextlib.suppress(Refused, OSError, websocket.WebSocketException):
            self.call("browser.close")
        self._line.close()
        try:
            self.process.wait(10)
        except subprocess.TimeoutExpired:
            self.kill()

    def kill(self) -> None:
        """As a phone does that runs out of memory: no warning, nothing tidied up."""
        os.killpg(self.process.pid, signal.SIGKILL)
        self.process.wait()
        self._line.close()

    def _act(self, sort: str, *actions: dict[str, Any]) -> None:
        source: dict[str, Any] = {"type": sort, "id": sort, "actions": list(actions)}
        self.call("input.performActions", context=self._page, actions=[source])

    def _found(self, xpath: str) -> list[dict[str, Any]]:
        locator = {"type": "xpath", "value": xpath}
        nodes = self.call("browsingContext.locateNodes", context=self._page, locator=locator)
        if not nodes["nodes"]:
            raise NotThere(xpath)
        return [{"sharedId": node["sharedId"]} for node in nodes["nodes"]]

    def _shown(self, xpath: str) -> dict[str, Any]:
        for element in self._found(xpath):
            if self._run("(element) => element.checkVisibility()", element)["value"]:
                self._run(CENTRE, element)
                return element
        raise NotThere(xpath)

    def _run(self, function: str, argument: dict[str, Any]) -> dict[str, Any]:
        answer = self.call(
            "script.callFunction",
            functionDeclaration=function,
            arguments=[argument],
            awaitPromise=True,
            target={"context": self._page},
        )
        if answer["type"] == "exception":
            raise AssertionError(answer["exceptionDetails"]["text"])
        return dict(answer["result"])
