"""Opening the app offline on a boat of five thousand items, beside reading the same records raw.

Run it by hand: ``python tests/bench/opening.py``. The yardstick is one plain `getAll` of the same
records, a row each, from a database of the same page. Measured is the real app from its service
worker, with no network: from the start of its script to the first painted screen (which is what the
yardstick stands beside), and from the start of the navigation. Then, with a processor four times
slower, what a tap takes from the finger to the next painted screen.
"""

from __future__ import annotations

import argparse
import os
import statistics
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

import parts
import yard
from playwright.sync_api import CDPSession, Page, sync_playwright
from scale import TAP, open_phone, say, verdict

AIM = 2.0
SLOW_TAP_AIM_MS = 1_000

# Notes when the app's script began, and when a frame after its first screen was painted.
WATCH = """
(() => {
  const found = (globalThis.opening = { screen: 0 });
  new MutationObserver((_, watch) => {
    if (!document.querySelector("#app main")) return;
    watch.disconnect();
    requestAnimationFrame(() => setTimeout(() => { found.screen = performance.now(); }, 0));
  }).observe(document, { childList: true, subtree: true });
})();
"""
OPENED = """
async () => {
  while (!globalThis.opening?.screen) await new Promise((done) => setTimeout(done, 20));
  const script = performance.getEntriesByType("resource")
    .find(({ name }) => /assets\\/index-.*\\.js$/.test(name));
  return { whole: opening.screen, app: opening.screen - script.responseEnd };
}
"""
ROWS = """
const wish = (asking) => new Promise((yes, no) => {
  asking.onsuccess = () => yes(asking.result);
  asking.onerror = () => no(asking.error);
});
"""
# Copies what the app holds into a database with a row for each record, as one would keep it.
COPY = f"""
async () => {{
  {ROWS}
  const from = await wish(indexedDB.open("shedtally"));
  const read = (store) => wish(from.transaction(store).objectStore(store).getAll());
  const rows = await read("record");
  for (const {{ boat, records }} of await read("block"))
    for (const [table, key, values, by] of records)
      rows.push({{ boat, table, key, values, versions: Array.isArray(by)
        ? Object.fromEntries(Object.keys(values).map((field) => [field, by])) : by }});
  from.close();
  const opening = indexedDB.open("raw");
  opening.onupgradeneeded = () =>
    opening.result.createObjectStore("record", {{ keyPath: ["boat", "table", "key"] }});
  const to = await wish(opening);
  const tx = to.transaction("record", "readwrite");
  for (const row of rows) tx.objectStore("record").put(row);
  await new Promise((done) => {{ tx.oncomplete = done; }});
  to.close();
  return rows.length;
}}
"""
RAW = f"""
async () => {{
  {ROWS}
  const from = performance.now();
  const db = await wish(indexedDB.open("raw"));
  const rows = await wish(db.transaction("record").objectStore("record").getAll());
  const took = performance.now() - from;
  db.close();
  return [took, rows.length];
}}
"""


def open_app(page: Page, url: str) -> dict[str, float]:
    """Milliseconds of one opening, with no network."""
    page.goto(url)
    return dict(page.evaluate(OPENED))


def measure(page: Page, cdp: CDPSession, url: str, runs: int) -> None:
    """Print the ratio, at full speed and four times slower."""
    for slower in (1, 4):
        cdp.send("Emulation.setCPUThrottlingRate", {"rate": slower})
        opened, raw = [], []
        for _ in range(runs + 1):
            opened.append(open_app(page, f"{url}/find"))
            raw.append(page.evaluate(RAW)[0])
        whole = statistics.median(one["whole"] for one in opened[1:])
        app = statistics.median(one["app"] for one in opened[1:])
        plain = statistics.median(raw[1:])
        say(
            f"{slower} x slower: raw read {plain:.0f} ms; first screen {app:.0f} ms after the "
            f"script came, ratio {app / plain:.2f} (aim {AIM:.2f}): {verdict(app <= AIM * plain)}; "
            f"{whole:.0f} ms in all"
        )


def taps(page: Page, url: str, runs: int) -> None:
    """Print what taps take right after opening, on the slow processor."""
    paths = ("/left", "/boat", "/", "/find")
    found: dict[str, list[float]] = {path: [] for path in paths}
    for _ in range(runs):
        open_app(page, f"{url}/find")
        for path in paths:
            found[path].append(page.evaluate(TAP, path))
    for path, times in found.items():
        middle = statistics.median(times)
        took = f"{middle:.0f} ms, at most {max(times):.0f} ms (aim {SLOW_TAP_AIM_MS} ms)"
        say(f"tap to {path:7} 4 x slower: {took}: {verdict(middle <= SLOW_TAP_AIM_MS)}")


def main() -> None:
    """Fill a server, let a phone receive it, cut the network, measure."""
    parser = argparse.ArgumentParser(description="Opening the app offline.")
    parser.add_argument("--items", type=int, default=5_000)
    parser.add_argument("--runs", type=int, default=7)
    wanted = parser.parse_args()
    edits = yard.yard(wanted.items, 0)
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        data = Path(folder) / "data"
        client = parts.build_app(Path(folder) / "client")
        with parts.our_server(data, client) as (port, _):
            api = parts.Api(port, data)
            api.push(edits[0]["key"], edits)
            url = f"http://127.0.0.1:{port}"
            page, cdp = open_phone(playwright, url, parts.pairing_code(data), Path(folder))
            page.context.add_init_script(WATCH)
            say(f"{page.evaluate(COPY):,} records; load {os.getloadavg()[0]:.1f}")
            measure(page, cdp, url, wanted.runs)
            taps(page, url, wanted.runs)
            page.context.close()


if __name__ == "__main__":
    main()
