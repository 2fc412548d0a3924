"""The line between a phone and the server, and what befalls a request on it."""

from __future__ import annotations

import base64
import gzip
import json
import re
from collections import deque
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from .schedule import TAGS, Edit, Step
from .shed_server import Reply, ShedServer

Message = dict[str, Any]

LIMIT = re.compile(r"limit=\d+")
PORTAL = Reply(200, {"Content-Type": "text/html"}, b"<h1>Welcome to the harbour Wi-Fi</h1>")
BUSY = Reply(503, {"Content-Type": "text/html"}, b"<h1>Bad gateway</h1>")
# Rules, lists and blank tags are no part of this: they are answered once and for all.
RULES = Reply(304, {}, b"")
JSON = {"Content-Type": "application/json"}
LIST = Reply(
    200,
    JSON,
    json.dumps({"list": {}, "cursor": 2**53 - 1, "made_at": "2026-05-04T00:00:00Z"}).encode(),
)
BLANK_TAGS = Reply(200, JSON, json.dumps({"block": "", "codes": TAGS[10:40]}).encode())


@dataclass
class Handset:
    """What all pages that are open on a phone share."""

    clock_error: int
    has_locks: bool = True
    device: str = ""
    cookie: str = ""
    revoked: bool = False
    overboard: bool = False


@dataclass
class SimPhone:
    """A phone as the schedule sees it, by one open page of the app.

    Its storage and modules live in the other process. ``second`` is another page on it.
    """

    name: str
    handset: Handset
    second: SimPhone | None = None
    on: bool = False
    busy: bool = False
    pushing: bool = False
    old: bool = False
    fates: deque[str] = field(default_factory=deque)
    meanwhile: list[tuple[int, Step]] = field(default_factory=list)
    page: int = 500
    asked: int = 0


@dataclass(frozen=True)
class Kept:
    """What a person kept on a phone: its place in the device's count, and what its author saw."""

    device: str
    seq: int
    table: str
    key: str
    values: dict[str, object]
    seen: frozenset[str]
    # False where the phone died before it could say "kept".
    certain: bool
    edit: Edit | None = None


@dataclass
class Counts:
    """What a run amounts to."""

    schedules: int = 0
    changes: int = 0
    requests: int = 0
    drops: int = 0
    crashes: int = 0
    restores: int = 0
    rescues: int = 0
    clashes: int = 0
    pages_at_once: int = 0
    photos: int = 0
    second_phones: int = 0

    def add(self, other: Counts) -> None:
        """Add the numbers of another run."""
        for name, number in vars(other).items():
            setattr(self, name, getattr(self, name) + number)


class Link:
    """Carries the requests of all phones to the server, as each phone's fates want it."""

    def __init__(self, server: ShedServer, counts: Counts, crash: Callable[[SimPhone], None]):
        self.server = server
        self.counts = counts
        self.acked: set[str] = set()
        # Of changes that say another again: which.
        self.restated: dict[str, str] = {}
        self.photos: set[str] = set()
        self._crash = crash
        self._late: list[tuple[SimPhone, Message]] = []

    def carry(self, phone: SimPhone, message: Message) -> Reply | None:
        """The answer to a request of ``phone``; None if the line failed."""
        path = message["path"]
        if path == "/api/rules":
            return RULES
        if "/lists/" in path:
            return LIST
        if path.endswith("/tag-blocks"):
            return BLANK_TAGS
        self.counts.requests += 1
        fate = phone.fates.popleft() if phone.fates else "ok"
        if fate != "ok":
            self.counts.drops += 1
        befall = {
            "ok": self.forward,
            "reply lost": self._reply_lost,
            "twice": self._twice,
            "late": self._on_its_way,
            "part": self._part,
            "cut": self._cut,
            "portal": lambda *_: PORTAL,
            "busy": lambda *_: BUSY,
            "dies": self._server_dies,
            "phone dies first": self._phone_dies_first,
            "phone dies after": self._phone_dies_after,
        }
        return befall[fate](phone, message) if fate != "lost" else None

    def _reply_lost(self, phone: SimPhone, message: Message) -> None:
        self.forward(phone, message)

    def _twice(self, phone: SimPhone, message: Message) -> Reply:
        self.forward(phone, message)
        return self.forward(phone, message)

    def _on_its_way(self, phone: SimPhone, message: Message) -> None:
        self._late.append((phone, message))

    def _part(self, phone: SimPhone, message: Message) -> Reply:
        return self.forward(phone, _first_half(message))

    def _cut(self, phone: SimPhone, message: Message) -> Reply:
        whole = self.forward(phone, message)
        plain = {name: text for name, text in whole.headers.items() if name != "Content-Encoding"}
        return Reply(whole.status, plain, _plain(whole)[: len(whole.body) // 2])

    def _server_dies(self, phone: SimPhone, message: Message) -> Reply:
        with self.server.dying():
            reply = self.forward(phone, message)
        self.server.restart()
        return reply

    def _phone_dies_first(self, phone: SimPhone, _message: Message) -> None:
        self._crash(phone)

    def _phone_dies_after(self, phone: SimPhone, message: Message) -> None:
        self.forward(phone, message)
        self._crash(phone)

    def forward(self, phone: SimPhone, message: Message) -> Reply:
        """Give a request to the server, and note what it acknowledged."""
        body = _body(message)
        path = LIMIT.sub(f"limit={phone.page}", message["path"])
        headers = dict(message["headers"])
        is_push = message["method"] == "POST" and path.endswith("/changes")
        if is_push and phone.old:
            headers.pop("content-encoding", None)
            body = json.dumps({**_json(message), "schema": 0}).encode()
        reply, phone.handset.cookie = self.server.request(
            message["method"], path, headers, body, phone.handset.cookie
        )
        if reply.status in (200, 201):
            if is_push:
                results = json.loads(_plain(reply))["results"]
                self.acked |= {one["id"] for one in results if one["outcome"] != "rejected"}
                sent = _json({**message, "body": base64.b64encode(body or b"").decode(),
                              "headers": headers})  # fmt: skip
                self.restated |= {
                    one["id"]: one["restates"] for one in sent["changes"] if "restates" in one
                }
            if message["method"] == "PUT" and not path.endswith("/preview"):
                self.photos.add(path.rsplit("/", 1)[1])
        return reply

    def deliver_late(self) -> None:
        """The first request that was long on its way arrives; nobody waits for its answer."""
        if self._late:
            phone, message = self._late.pop(0)
            self.forward(phone, message)


def _plain(reply: Reply) -> bytes:
    coded = reply.headers.get("Content-Encoding") == "gzip"
    return gzip.decompress(reply.body) if coded else reply.body


def for_phone(reply: Reply | None) -> dict[str, Any] | None:
    """A reply as the phones' process reads it."""
    if reply is None:
        return None
    headers = {name: value for name, value in reply.headers.items() if name != "Content-Encoding"}
    body = base64.b64encode(_plain(reply)).decode()
    return {"status": reply.status, "headers": headers, "body": body}


def _body(message: Message) -> bytes | None:
    return None if message["body"] is None else base64.b64decode(message["body"])


def _json(message: Message) -> dict[str, Any]:
    body = _body(message) or b""
    if message["headers"].get("content-encoding") == "gzip":
        body = gzip.decompress(body)
    return json.loads(body)


def _first_half(message: Message) -> Message:
    if message["method"] != "POST" or not message["path"].endswith("/changes"):
        return message
    sent = _json(message)
    half = sent["changes"][: (len(sent["changes"]) + 1) // 2]
    body = json.dumps({**sent, "changes": half}).encode()
    headers = {
        name: text for name, text in message["headers"].items() if name != "content-encoding"
    }
    return {**message, "headers": headers, "body": base64.b64encode(body).decode()}
