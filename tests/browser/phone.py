"""A person with a phone in the shed, in the words of the screens."""

from __future__ import annotations

import base64
import re
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from playwright.sync_api import BrowserContext, Locator, Page, expect

from processes import Running
from real_server import RealServer

# Limits for a machine that is busy with other tests; what is waited for comes far sooner else.
PATIENCE_MS = 45_000

# Reads the phone's database as it lies on the disk, without any code of the client.
READ_STORE = """
async (store) => {
  const db = await new Promise((yes, no) => {
    const opening = indexedDB.open("shedtally");
    opening.onsuccess = () => yes(opening.result);
    opening.onerror = () => no(opening.error);
  });
  const rows = await new Promise((yes, no) => {
    const asking = db.transaction(store).objectStore(store).getAll();
    asking.onsuccess = () => yes(asking.result);
    asking.onerror = () => no(asking.error);
  });
  db.close();
  const digest = async (bytes) => crypto.subtle && Array.from(
    new Uint8Array(await crypto.subtle.digest("SHA-256", bytes)),
    (byte) => byte.toString(16).padStart(2, "0")).join("");
  return Promise.all(rows.map(async (row) => row.bytes instanceof ArrayBuffer
    ? { ...row, bytes: row.bytes.byteLength, digest: await digest(row.bytes) }
    : row));
}
"""

READ_META = """
async (name) => {
  const db = await new Promise((yes, no) => {
    const opening = indexedDB.open("shedtally");
    opening.onsuccess = () => yes(opening.result);
    opening.onerror = () => no(opening.error);
  });
  const value = await new Promise((yes, no) => {
    const asking = db.transaction("meta").objectStore("meta").get(name);
    asking.onsuccess = () => yes(asking.result);
    asking.onerror = () => no(asking.error);
  });
  db.close();
  return value ?? null;
}
"""

CONTROLLED = """
async () => {
  await navigator.serviceWorker.ready;
  while (navigator.serviceWorker.controller === null)
    await new Promise((done) => setTimeout(done, 50));
}
"""

FETCH_DIGEST = """
async (address) => {
  const answer = await fetch(address);
  if (!answer.ok) return { status: answer.status };
  const bytes = await answer.arrayBuffer();
  const digest = Array.from(new Uint8Array(await crypto.subtle.digest("SHA-256", bytes)),
    (byte) => byte.toString(16).padStart(2, "0")).join("");
  return { status: answer.status, bytes: bytes.byteLength, digest };
}
"""


FETCH_BASE64 = """
async (address) => {
  const blob = await (await fetch(address)).blob();
  const url = await new Promise((done) => {
    const reader = new FileReader();
    reader.onload = () => done(reader.result);
    reader.readAsDataURL(blob);
  });
  return url.slice(url.indexOf(",") + 1);
}
"""


@dataclass
class Shed:
    """The server as phones know it."""

    running: Running
    address: str
    plain_address: str
    home: Path

    def pairing_code(self) -> str:
        """A fresh code, put in as the command line does it, without waiting for that to start."""
        return RealServer(self.running.data).new_code()


@dataclass
class Phone:
    """One phone; every method is what its owner does, and waits for what its owner waits for."""

    context: BrowserContext
    shed: Shed
    name: str

    @property
    def page(self) -> Page:
        return self.context.pages[0]

    def open(self, path: str = "/") -> Phone:
        self.page.goto(self.shed.address + path)
        return self

    def pair(self) -> Phone:
        self.open(f"/pair#{self.shed.pairing_code()}")
        self.page.get_by_label("Name of this phone").fill(self.name)
        self.page.get_by_role("button", name="Pair").click()
        self.page.wait_for_url(re.compile(r"/(new-boat)?$"))
        return self

    def has_boat(self) -> bool:
        """Whether the server had a boat for this phone when it paired."""
        return not self.page.url.endswith("/new-boat")

    def offline(self) -> None:
        self.context.set_offline(True)

    def online(self) -> None:
        self.context.set_offline(False)

    def ready_for_offline(self) -> None:
        """Wait until the phone holds the app and the rules: what a first visit must achieve."""
        self.page.evaluate(CONTROLLED)
        self.until(
            lambda: self.page.evaluate(READ_META, "rules") is not None,
            "the rules did not reach the phone",
        )

    def button(self, name: str | re.Pattern[str]) -> Locator:
        return self.page.get_by_role("button", name=name)

    def stored(self, store: str) -> list[dict[str, Any]]:
        return list(self.page.evaluate(READ_STORE, store))

    def download(self, path: str) -> bytes:
        """What the server gives this phone at an address."""
        return base64.b64decode(self.page.evaluate(FETCH_BASE64, path))

    def digest_of(self, path: str) -> dict[str, Any]:
        return dict(self.page.evaluate(FETCH_DIGEST, path))

    def photograph(self) -> None:
        """Press the shutter and see it kept: on the screen, and on the disk."""
        before = len(self.items())
        self.button("Photograph and keep").click()
        self.until(lambda: len(self.items()) > before, "the item was not kept")
        kept = self.page.get_by_role("region", name="Item just kept")
        expect(kept).to_contain_text("Kept on this phone")

    def items(self) -> list[dict[str, Any]]:
        """The items in this phone's database."""
        return self.stored_records("item")

    def stored_records(self, table: str) -> list[dict[str, Any]]:
        """The records of a table in this phone's database."""
        rows = {row["key"]: row for row in self.stored("record") if row["table"] == table}
        # What a first pull brought lies in blocks, until something in it changes.
        for block in self.stored("block"):
            for of, key, values, versions in block["records"]:
                if of == table:
                    row = {"table": of, "key": key, "values": values, "versions": versions}
                    rows.setdefault(key, row)
        return list(rows.values())

    def synced_at(self) -> int:
        """When this phone and the server last had everything of each other, in milliseconds."""
        return int(self.page.evaluate(READ_META, "last_synced_at") or 0)

    def until(self, true: Callable[[], bool], complaint: str, seconds: float = 60) -> None:
        """Wait as a person does: look again until it is so."""
        deadline = time.monotonic() + seconds
        while not true():
            assert time.monotonic() < deadline, complaint
            self.page.wait_for_timeout(100)

    def wait_until_sent(self) -> None:
        """Wait until nothing is on this phone only."""
        self.until(
            lambda: not self.stored("outbox") and not self.stored("photo_outbox"),
            "some work is still on this phone only",
            120,
        )

    def send_now(self) -> None:
        """Not wait until the phone tries again by itself."""
        self.open("/kept").button("Send and receive now").click()

    def begin_boat(self, name: str, *, camera: bool = True) -> None:
        self.page.get_by_label("Name of the boat").fill(name)
        self.button("Begin this boat").click()
        if camera:
            expect(self.button("Photograph and keep")).to_be_visible()
        else:
            expect(self.page.get_by_role("radio", name="Sound")).to_be_visible()

    @property
    def boat(self) -> str:
        """The key of the boat that this phone works on."""
        (key,) = {row["boat"] for row in self.stored("record") + self.stored("block")}
        return str(key)

    def reserve(self) -> list[str]:
        """The tag codes that this phone may give out with no signal, in order."""
        self.until(lambda: bool(self.stored("tag")), "the server gave this phone no tags", 120)
        return sorted(row["code"] for row in self.stored("tag"))

    def scan_next_tag(self, code: str) -> None:
        """Let the camera read the tag that hangs before it."""
        scan = self.page.get_by_role("button", name="Scan", exact=True)
        if scan.get_attribute("aria-pressed") != "true":
            scan.click()
        expect(self.page.get_by_test_id("next-code")).to_have_text(f"{code[:3]}-{code[3:]}")

    def take_out(self, condition: str) -> None:
        self.page.get_by_role("radio", name=condition).tap()
        self.photograph()

    def choose_file(self, name: str, body: bytes) -> None:
        """Pick a picture from the phone's files instead of taking one."""
        kind = "image/png" if name.endswith(".png") else "image/jpeg"
        picker = self.page.get_by_label("Picture from a file or the phone's camera").first
        picker.set_input_files({"name": name, "mimeType": kind, "buffer": body})

    def type_next_tag(self, code: str) -> None:
        self.page.get_by_test_id("next-code").click()
        self.page.get_by_label("Type the code on the tag").fill(code)
        self.button("Use it").click()
