"""The phones' own TypeScript code in one Node process, told what to do line by line."""

from __future__ import annotations

import json
import subprocess
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
HOST = ROOT / "pwa" / "src" / "testing" / "simulated-phones.ts"
NODE = ROOT / ".venv" / "bin" / "node"


class Alarm(AssertionError):
    """The app on a phone met an error that it did not expect."""


class Phones:
    """Commands go out, requests of the phones come in and are answered by ``on_fetch``.

    While one command runs, `on_fetch` may give another (also to the same phone): the first waits
    for its answer meanwhile. So requests and commands interleave in ways that can be run again.
    """

    def __init__(self, breaks: Sequence[Mapping[str, str]] = ()) -> None:
        # Stripping types is worth a warning in some releases of Node.
        self._process = subprocess.Popen(
            [str(NODE), "--no-warnings", str(HOST), json.dumps(list(breaks))],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            cwd=ROOT / "pwa",
        )
        self._number = 0
        self._done: dict[int, dict[str, Any]] = {}
        self._asked: dict[int, str] = {}
        self.on_fetch: Callable[[dict[str, Any]], dict[str, Any] | None] = lambda _: None
        if self._read() != {"ready": True}:
            message = "the process of the phones did not start"
            raise RuntimeError(message)

    def close(self) -> None:
        """End the process."""
        assert self._process.stdin
        assert self._process.stdout
        self._process.stdin.close()
        self._process.wait(20)
        self._process.stdout.close()

    def do(
        self, phone: str, what: str, given: object = None, now: int = 0, fault: object = None
    ) -> dict[str, Any]:
        """Run a command to its end: what it gave, its error, or that the phone crashed."""
        self._number += 1
        number = self._number
        self._asked[number] = phone
        self._write(
            {"id": number, "phone": phone, "do": what, "given": given, "now": now, "fault": fault}
        )
        while number not in self._done:
            message = self._read()
            if "alarm" in message:
                raise Alarm(message["alarm"])
            if "done" in message:
                self._done[message["done"]] = message
            else:
                reply = self.on_fetch(message) or {}
                self._write({"answer": message["fetch"], **reply})
        del self._asked[number]
        return self._done.pop(number)

    def has_crashed(self, phone: str) -> bool:
        """Whether a page is dead already, though its last command is still waited for."""
        return any(
            "crashed" in answer and self._asked[number] == phone
            for number, answer in self._done.items()
        )

    def _write(self, message: object) -> None:
        assert self._process.stdin
        self._process.stdin.write(json.dumps(message).encode() + b"\n")
        self._process.stdin.flush()

    def _read(self) -> dict[str, Any]:
        assert self._process.stdout
        line = self._process.stdout.readline()
        if not line:
            message = "the process of the phones ended; its last words are above"
            raise RuntimeError(message)
        return json.loads(line)
