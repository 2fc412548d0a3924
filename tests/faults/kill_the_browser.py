"""Kills a real Chromium while it keeps items, and looks at what its profile then holds.

    PYTHONPATH=tests .venv/bin/python -m faults.kill_the_browser 50

Every other life has the server within reach, so that blows fall while it sends, too. What the
screen had called kept must be there, with its photograph; nothing may be there by half; what is
not on the server must still wait for it.

A kill seldom falls in the middle of a write to the browser's own log, and costs the whole database
two starts later where the app does not ward it off. So every third log gets such a half entry.
"""

from __future__ import annotations

import contextlib
import hashlib
import io
import os
import random
import signal
import struct
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from PIL import Image
from playwright.sync_api import Browser, Page, Playwright, sync_playwright
from playwright.sync_api import Error as PageGone

from browser.phone import CONTROLLED, READ_STORE
from faults.line import Line
from processes import CHROMIUM_ARGUMENTS, chromium
from real_server import RealServer

LONGEST_LIFE_S = 1.6
WAITS_S = 90
LOG_BLOCK_BYTES = 32_768
LOG_HEADER = struct.Struct("<4sHB")
# A machine so busy that hardly anything is kept in a life gets longer lives, and so many more.
MOST_LIVES = 6
# Answers one file picker after another, each time with a picture whose colour is its number, and
# reports what the screen calls kept. The lower part is noise, so that files have some weight.
KEEP_ON = """
(first) => {
  const picture = async (number) => {
    const canvas = new OffscreenCanvas(1280, 960);
    const context = canvas.getContext("2d");
    const level = (shift) => 16 + 32 * ((number >> shift) & 7);
    context.fillStyle = `rgb(${level(0)}, ${level(3)}, ${level(6)})`;
    context.fillRect(0, 0, 1280, 960);
    const noise = new ImageData(128, 96);
    crypto.getRandomValues(noise.data);
    context.drawImage(await createImageBitmap(noise), 0, 480, 1280, 480);
    return canvas.convertToBlob({ type: "image/jpeg", quality: 0.9 });
  };
  const shownAsKept = () =>
    document.querySelector(".kept a[href^='/item/']")?.getAttribute("href").split("/")[2];
  const pause = () => new Promise((done) => setTimeout(done, 5));
  const run = async () => {
    for (let number = first; ; number += 1) {
      const before = shownAsKept();
      const chosen = new DataTransfer();
      chosen.items.add(new File([await picture(number)], "x.jpg", { type: "image/jpeg" }));
      let picker;
      while (!(picker = document.querySelector("input[type=file]"))) await pause();
      picker.files = chosen.files;
      picker.dispatchEvent(new Event("change", { bubbles: true }));
      while (shownAsKept() === before) await pause();
      window.reportKept(shownAsKept(), number);
    }
  };
  void run();
}
"""


class Life:
    """One life of a browser on a profile: started as a person taps its icon, ended by SIGKILL."""

    def __init__(self, playwright: Playwright, profile: Path, address: str) -> None:
        self.profile = profile
        program = chromium() or playwright.chromium.executable_path
        port_file = profile / "DevToolsActivePort"
        port_file.unlink(missing_ok=True)
        self.process = subprocess.Popen(
            [program, *CHROMIUM_ARGUMENTS, "--headless=new", "--remote-debugging-port=0",
             f"--user-data-dir={profile}", "--window-size=390,844", "about:blank"],
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
        )  # fmt: skip
        deadline = time.monotonic() + WAITS_S
        while not port_file.exists() or not port_file.read_text(encoding="ascii").count("\n"):
            assert self.process.poll() is None, "the browser ended at once"
            assert time.monotonic() < deadline, "the browser did not start"
            time.sleep(0.02)
        port = port_file.read_text(encoding="ascii").split()[0]
        self.browser: Browser = playwright.chromium.connect_over_cdp(f"http://127.0.0.1:{port}")
        self.page: Page = self.browser.contexts[0].pages[0]
        self.page.goto(address)

    def stored(self, store: str) -> list[dict[str, Any]]:
        return list(self.page.evaluate(READ_STORE, store))

    def tear_log(self) -> None:
        """Leave the log as a kill in the middle of a write does: the last entry is there by half.

        By LevelDB's description of its log (doc/log_format.md): blocks of 32 KiB; an entry is a
        checksum of 4 bytes, its length in 2, its kind in 1 (1: whole), and what it says.
        """
        (folder,) = self.profile.glob("Default/IndexedDB/*.leveldb")
        newest = max(folder.glob("*.log"))
        left = LOG_BLOCK_BYTES - newest.stat().st_size % LOG_BLOCK_BYTES
        padding = b"\0" * left if left <= LOG_HEADER.size else b""
        room = (LOG_BLOCK_BYTES if padding else left) - LOG_HEADER.size
        with newest.open("ab") as log:
            log.write(padding + LOG_HEADER.pack(b"half", room, 1))

    def close(self) -> None:
        """As a person closes it: all that it holds in memory is written first."""
        self.browser.new_browser_cdp_session().send("Browser.close")
        self.process.wait(WAITS_S)
        with contextlib.suppress(PageGone):
            self.browser.close()

    def kill(self) -> None:
        os.killpg(self.process.pid, signal.SIGKILL)
        self.process.wait()
        with contextlib.suppress(PageGone):
            self.browser.close()


@dataclass
class Count:
    """What was seen: items called kept, items there without having been reported, and so on."""

    kills: int = 0
    torn: int = 0
    kept: dict[str, int] = field(default_factory=dict)
    unreported: int = 0
    waiting_changes: list[int] = field(default_factory=list)
    waiting_photos: list[int] = field(default_factory=list)

    def report(self, item: str, number: int) -> None:
        """The screen called an item kept, with the picture of this number."""
        self.kept[item] = number

    def __str__(self) -> str:
        return (
            f"{self.kills} kills, {self.torn} of them in the middle of a write to the log:"
            f" {len(self.kept)} items were called kept, all are there with their photographs;"
            f" {self.unreported} more were whole but not yet called kept; waiting for the server"
            f" after a kill: up to {max(self.waiting_changes)} changes and"
            f" {max(self.waiting_photos)} photographs"
        )


def begin(playwright: Playwright, profile: Path, address: str, code: str) -> None:
    """Pair, begin a boat, get everything that offline work needs, and close the browser."""
    profile.mkdir()
    life = Life(playwright, profile, f"{address}/pair#{code}")
    page = life.page
    page.get_by_label("Name of this phone").fill("M")
    page.get_by_role("button", name="Pair").click()
    page.get_by_label("Name of the boat").fill("Corncrake")
    page.get_by_role("button", name="Begin this boat").click()
    page.evaluate(CONTROLLED)
    until(lambda: bool(life.stored("tag")) and not life.stored("outbox"), "was not made ready")
    # Not killed yet: Chromium writes cookies half a minute late, so this one would have to be
    # paired again. What is kept does not depend on that; a test beside this says so.
    life.close()


def until(true: Any, complaint: str) -> None:
    deadline = time.monotonic() + WAITS_S
    while not true():
        assert time.monotonic() < deadline, complaint
        time.sleep(0.05)


def run(playwright: Playwright, folder: Path, kills: int, rng: random.Random) -> Count:
    """Kill it so many times at random moments; fails at the first thing that is not as promised."""
    profile = folder / "profile"
    server = RealServer(folder / "data")
    server.start()
    line = Line(server.port)
    count = Count()
    try:
        begin(playwright, profile, line.address, server.new_code())
        while count.kills < kills or (len(count.kept) < kills and count.kills < MOST_LIVES * kills):
            line.be("whole" if count.kills % 2 else "dead")
            live_and_die(playwright, profile, line.address, count, rng)
            if count.kills % 10 == 0:
                print(f"{count.kills} kills, {len(count.kept)} items called kept", flush=True)
        line.be("whole")
        compare_with_server(Life(playwright, profile, f"{line.address}/kept"), server, count)
    finally:
        line.close()
        server.kill()
    return count


def live_and_die(
    playwright: Playwright, profile: Path, address: str, count: Count, rng: random.Random
) -> None:
    """One life: look at what the last one left, keep on, be killed."""
    life = Life(playwright, profile, address)
    try:
        check(life, count)
        life.page.expose_function("reportKept", count.report)
        first = max(count.kept.values(), default=0) + 2
        life.page.evaluate(KEEP_ON, first)
        busy = 1 + count.kills // (1 + len(count.kept))
        life.page.wait_for_timeout(rng.uniform(0.05, LONGEST_LIFE_S * busy) * 1000)
    finally:
        life.kill()
        count.kills += 1
    if count.kills % 3 == 0:
        life.tear_log()
        count.torn += 1


def check(life: Life, count: Count) -> None:
    """What the profile holds is whole, and has all that was ever called kept."""
    stores = ("record", "photo", "thumbnail", "change", "outbox", "photo_outbox", "meta")
    found = {store: life.stored(store) for store in stores}
    rows: dict[str, list[dict[str, Any]]] = {}
    for row in found["record"]:
        rows.setdefault(row["table"], []).append(row)
    items = {row["key"] for row in rows.get("item", [])}
    lost = set(count.kept) - items
    # A database that the browser itself threw away has nothing in any store.
    sizes = {store: len(rows_of_it) for store, rows_of_it in found.items()}
    assert not lost, f"{len(lost)} items that were called kept are gone; stored: {sizes}"
    count.unreported = len(items - set(count.kept))

    bytes_of = {row["sha256"]: row for row in found["photo"]}
    pictures = rows.get("photo", [])
    shown = {row["values"]["of"].removeprefix("item/") for row in pictures}
    assert shown == items, "items without a photograph, or the other way round"
    for row in pictures:
        digest = row["values"]["sha256"]
        held = bytes_of.get(digest, {}).get("digest")
        assert held == digest, "a photograph is gone, or was kept by half"
    assert {row["sha256"] for row in found["thumbnail"]} >= set(bytes_of)
    tagged = [row["values"]["on"].removeprefix("item/") for row in rows.get("tag", [])]
    assert set(tagged) <= items
    assert len(set(tagged)) == len(tagged)

    numbers = sorted(row["seq"] for row in found["change"])
    assert numbers == list(range(1, len(numbers) + 1)), "running numbers with a gap or twice"
    by_number = {row["seq"]: row["id"] for row in found["change"]}
    assert all(by_number[row["seq"]] == row["id"] for row in found["outbox"])
    assert {row["sha256"] for row in found["photo_outbox"]} <= set(bytes_of)
    count.waiting_changes.append(len(found["outbox"]))
    count.waiting_photos.append(len(found["photo_outbox"]))


def compare_with_server(life: Life, server: RealServer, count: Count) -> None:
    """After the last life all is sent: the server has every item, picture and change, once."""
    try:
        check(life, count)
        # It is called otherwise while a round goes on, which with hundreds of pictures takes long.
        life.page.get_by_role("button", name="Send and receive now").click(timeout=300_000)
        sent = lambda: not life.stored("outbox") and not life.stored("photo_outbox")  # noqa: E731
        until(sent, "some work never reached the server")
        records = life.stored("record")
        mine = {row["id"] for row in life.stored("change")}
        (boat,) = {row["boat"] for row in records}
        there = life.page.evaluate(PULL_ALL, boat)
        assert len(there) == len({one["id"] for one in there}), "a change is there twice"
        assert {one["id"] for one in there} == mine
    finally:
        life.kill()
    for row in records:
        if row["table"] == "photo":
            digest = row["values"]["sha256"]
            body = server.photo(digest)
            assert hashlib.sha256(body).hexdigest() == digest
            number = count.kept.get(row["values"]["of"].removeprefix("item/"))
            assert number is None or colour_of(body) == number % 512, "a picture on another item"


PULL_ALL = """
async (boat) => {
  const found = [];
  for (let since = 0, more = true; more; ) {
    const answer = await fetch(`/api/boats/${boat}/changes?since=${since}&limit=500`);
    const page = await answer.json();
    found.push(...page.changes);
    ({ cursor: since, more } = page);
  }
  return found;
}
"""


def colour_of(body: bytes) -> int:
    """The number that the upper part of a picture is painted in."""
    with Image.open(io.BytesIO(body)) as picture:
        red, green, blue = picture.convert("RGB").getpixel((picture.width // 2, 40))
    return (red // 32) + (green // 32 << 3) + (blue // 32 << 6)


def main() -> None:
    kills = int(sys.argv[1]) if len(sys.argv) > 1 else 50
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else random.randrange(10**6)
    print(f"{kills} kills, seed {seed}", flush=True)
    began = time.monotonic()
    with sync_playwright() as playwright, tempfile.TemporaryDirectory() as folder:
        count = run(playwright, Path(folder), kills, random.Random(seed))
    print(f"{count}. {time.monotonic() - began:.0f} s")


if __name__ == "__main__":
    main()
