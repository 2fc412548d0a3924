"""A device that speaks plain HTTP: a newer phone with unknown fields, and an owner with a file."""

from __future__ import annotations

import io
import json
import uuid
import zipfile
from collections.abc import Callable
from typing import Any

from shedtally.domain.sync import stamp

from .link import Kept
from .shed_server import ShedServer

JSON = {"X-Shedtally": "1", "Content-Type": "application/json"}
Named = tuple[str, str, dict[str, object]]


class PlainDevice:
    """Paired when first needed; says again what a restored log lacks of its own, as phones do.

    It sees the whole log before it writes.
    """

    def __init__(self, server: ShedServer, clock: Callable[[], int]) -> None:
        self._server, self._clock = server, clock
        self._cookie = ""
        self._seq = 0
        self._stamp = stamp.FIRST
        self._had: dict[str, dict[str, Any]] = {}
        self.device = "00000000-0000-4000-8000-00000000000e"
        self.boat = ""

    def call(self, method: str, path: str, body: object = None, kind: str = "") -> tuple[int, Any]:
        """Status and JSON of the answer. Pairs first, again after a restored backup."""
        data = body if isinstance(body, bytes) or body is None else json.dumps(body).encode()
        headers = {**JSON, "Content-Type": kind} if kind else JSON
        for _ in range(2):
            reply, self._cookie = self._server.request(method, path, headers, data, self._cookie)
            if reply.status != 401:
                break
            pairing = {"code": self._server.pairing_code(), "device": self.device, "name": "owner"}
            got, self._cookie = self._server.request(
                "POST", "/api/pair", JSON, json.dumps(pairing).encode(), ""
            )
            assert got.status == 200, got.body
        is_json = "json" in reply.headers.get("Content-Type", "")
        return reply.status, json.loads(reply.body) if is_json else reply.body

    def log(self) -> list[dict[str, Any]]:
        """The whole log of the boat; empty while the server has none."""
        found: list[dict[str, Any]] = []
        more = True
        while more:
            since = found[-1]["cursor"] if found else 0
            status, page = self.call("GET", f"/api/boats/{self.boat}/changes?since={since}")
            if status in (404, 405):
                return []
            found += page["changes"]
            more = page["more"]
        return found

    def push(self, changes: list[Named]) -> list[Kept]:
        """Write changes, having seen everything. Empty if the server has no such boat."""
        log = self._log_with_own()
        if not log:
            return []
        seen = frozenset(entry.get("restates", entry["id"]) for entry in log)
        self._stamp = max(self._stamp, *(entry["stamp"] for entry in log))
        sent = [self._change(*change, base=log[-1]["cursor"]) for change in changes]
        reply = self._send(sent)
        assert {one["outcome"] for one in reply} == {"accepted"}, reply
        for change, result in zip(sent, reply, strict=True):
            told = {"stamp": result.get("stamp", change["stamp"]), "base": 0, "again": True}
            self._had[change["id"]] = {**change, **told}
        return [
            Kept(self.device, one["seq"], one["table"], one["key"], one["set"], seen, True)
            for one in sent
        ]

    def _log_with_own(self) -> list[dict[str, Any]]:
        log = self.log()
        there = {entry["id"] for entry in log}
        lost = [change for name, change in self._had.items() if name not in there]
        if not log or not lost:
            return log
        assert {one["outcome"] for one in self._send(lost)} == {"accepted"}
        return self.log()

    def _send(self, changes: list[dict[str, Any]]) -> list[dict[str, Any]]:
        body = {"schema": 1, "changes": changes}
        status, reply = self.call("POST", f"/api/boats/{self.boat}/changes", body)
        assert status == 200, reply
        return reply["results"]

    def push_bad_batch(self) -> None:
        """Three changes that can't be kept; each is named, and the batch is answered."""
        if not self.log():
            return
        good = self._change("item", "i0", {"name": "seacock"}, base=0)
        self._seq -= 1
        bad = [
            {**good, "stamp": "never"},
            {**good, "set": {"mass_kg": -1}},
            {**good, "table": "tag", "key": "K7Q4M3"},
            "no change at all",
        ]
        body = {"schema": 1, "changes": bad}
        status, reply = self.call("POST", f"/api/boats/{self.boat}/changes", body)
        assert status == 200, reply
        assert [one["outcome"] for one in reply["results"]] == ["rejected"] * 4, reply

    def bring_in(self, file: bytes) -> None:
        """Bring in the unsent work of another device."""
        status, reply = self.call("POST", "/api/rescue", file, "application/zip")
        if status in (404, 405):
            self._bring_in_by_hand(zipfile.ZipFile(io.BytesIO(file)))
        else:
            assert status == 200, reply
            trouble = ("rejected", "damaged", "photosRefused", "photos_refused")
            assert not any(reply.get(name) for name in trouble), reply

    def _bring_in_by_hand(self, file: zipfile.ZipFile) -> None:
        content = json.loads(file.read("unsent.json"))
        for boat in {change["boat"] for change in content["changes"]}:
            changes = [
                {name: value for name, value in change.items() if name != "boat"}
                for change in content["changes"]
                if change["boat"] == boat
            ]
            body = {"schema": 1, "changes": changes}
            status, reply = self.call("POST", f"/api/boats/{boat}/changes", body)
            assert status == 200, reply
            outcomes = {one["outcome"] for one in reply["results"]}
            assert outcomes <= {"accepted", "repeated"}, reply
        for photo in content["photos"]:
            data = file.read(f"photos/{photo['sha256']}")
            status, reply = self.call("PUT", f"/api/photos/{photo['sha256']}", data, photo["type"])
            assert status in (200, 201), reply

    def _change(self, table: str, key: str, values: dict, base: int) -> dict[str, Any]:
        self._seq += 1
        self._stamp = stamp.following(self._stamp, self._clock())
        return {
            "id": str(uuid.uuid5(uuid.NAMESPACE_URL, f"{self.boat} {self._seq}")),
            "device": self.device,
            "seq": self._seq,
            "stamp": self._stamp,
            "table": table,
            "key": key,
            "set": values,
            "base": base,
        }
