"""Another device of the same shed, as the server answers it: no browser, no code of the client."""

from __future__ import annotations

import json
import urllib.request
import uuid
from typing import Any

from real_server import RealServer


class SecondDevice:
    """Paired by a code of its own; reads everything from the beginning."""

    def __init__(self, server: RealServer) -> None:
        self.server = server
        self.cookie = ""
        body = {"code": server.new_code(), "device": str(uuid.uuid4()), "name": "T"}
        with self._ask("/api/pair", json.dumps(body).encode()) as answer:
            self.cookie = answer.headers["Set-Cookie"].split(";")[0]

    def records(self, boat: str) -> dict[tuple[str, str], dict[str, Any]]:
        """Each record by table and key: its fields as all changes together leave them."""
        found: dict[tuple[str, str], dict[str, Any]] = {}
        since, more = 0, True
        while more:
            with self._ask(f"/api/boats/{boat}/changes?since={since}&limit=500") as answer:
                page = json.load(answer)
            for change in page["changes"]:
                place = (change["table"], change["key"])
                found.setdefault(place, {}).update(change["set"])
            since, more = page["cursor"], page["more"]
        return found

    def photo(self, sha256: str) -> bytes:
        with self._ask(f"/api/photos/{sha256}") as answer:
            return bytes(answer.read())

    def _ask(self, path: str, body: bytes | None = None) -> Any:
        headers = {
            "X-Shedtally": "1",
            "Content-Type": "application/json",
            **({"Cookie": self.cookie} if self.cookie else {}),
        }
        request = urllib.request.Request(self.server.address + path, body, headers)
        return urllib.request.urlopen(request, timeout=20)
