"""Sync beside a general document store that replicates: time, and bytes on the wire.

Run it by hand, on a quiet machine: ``python tests/bench/sync``. It installs the yardstick
(PouchDB against express-pouchdb, from the npm registry) into the folder of the tools, once.
Both sides carry the same ten thousand records between the same browser and a server on this
machine. Ours writes to the disk, merges field by field and keeps every change; the yardstick's
server holds its store in memory, which is its fastest. The last column is the yardstick without
any browser, both its stores in memory.
"""

from __future__ import annotations

import argparse
import json
import os
import statistics
import sys
import tempfile
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1]))
sys.path.insert(0, str(Path(__file__).parents[2]))

import parts
from playwright.sync_api import Browser, Page, sync_playwright
from records import COUNT, records

from processes import CHROMIUM_ARGUMENTS, chromium

FEW = 100
AIMS = {"push": 0.4, "first pull": 0.2}
BYTES_AIM = 1 / 3
OTHERS = ("yardstick", "no browser")


@contextmanager
def page_of(browser: Browser, url: str) -> Iterator[Page]:
    """A browser with nothing stored."""
    context = browser.new_context()
    page = context.new_page()
    page.goto(url)
    page.wait_for_function("() => 'bench' in globalThis")
    yield page
    context.close()


def call(page: Page, name: str, *words: Any) -> Any:
    return page.evaluate("([name, words]) => bench[name](...words)", [name, list(words)])


class Side:
    """One of the two, and how a browser begins with it."""

    def __init__(self, port: int, data: Path | None = None) -> None:
        self.port = port
        self.data = data

    def options(self) -> dict[str, Any]:
        return {"code": parts.pairing_code(self.data)} if self.data else {}


def one_run(
    browser: Browser, side: Side, boat: str, counter: parts.Counter | None = None
) -> dict[str, float]:
    """Milliseconds of each piece of work; with a counter its bytes, up and down, instead."""
    url = f"http://127.0.0.1:{side.port}/"
    all_records = records(COUNT + FEW)
    first, more = all_records[:COUNT], all_records[COUNT:]
    found: dict[str, Any] = {}

    def measure(name: str, page: Page, work: str) -> None:
        if counter:
            counter.take()
        took = call(page, work)
        found[name] = sum(counter.take()) if counter else took

    with page_of(browser, url) as old, page_of(browser, url) as new:
        call(old, "begin", boat, side.options())
        if side.data:
            call(old, "keep", [{"table": "boat", "key": boat, "set": {"name": "Tern"}}])
            call(old, "push")
        call(old, "keep", first)
        measure("push", old, "push")
        call(new, "begin", boat, side.options())
        measure("first pull", new, "pull")
        assert call(new, "held") == COUNT, call(new, "held")
        measure("pull, nothing new", new, "pull")
        call(old, "keep", more)
        measure(f"push of {FEW}", old, "push")
        measure(f"pull of {FEW} new", new, "pull")
        assert call(new, "held") == COUNT + FEW
    return found


def medians(runs: list[dict[str, float]]) -> dict[str, float]:
    return {name: statistics.median(run[name] for run in runs) for name in runs[0]}


def say(text: str) -> None:
    sys.stdout.write(text + "\n")
    sys.stdout.flush()


def table(title: str, unit: str, aims: dict[str, float], sides: Sequence[dict[str, float]]) -> None:
    """Print a line for each piece of work: ours, then every other side with our ratio to it."""
    heads = "".join(f"{name:>14}{'ratio':>7}" for name in OTHERS[: len(sides) - 1])
    say(f"\n{title:22}{'ours':>12}{heads}{'aim':>7}")
    ours, *others = sides
    for name, own in ours.items():
        line = f"{name:22}{own:>9,.0f} {unit}"
        for other in others:
            found = other.get(name)
            line += f"{found:>11,.0f} {unit}{own / found:>7.2f}" if found else " " * 21
        say(line + (aim_words(own, others[0][name], aims[name]) if name in aims else ""))


def aim_words(own: float, other: float, aim: float) -> str:
    """The aim for the ratio to the yardstick, and whether it holds."""
    return f"{aim:>7.2f}  {'holds' if own <= aim * other else 'FALLS SHORT'}"


def arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description="Sync beside the yardstick.")
    parser.add_argument("--runs", type=int, default=5)
    parser.add_argument("--only-ours", action="store_true", help="leave the yardstick out")
    return parser.parse_args()


@dataclass
class Both:
    """The two sides while both servers run; their runs take turns, so that load hits both alike."""

    browser: Browser
    folder: Path
    boats: Iterator[str]

    def ours(self, port: int, counter: parts.Counter | None = None) -> dict[str, float]:
        """One run of ours."""
        side = Side(port, self.folder / "data")
        return one_run(self.browser, side, next(self.boats), counter)

    def theirs(self, port: int, counter: parts.Counter | None = None) -> dict[str, float]:
        """One run of the yardstick."""
        return one_run(self.browser, Side(port), f"boat-{next(self.boats)}", counter)

    def without_browser(self, modules: Path, port: int) -> dict[str, float]:
        """One run of the yardstick from memory to memory."""
        file = self.folder / "records.json"
        if not file.exists():
            file.write_text(json.dumps(records(COUNT + FEW)), encoding="utf-8")
        found = parts.node_yardstick(modules, port, file)
        names = {"push": "push", "first pull": "pull", "pull, nothing new": "nothing"}
        return {name: found[key] for name, key in names.items()}


def turns(runs: int, *sides: Callable[[], dict[str, float]]) -> list[dict[str, float]]:
    """The medians of each side. The first turn warms everything up and is not counted."""
    found = [[side() for side in sides] for _ in range(runs + 1)][1:]
    return [medians(list(one)) for one in zip(*found, strict=True)]


def wire(run: Callable[[int, parts.Counter], dict[str, float]], port: int) -> dict[str, float]:
    """Bytes of one run."""
    counter = parts.Counter(port)
    found = run(counter.port, counter)
    counter.close()
    return found


def compare(both: Both, runs: int) -> None:
    """Measure both sides and print."""
    modules = parts.install_yardstick()
    client = parts.build_ours(both.folder / "client")
    with (
        parts.our_server(both.folder / "data", client) as (port, _),
        parts.yardstick_server(modules) as their_port,
    ):
        ours, theirs, without = turns(
            runs,
            lambda: both.ours(port),
            lambda: both.theirs(their_port),
            lambda: both.without_browser(modules, their_port),
        )
        table("time", "ms", AIMS, (ours, theirs, without))
        aims = {"push": BYTES_AIM, "first pull": BYTES_AIM}
        found = (wire(both.ours, port), wire(both.theirs, their_port))
        table("bytes, both ways", "B ", aims, found)


def ours_alone(both: Both, runs: int) -> None:
    """Measure our side and print."""
    client = parts.build_ours(both.folder / "client")
    with parts.our_server(both.folder / "data", client) as (port, _):
        (ours,) = turns(runs, lambda: both.ours(port))
        sent = wire(both.ours, port)
    for name, took in ours.items():
        say(f"{name:24}{took:>10,.0f} ms{sent[name]:>12,} bytes")


def main() -> None:
    """Measure, print, leave nothing behind but the installed yardstick."""
    wanted = arguments()
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium(), args=CHROMIUM_ARGUMENTS)
        both = Both(browser, Path(folder), (one["key"] for one in records(1_000, seed=9)))
        say(f"{COUNT:,} records, medians of {wanted.runs} runs; load {os.getloadavg()[0]:.1f}")
        (ours_alone if wanted.only_ours else compare)(both, wanted.runs)
        browser.close()


if __name__ == "__main__":
    main()
