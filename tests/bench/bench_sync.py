"""How fast changes go in and out, beside what bare SQLite does with the same rows.

Run it by hand: ``python tests/bench/bench_sync.py``. Prints medians; pytest does not collect it.
The yardstick inserts the same changes as JSON text, one transaction a batch, with the same
journal and flush settings, and does nothing else.
"""

from __future__ import annotations

import json
import sqlite3
import statistics
import sys
import tempfile
import time
import uuid
from collections.abc import Callable
from pathlib import Path

from flask.testing import FlaskClient

from shedtally.app import create_app, now_ms
from shedtally.domain.sync import stamp
from shedtally.rules.load import load
from shedtally.settings import Settings
from shedtally.storage.database import journal_mode
from shedtally.storage.unit_of_work import writing
from shedtally.usecases.pair_device import make_code

BATCH = 500
BATCHES = 10
LIST_ITEMS = 20_000
RUNS = 3
WRITE = {"X-Shedtally": "1"}


def items(device: str, first_seq: int, count: int) -> list[dict]:
    """Changes as a phone sends them when items come out."""
    kinds = list(load().kinds)
    return [
        {
            "id": str(uuid.uuid4()),
            "device": device,
            "seq": seq,
            "stamp": stamp.make(now_ms()),
            "table": "item",
            "key": str(uuid.uuid4()),
            "set": {
                "name": f"item {seq}",
                "kind": kinds[seq % len(kinds)],
                "condition": "worn",
                "whereabouts": ("aboard", "ashore")[seq % 2],
                "fate": ("refit", "renew", "waste")[seq % 3],
                "length_mm": 500,
            },
            "base": 0,
        }
        for seq in range(first_seq, first_seq + count)
    ]


def timed(work: Callable[[], object]) -> float:
    """Seconds that ``work`` takes."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def bare_sqlite(folder: Path, batches: list[list[dict]]) -> float:
    """The yardstick: seconds to insert the batches."""
    database = sqlite3.connect(folder / "bare.sqlite3", isolation_level=None)
    database.execute(f"PRAGMA journal_mode={journal_mode()}")
    database.execute("PRAGMA synchronous=FULL")
    database.execute("CREATE TABLE change (cursor INTEGER PRIMARY KEY, id TEXT UNIQUE, body TEXT)")

    def insert() -> None:
        for batch in batches:
            database.execute("BEGIN IMMEDIATE")
            rows = [(one["id"], json.dumps(one)) for one in batch]
            database.executemany("INSERT INTO change (id, body) VALUES (?, ?)", rows)
            database.execute("COMMIT")

    seconds = timed(insert)
    database.close()
    return seconds


class Bench:
    """A server on a folder of its own, and one paired phone."""

    def __init__(self, folder: Path) -> None:
        self.app = create_app(Settings(folder / "data", keep_free_bytes=0))
        self.http: FlaskClient = self.app.test_client()
        self.device, self.boat = str(uuid.uuid4()), str(uuid.uuid4())
        with self.app.app_context(), writing() as uow:
            code = make_code(uow, now_ms()).code
        body = {"code": code, "device": self.device, "name": "bench"}
        assert self.http.post("/api/pair", json=body, headers=WRITE).status_code == 200
        boat = items(self.device, 1, 1)[0] | {"table": "boat", "key": self.boat}
        self.push([boat | {"set": {"name": "Tern", "rule_set": "eu"}}])

    def push(self, batch: list[dict]) -> None:
        body = {"schema": 1, "changes": batch}
        reply = self.http.post(f"/api/boats/{self.boat}/changes", json=body, headers=WRITE)
        assert reply.status_code == 200

    def pull(self) -> int:
        since, found = 0, 0
        while True:
            page = self.http.get(f"/api/boats/{self.boat}/changes?since={since}&limit=500").json
            since, found = page["cursor"], found + len(page["changes"])
            if not page["more"]:
                return found

    def read(self, name: str) -> None:
        assert self.http.get(f"/api/boats/{self.boat}/lists/{name}").status_code == 200


def one_run(folder: Path) -> dict[str, float]:
    """Seconds of each measured piece of work."""
    bench = Bench(folder)
    changes = items(bench.device, 2, BATCH * BATCHES)
    batches = [changes[at : at + BATCH] for at in range(0, len(changes), BATCH)]
    found = {
        "bare SQLite, insert": bare_sqlite(folder, batches),
        "push": timed(lambda: [bench.push(batch) for batch in batches]),
        "push, all repeated": timed(lambda: [bench.push(batch) for batch in batches]),
        "pull": timed(bench.pull),
    }
    more = items(bench.device, 2 + len(changes), LIST_ITEMS - len(changes))
    for at in range(0, len(more), BATCH):
        bench.push(more[at : at + BATCH])
    for name in ("left", "waste", "renewals"):
        found[f"{name} list of {LIST_ITEMS} items, first time"] = timed(lambda: bench.read(name))  # noqa: B023
        found[f"{name} list, again"] = timed(lambda: bench.read(name))  # noqa: B023
    return found


def main() -> None:
    """Print the median of each piece of work over a few runs."""
    runs = []
    for _ in range(RUNS):
        with tempfile.TemporaryDirectory() as folder:
            runs.append(one_run(Path(folder)))
    count = BATCH * BATCHES
    for name in runs[0]:
        seconds = statistics.median(run[name] for run in runs)
        rate = "" if "list" in name else f"{count / seconds:10,.0f} changes/s"
        sys.stdout.write(f"{name:48} {seconds * 1000:9,.1f} ms {rate}\n")


if __name__ == "__main__":
    main()
