"""Twenty thousand items and sixty thousand photographs on one boat: does every screen answer?

Run it by hand: ``python tests/bench/scale.py``, some five minutes. A real server is filled
through its API, a phone-sized browser receives it, goes offline, and opens every screen by
tapping a link; then the same with a processor four times slower. Beside each stands the ratio to
a screen that shows nothing of the boat, opened in the same turn. Then a search, letter by letter;
then the server's memory while photographs go in. Medians of five turns; each part says its aim.
"""

from __future__ import annotations

import argparse
import hashlib
import io
import os
import statistics
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

import parts
import yard
from PIL import Image, ImageDraw
from playwright.sync_api import CDPSession, Page, Playwright, sync_playwright

from processes import CHROMIUM_ARGUMENTS, chromium

# A tap on a link, until the frame after the screen has changed is painted.
TAP = """
async (path) => {
  const link = document.createElement("a");
  link.href = path;
  document.body.append(link);
  const heading = () => document.querySelector("main h1")?.textContent;
  const before = heading();
  const from = performance.now();
  link.click();
  link.remove();
  const painted = () => new Promise((done) => requestAnimationFrame(() => setTimeout(done, 0)));
  // The headings of any two screens visited one after the other differ.
  while ((heading() ?? before) === before) {
    if (performance.now() - from > 20_000) throw new Error(`${path} never opened after ${before}`);
    await painted();
  }
  await painted();
  return performance.now() - from;
}
"""
# Scrolls a screenful at a time to the end, at most forty times; the longest wait for a frame.
SCROLL = """
async () => {
  const main = document.querySelector("main");
  let longest = 0;
  for (let step = 0; step < 40; step++) {
    const at = main.scrollTop;
    main.scrollBy(0, main.clientHeight);
    const from = performance.now();
    await new Promise((done) => requestAnimationFrame(() => setTimeout(done, 0)));
    longest = Math.max(longest, performance.now() - from);
    if (main.scrollTop === at) break;
  }
  return longest;
}
"""
# Types a word letter by letter; for each the milliseconds until what was found is painted.
TYPE = """
async (word) => {
  const box = document.querySelector("input[type=search]");
  const put = Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, "value").set;
  const painted = () => new Promise((done) => requestAnimationFrame(() => setTimeout(done, 0)));
  const type = async (text) => {
    const from = performance.now();
    put.call(box, text);
    box.dispatchEvent(new InputEvent("input", { bubbles: true }));
    await painted();
    return performance.now() - from;
  };
  await type("");
  const took = [];
  for (let end = 1; end <= word.length; end++) took.push(await type(word.slice(0, end)));
  return [took, document.querySelector("main section h2").textContent];
}
"""
# Small whatever the boat holds; every other screen is opened from it.
HOME = "/devices"
NODES = "() => document.querySelectorAll('*').length"
TURNS = 5
WORDS = ("pump", "hose 12", "locker 7")
# What a person takes for an answer to a tap; a tenth of it for a letter typed (both in common use
# for screens, no source).
TAP_AIM_MS = 1_000
LETTER_AIM_MS = 100
# From the first photographs, which fill caches, to the last.
GROWTH_AIM_MB = 20


def say(text: str) -> None:
    """One line, at once."""
    sys.stdout.write(text + "\n")
    sys.stdout.flush()


def screens(edits: list[dict]) -> list[str]:
    """The address of every screen, those of one record with a record."""
    first = {edit["table"]: edit["key"] for edit in reversed(edits)}
    item = f"/item/{first['item']}"
    of_one = [item, f"{item}/edit", f"{item}/put-away", f"/compartments/{first['compartment']}"]
    plain = "/ /find /left /waste /renewals /boat /compartments /places /tags /kept /clashes /bin"
    return [*plain.split(), "/storage", *of_one, f"/places/{first['place']}"]


def visit(page: Page, paths: list[str]) -> dict[str, tuple[float, float]]:
    """For each screen: milliseconds to open it, and to go back to the small one after it."""
    found = {}
    for path in paths:
        took = page.evaluate(TAP, path)
        found[path] = (took, page.evaluate(TAP, HOME))
    return found


def look(page: Page, paths: list[str]) -> dict[str, tuple[float, int]]:
    """For each screen: the longest frame while scrolling, and its nodes."""
    found = {}
    for path in paths:
        page.evaluate(TAP, path)
        found[path] = (page.evaluate(SCROLL), page.evaluate(NODES))
        page.evaluate(TAP, HOME)
    return found


def verdict(holds: bool) -> str:
    return "holds" if holds else "FALLS SHORT"


def all_screens(page: Page, paths: list[str], slower: int) -> None:
    """Print what every screen takes, and whether the slowest is within the aim."""
    looks = look(page, paths)
    turns = [visit(page, paths) for _ in range(TURNS)]
    small = statistics.median(back for turn in turns for _, back in turn.values())
    head = f"screen, offline, {slower} x slower"
    say(f"\n{head:58}{'opens':>9}{'ratio':>7}{'scrolls':>10}{'nodes':>8}")
    slowest = 0.0
    for path, (scroll, nodes) in looks.items():
        took = statistics.median(turn[path][0] for turn in turns)
        slowest = max(slowest, took)
        ratio = took / small
        say(f"{path:58}{took:>6,.0f} ms{ratio:>7.1f}{scroll:>7,.0f} ms{nodes:>8,}")
    aim = TAP_AIM_MS * slower
    say(f"slowest {slowest:,.0f} ms (aim {aim:,} ms): {verdict(slowest <= aim)}; small {small:.0f}")


def search(page: Page, slower: int) -> None:
    """Print what a letter of a search takes."""
    page.evaluate(TAP, "/find")
    for word in WORDS:
        turns = [page.evaluate(TYPE, word) for _ in range(TURNS + 1)]
        first = turns[0][0][0]  # the texts of all items are made with the first letter
        letters = [letter for took, _ in turns[1:] for letter in took]
        middle, most = statistics.median(letters), max(letters)
        aim = LETTER_AIM_MS * slower
        say(
            f"search for {word!r}, {slower} x slower, {turns[0][1]}: a letter {middle:.0f} ms, at "
            f"most {most:.0f} ms (aim {aim} ms): {verdict(middle <= aim)}; first of all {first:.0f}"
        )
    page.evaluate(TAP, HOME)


def picture(n: int) -> bytes:
    """A small photograph, no two alike."""
    image = Image.effect_noise((640, 480), 40)
    ImageDraw.Draw(image).text((10, 10), str(n))
    buffer = io.BytesIO()
    image.convert("RGB").save(buffer, "JPEG", quality=60)
    return buffer.getvalue()


def upload(api: parts.Api, first: int, count: int) -> None:
    for n in range(first, first + count):
        body = picture(n)
        digest = hashlib.sha256(body).hexdigest()
        api.send("PUT", f"/api/photos/{digest}", body, "image/jpeg").close()
        api.send("GET", f"/api/photos/{digest}/thumbnail").read()


def server_side(api: parts.Api, boat: str, pid: int, uploads: int, step: int) -> None:
    """Times of the list endpoints, and memory before, while and after photographs come in."""
    say(f"\nserver memory after filling it: {parts.resident_mb(pid):.0f} MB")
    for name in ("left", "waste", "renewals"):
        times = []
        for _ in range(1 + TURNS):
            from_ = time.perf_counter()
            api.get(f"/api/boats/{boat}/lists/{name}")
            times.append(time.perf_counter() - from_)
        say(f"list {name}: first {times[0]:.2f} s, again {statistics.median(times[1:]):.2f} s")
    memory = [parts.resident_mb(pid)]
    say(f"server memory before photographs: {memory[0]:.0f} MB")
    for done in range(0, uploads, step):
        upload(api, done, min(step, uploads - done))
        memory.append(parts.resident_mb(pid))
        say(f"server memory after {min(done + step, uploads):,} photographs: {memory[-1]:.0f} MB")
    growth = memory[-1] - memory[1]
    held = verdict(growth <= GROWTH_AIM_MB)
    say(f"from the first {step} to the last: {growth:+.1f} MB (aim {GROWTH_AIM_MB} MB): {held}")


def open_phone(
    playwright: Playwright, url: str, code: str, folder: Path
) -> tuple[Page, CDPSession]:
    """A paired phone that has received the boat and its lists, and then loses the network."""
    context = playwright.chromium.launch_persistent_context(
        str(folder / "profile"),
        executable_path=chromium(),
        args=list(CHROMIUM_ARGUMENTS),
        viewport={"width": 390, "height": 844},
        has_touch=True,
    )
    page = context.pages[0]
    page.set_default_timeout(120_000)
    page.goto(f"{url}/pair#{code}")
    page.get_by_label("Name of this phone").fill("bench")
    from_ = time.monotonic()
    page.get_by_role("button", name="Pair").click()
    page.wait_for_url(lambda at: not at.endswith("/pair"))
    page.goto(f"{url}/renewals")
    page.locator("main section details summary").first.wait_for()
    say(f"phone has all records and lists after {time.monotonic() - from_:.0f} s")
    page.evaluate("() => navigator.serviceWorker.ready")
    context.set_offline(True)
    return page, context.new_cdp_session(page)


def phone_side(url: str, code: str, edits: list[dict], folder: Path) -> None:
    """Open every screen and search, at full speed and four times slower."""
    with sync_playwright() as playwright:
        page, cdp = open_phone(playwright, url, code, folder)
        page.goto(url + HOME)
        page.wait_for_selector("main h1")
        for slower in (1, 4):
            cdp.send("Emulation.setCPUThrottlingRate", {"rate": slower})
            all_screens(page, screens(edits), slower)
            search(page, slower)
        page.context.close()


def main() -> None:
    parser = argparse.ArgumentParser(description="A large yard.")
    parser.add_argument("--items", type=int, default=20_000)
    parser.add_argument("--photos", type=int, default=60_000)
    parser.add_argument("--uploads", type=int, default=2_000)
    parser.add_argument("--step", type=int, default=200)
    wanted = parser.parse_args()
    edits = yard.yard(wanted.items, wanted.photos)
    with tempfile.TemporaryDirectory() as folder:
        data = Path(folder) / "data"
        client = parts.build_app(Path(folder) / "client")
        with parts.our_server(data, client) as (port, pid):
            api = parts.Api(port, data)
            boat = edits[0]["key"]
            from_ = time.perf_counter()
            api.push(boat, edits)
            took = time.perf_counter() - from_
            say(f"{len(edits):,} changes in {took:.1f} s; load {os.getloadavg()[0]:.1f}")
            url, code = f"http://127.0.0.1:{port}", parts.pairing_code(data)
            phone_side(url, code, edits, Path(folder))
            server_side(api, boat, pid, wanted.uploads, wanted.step)


if __name__ == "__main__":
    main()
