"""Runs a schedule, step by step, on the phones' own code and the real server."""

from __future__ import annotations

import base64
import json
from collections import deque
from typing import Any

from . import pictures
from .link import Counts, Handset, Kept, Link, SimPhone, for_phone
from .phones import Phones
from .plain_device import PlainDevice
from .schedule import Edit, Fault, Schedule, Step, key_of
from .shed_server import ShedServer

START_MS = 1_777_919_400_000
MOST_PHONES = 6


class Broken(AssertionError):
    """Something happened that must not."""


class World:
    """One schedule: its phones, its boat, the time, and everything that people kept."""

    def __init__(self, host: Phones, server: ShedServer, clock: Clock, schedule: Schedule) -> None:
        self.host, self.server, self.clock, self.schedule = host, server, clock, schedule
        self.counts = Counts(schedules=1)
        self.link = Link(server, self.counts, self.crash)
        self.phones: list[SimPhone] = []
        self.kept: dict[tuple[str, int], Kept] = {}
        self.unsure: list[list[Kept]] = []
        self.kept_photos: list[tuple[Handset, str]] = []
        self.acked_before_restore: set[str] = set()
        self.photos_before_restore: set[str] = set()
        self.rescued_photos: set[str] = set()
        self.rescued: set[str] = set()
        self.rescued_values: set[tuple[str, str]] = set()
        self.boat = ""

    def run(self) -> None:
        """From empty devices through all steps; the quiet end is another's business."""
        self.clock.begin()
        self.server.fresh()
        self.host.on_fetch = self._fetched
        self.host.do("", "reset")
        self.owner = PlainDevice(self.server, self.clock)
        for error in self.schedule.clocks:
            self.join(error)
        for step in self.schedule.steps:
            self.step(step)

    # Phones

    def do(self, phone: SimPhone, what: str, given: object = None, fault: Fault | None = None):
        """A command to a phone, which is started first if it is off; None if it crashed."""
        if not phone.on and what != "start":
            phone.on = True
            self.do(phone, "start", self._start_of(phone))
        now = self.clock.ms + phone.handset.clock_error
        phone.asked = 0
        answer = self.host.do(phone.name, what, given, now, fault and vars(fault))
        if answer.get("crashed"):
            self.crash(phone)
            return None
        return answer

    def _start_of(self, phone: SimPhone) -> dict[str, object]:
        seed = self.schedule.seed * 100 + int(phone.name.removesuffix("b"))
        return {"seed": seed, "locks": phone.handset.has_locks}

    def crash(self, phone: SimPhone) -> None:
        """Take away what a page had in memory; the phone's database stays."""
        if phone.on:
            phone.on = phone.busy = phone.pushing = phone.old = False
            self.counts.crashes += 1
            self.host.do(phone.name, "drop")

    def _crash_whole(self, phone: SimPhone) -> None:
        self.crash(phone)
        if phone.second:
            self.crash(phone.second)

    def _second_page(self, phone: SimPhone) -> SimPhone:
        phone.second = phone.second or SimPhone(f"{phone.name}b", phone.handset)
        return phone.second

    def pages(self) -> list[SimPhone]:
        """Every page that was ever opened, of each phone the first before the second."""
        both = [(phone, phone.second) for phone in self.phones]
        return [page for pair in both for page in pair if page]

    def join(self, clock_error: int) -> SimPhone:
        """A new phone pairs; the first one makes the boat."""
        # Some phones have a browser without Web Locks.
        number = len(self.phones)
        phone = SimPhone(str(number), Handset(clock_error, has_locks=number % 2 == 0))
        self.phones.append(phone)
        phone.handset.device = self.result(self.do(phone, "start", self._start_of(phone)))
        phone.on = True
        self.pair(phone)
        if not self.boat:
            self.boat = self.result(self.do(phone, "createBoat", {"name": "Corncrake"}))
            self._note(phone, {"device": phone.handset.device, "seq": 0, "seen": []}, [
                ("boat", self.boat, {"name": "Corncrake"})
            ], certain=True)  # fmt: skip
            self.result(self.do(phone, "sync"))
            self.owner.boat = self.boat
        return phone

    def pair(self, phone: SimPhone) -> None:
        """Pair, or pair again, on a good line."""
        phone.fates.clear()
        phone.meanwhile.clear()
        given = {"code": self.server.pairing_code(), "name": f"phone {phone.name}"}
        phone.busy = True
        told = self.do(phone, "pair", given)
        phone.busy = False
        phone.handset.revoked = False
        if told is None or "error" in told:
            message = f"phone {phone.name} could not pair: {told}"
            raise Broken(message)

    def result(self, answer: dict[str, Any] | None) -> Any:
        """What a command gave that can't go wrong here."""
        if answer is None or "error" in answer:
            raise Broken(str(answer))
        return answer["result"]

    def present(self) -> list[SimPhone]:
        """Phones that are not at the bottom of the harbour."""
        return [phone for phone in self.phones if not phone.handset.overboard]

    # Requests

    def _fetched(self, message: dict[str, Any]) -> dict[str, Any] | None:
        phone = next(page for page in self.pages() if page.name == message["phone"])
        phone.pushing = message["method"] == "POST" and message["path"].endswith("/changes")
        self._check_alone(phone)
        at, phone.asked = phone.asked, phone.asked + 1
        due = [step for number, step in phone.meanwhile if number == at]
        phone.meanwhile = [one for one in phone.meanwhile if one[0] != at]
        asked = phone.asked
        for step in due:
            self.step(step)
        phone.asked = asked
        reply = for_phone(self.link.carry(phone, message))
        phone.pushing = False
        return reply

    def _check_alone(self, phone: SimPhone) -> None:
        """One page of a phone pushes at a time, where the browser has locks."""
        at_once = [
            page.name
            for page in self.pages()
            if page.pushing
            and page.handset is phone.handset
            and not self.host.has_crashed(page.name)
        ]
        if len(at_once) > 1:
            self.counts.pages_at_once += 1
            if phone.handset.has_locks:
                raise Broken(f"two pages of one phone push at once: {at_once}")

    # Steps

    def step(self, step: Step) -> None:
        """Let one thing happen; a step that makes no sense now does nothing."""
        phone = self.phones[step.phone % len(self.phones)]
        on_phone = {
            "keep": self.keep,
            "sync": self.sync,
            "crash": lambda phone, _: self._crash_whole(phone),
            "close page": lambda phone, _: self.crash(phone),
            "pair again": lambda phone, _: self.pair(phone),
            "clock": self._set_clock,
            "revoke": self._revoke,
            "old client": self._grow_old,
            "overboard": self._lose_phone,
            "look": self._look,
        }
        if step.do not in on_phone:
            self._around(step)
        elif not phone.handset.overboard:
            if step.second:
                phone = self._second_page(phone)
            if not (phone.busy and step.do in ("sync", "pair again")):
                on_phone[step.do](phone, step)

    def _around(self, step: Step) -> None:
        """What happens to no phone in particular."""
        match step.do:
            case "pass":
                self.clock.ms += step.amount
            case "server clock":
                self.clock.server_error = step.amount
            case "restart" | "back up" | "lose photos" as what:
                getattr(self.server, what.replace(" ", "_"))()
            case "bring back":
                self.bring_back()
            case "arrive late":
                self.link.deliver_late()
            case "newer phone":
                self._newer_phone(step.edits)
            case "bad batch":
                self.owner.push_bad_batch()
            case "join" if len(self.phones) < MOST_PHONES and not any(p.busy for p in self.pages()):
                self.join(step.amount)

    def _set_clock(self, phone: SimPhone, step: Step) -> None:
        phone.handset.clock_error = step.amount
        for page in (phone, phone.second):
            if page:
                self.host.do(page.name, "clock", now=self.clock.ms + step.amount)

    def _revoke(self, phone: SimPhone, _step: Step) -> None:
        self.server.revoke(phone.handset.device)
        phone.handset.revoked = True

    def _grow_old(self, phone: SimPhone, _step: Step) -> None:
        """The server has moved on; this phone's app has to be loaded anew before it can send."""
        phone.old = phone.on

    def _lose_phone(self, phone: SimPhone, _step: Step) -> None:
        if len(self.present()) > 1:
            self._crash_whole(phone)
            phone.handset.overboard = True

    def _look(self, phone: SimPhone, _step: Step) -> None:
        """A person looks at a page: all that is on the phone is shown, whichever page kept it."""
        dump = self.result(self.do(phone, "dump"))
        names = {
            f"{row['table']}/{row['key']}"
            for row in dump["record"]
            if row["table"] == "item" and "binned" not in row["values"]
        }
        if unseen := names - set(dump["inMemory"]):
            raise Broken(f"page {phone.name} does not show {sorted(unseen)}")

    def sync(self, phone: SimPhone, step: Step) -> None:
        """A round of sync with its misfortunes."""
        phone.fates = deque(step.fates)
        phone.meanwhile = list(step.meanwhile)
        phone.page = step.page
        phone.busy = True
        answer = self.do(phone, "sync", fault=step.fault)
        if answer is not None:
            phone.busy = False
            if "error" in answer:
                raise Broken(f"sync must never throw: {answer['error']}")
        phone.fates.clear()
        phone.meanwhile.clear()
        phone.page = 500

    def keep(self, phone: SimPhone, step: Step) -> None:
        """A person keeps something; what the phone said of it is remembered."""
        edits, photos = self._edits_of(step)
        sight = self.result(self.do(phone, "sight")) if step.fault else None
        answer = self.do(phone, "keep", {"edits": edits, "photos": photos}, step.fault)
        changes = [(edit["table"], edit["key"], edit["set"]) for edit in edits]
        if answer is None:
            assert sight
            self._note(phone, sight, changes, certain=False)
        elif "result" in answer:
            self._note(phone, answer["result"], changes, certain=True)
            self._check_shown(phone, edits, answer["result"]["shown"])
            self.kept_photos += [(phone.handset, photo["sha256"]) for photo in photos]
        elif not answer["error"].startswith(("StorageFull", "StorageLost")):
            raise Broken(f"keeping failed: {answer['error']}")

    def _edits_of(self, step: Step) -> tuple[list[dict[str, Any]], list[dict[str, str]]]:
        edits = [
            {"table": edit.table, "key": key_of(edit, self.boat), "set": dict(edit.values)}
            for edit in step.edits
        ]
        if step.photo is None:
            return edits, []
        picture = pictures.picture(step.photo)
        values = {"sha256": picture.sha256, "of": "item/i0", "type": "image/jpeg"}
        edits.append({"table": "photo", "key": f"photo{step.photo}", "set": values})
        sent = {
            "sha256": picture.sha256,
            "type": "image/jpeg",
            "base64": base64.b64encode(picture.bytes).decode(),
        }
        return edits, [sent]

    def _note(self, phone: SimPhone, sight: dict, changes: list, *, certain: bool) -> None:
        seen = frozenset(sight["seen"])
        made = [
            Kept(sight["device"], sight["seq"] + at, table, key, values, seen, certain)
            for at, (table, key, values) in enumerate(changes, 1)
        ]
        for one in made:
            self.kept[one.device, one.seq] = one
        if not certain:
            self.unsure.append(made)

    def _check_shown(self, phone: SimPhone, edits: list, shown: list) -> None:
        """What was kept is what the phone shows."""
        last = {
            (edit["table"], edit["key"], field): value
            for edit in edits
            for field, value in edit["set"].items()
        }
        for edit, row in zip(edits, shown, strict=True):
            for field in edit["set"]:
                wanted = last[edit["table"], edit["key"], field]
                if json.dumps(row["values"].get(field)) != json.dumps(wanted):
                    raise Broken(
                        f"phone {phone.name} kept {field}={wanted!r} in {edit['table']}/"
                        f"{edit['key']} and shows {row['values'].get(field)!r}"
                    )

    def bring_back(self) -> None:
        """The server's disk is lost; an older backup takes its place."""
        if self.server.bring_back():
            self.counts.restores += 1
            self.acked_before_restore |= self.link.acked
            self.link.acked.clear()
            self.photos_before_restore |= self.link.photos
            self.link.photos.clear()

    def _newer_phone(self, edits: tuple[Edit, ...]) -> None:
        changes = [
            (edit.table, key_of(edit, self.boat), {**dict(edit.values), "rake_deg": edit.key})
            for edit in edits
        ]
        made = self.owner.push([*changes, ("sail", "genoa", {"cloth": "tan", "area": 31.5})])
        for one in made:
            self.kept[one.device, one.seq] = one


class Clock:
    """The true time, and how far the server's clock is off."""

    ms = START_MS
    server_error = 0
    # The latest that the server's clock has shown.
    latest_ms = START_MS

    def begin(self) -> None:
        """Back to the start, with a server whose clock is right."""
        self.ms = self.latest_ms = START_MS
        self.server_error = 0

    def __call__(self) -> int:
        return self.ms

    def at_server(self) -> int:
        """What the server's clock shows."""
        shown = self.ms + self.server_error
        self.latest_ms = max(self.latest_ms, shown)
        return shown
