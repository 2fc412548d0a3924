"""Kill a real server under load, again and again, and count what it had acknowledged.

    .venv/bin/python tests/faults/kill_many.py 200 sqlite
    .venv/bin/python tests/faults/kill_many.py 200 postgres

Several phones push batches, upload photographs and pull, at once and without a pause; whatever was
not acknowledged is sent again, as a phone does. At random moments the server, one of its workers
or its first process is killed with SIGKILL. Ends with 1 if anything acknowledged is missing.
"""

from __future__ import annotations

import argparse
import contextlib
import hashlib
import http.client
import io
import json
import os
import random
import signal
import sys
import tempfile
import threading
import time
import uuid
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

from PIL import Image

from postgres_server import running_postgres
from real_server import JSON, RealServer
from shedtally.domain.sync import stamp
from shedtally.usecases.check_data import check_data

PHONES = 4
MOST_AT_ONCE = 40
LONGEST_PAUSE_S = 0.6


class Wrong(Exception):
    """The server did what it must never do."""


@dataclass
class Phone:
    """Sends for as long as it may, and notes what was acknowledged and what it has read."""

    server: RealServer
    boats: list[str]
    stop: threading.Event
    device: str
    cookie: str
    seed: int
    seq: int = 0
    doing: str = "nothing"
    acknowledged: dict[str, dict] = field(default_factory=dict)
    boat_of: dict[str, str] = field(default_factory=dict)
    photos: dict[str, bytes] = field(default_factory=dict)
    read: dict[str, dict[int, str]] = field(default_factory=dict)
    wrong: list[str] = field(default_factory=list)
    repeated: int = 0

    def work(self) -> None:
        chance = random.Random(self.seed)
        try:
            while not self.stop.is_set():
                self._push(chance)
                if chance.random() < 0.5:
                    self._upload(chance)
                self._pull(chance.choice(self.boats))
        except Wrong as wrong:
            self.wrong.append(str(wrong))

    def open_boats(self) -> None:
        for boat in self.boats:
            self._send(boat, [self._change("boat", boat, {"name": "Tern"})])

    def _push(self, chance: random.Random) -> None:
        boat = chance.choice(self.boats)
        keys = [str(uuid.UUID(int=chance.randrange(40))) for _ in range(3)]
        batch = [
            self._change("item", chance.choice([*keys, str(uuid.uuid4())]), {"name": f"{self.seq}"})
            for _ in range(chance.randint(1, MOST_AT_ONCE))
        ]
        self._send(boat, batch)

    def _send(self, boat: str, batch: list[dict]) -> None:
        body = json.dumps({"schema": 1, "changes": batch}).encode()
        answer = self._until_answered("push", "POST", f"/api/boats/{boat}/changes", body, **JSON)
        results = json.loads(answer)["results"]
        for change, result in zip(batch, results, strict=True):
            if result["outcome"] not in ("accepted", "repeated") or result["id"] != change["id"]:
                raise Wrong(f"answered {result}")
            self.repeated += result["outcome"] == "repeated"
            self.acknowledged[change["id"]] = change
            self.boat_of[change["id"]] = boat

    def _upload(self, chance: random.Random) -> None:
        stream = io.BytesIO()
        size = chance.randint(40, 900), chance.randint(40, 700)
        Image.effect_noise(size, chance.uniform(5, 60)).save(stream, "JPEG")
        body = stream.getvalue()
        digest = hashlib.sha256(body).hexdigest()
        kind = {"Content-Type": "image/jpeg"}
        self._until_answered("photo", "PUT", f"/api/photos/{digest}", body, **kind)
        self.photos[digest] = body

    def _pull(self, boat: str) -> None:
        seen = self.read.setdefault(boat, {})
        since = max(seen, default=0)
        answer = self._until_answered(
            "pull", "GET", f"/api/boats/{boat}/changes?since={since}&limit=500"
        )
        for expected, change in enumerate(json.loads(answer)["changes"], since + 1):
            if change["cursor"] != expected:
                raise Wrong(f"a reader was led from {expected - 1} to {change['cursor']}")
            seen[expected] = change["id"]

    def _until_answered(
        self, doing: str, method: str, path: str, body: bytes = b"", **headers: str
    ) -> bytes:
        """Ask until there is an answer; a dead line and a busy server mean: again."""
        while True:
            self.doing = doing
            try:
                status, answer = self.server.ask(method, path, body, Cookie=self.cookie, **headers)
            except (OSError, http.client.HTTPException):
                self.doing = "waiting"
                time.sleep(0.02)
                continue
            if status in (200, 201):
                self.doing = "thinking"
                return answer
            if status != 503:
                raise Wrong(f"{method} {path}: {status} {answer[:300]!r}")
            time.sleep(0.1)

    def _change(self, table: str, key: str, values: dict) -> dict:
        self.seq += 1
        return {
            "id": str(uuid.uuid4()), "device": self.device, "seq": self.seq,
            "stamp": stamp.make(time.time_ns() // 1_000_000), "table": table, "key": key,
            "set": values, "base": 0,
        }  # fmt: skip


@dataclass
class Outcome:
    """Counts, and everything that should not have been."""

    kills: Counter[str]
    in_flight: Counter[str]
    changes_acknowledged: int
    changes_survived: int
    photos_acknowledged: int
    photos_survived: int
    sent_again: int
    seconds: float
    wrong: list[str]

    def text(self) -> str:
        hit = ", ".join(f"{name} {count}" for name, count in sorted(self.in_flight.items()))
        what = ", ".join(f"{name} {count}" for name, count in sorted(self.kills.items()))
        return "\n".join([
            f"killed {self.kills.total()} times ({what}) in {self.seconds:.0f} s",
            f"what the phones were doing then: {hit}",
            (f"changes      acknowledged {self.changes_acknowledged}, survived "
            f"{self.changes_survived}; {self.sent_again} were sent again and kept once"),
            (f"photographs  acknowledged {self.photos_acknowledged}, survived "
            f"{self.photos_survived}"),
            *(f"WRONG: {line}" for line in self.wrong[:20]),
            "all is well" if not self.wrong else f"{len(self.wrong)} faults",
        ])  # fmt: skip


def kill_many(server: RealServer, kills: int, seed: int) -> Outcome:
    """Kill a started server so many times while phones work, then count."""
    chance = random.Random(seed)
    began = time.monotonic()
    stop = threading.Event()
    boats = [str(uuid.uuid4()) for _ in range(2)]
    phones = [Phone(server, boats, stop, *server.pair(), seed + n) for n in range(PHONES)]
    phones[0].open_boats()
    threads = [threading.Thread(target=phone.work, daemon=True) for phone in phones]
    for thread in threads:
        thread.start()
    done: Counter[str] = Counter()
    in_flight: Counter[str] = Counter()
    for number in range(kills):
        time.sleep(chance.uniform(0, LONGEST_PAUSE_S))
        in_flight.update(phone.doing for phone in phones)
        done[_kill_something(server, chance)] += 1
        server.wait_until_ready()
        if sys.stdout.isatty() and number % 10 == 0:
            print(f"{number + 1} of {kills}", end="\r", flush=True)
        if any(phone.wrong for phone in phones):
            break
    stop.set()
    for thread in threads:
        thread.join(60)
    counted = _counted(server, phones)
    return Outcome(done, in_flight, *counted[:4], sum(phone.repeated for phone in phones),
                   time.monotonic() - began, counted[4])  # fmt: skip


def _kill_something(server: RealServer, chance: random.Random) -> str:
    what = chance.choice(("all", "worker", "worker", "arbiter"))
    workers = server.worker_ids()
    if what == "worker" and workers:
        with contextlib.suppress(ProcessLookupError):
            os.kill(chance.choice(workers), signal.SIGKILL)
        return "one worker"
    if what == "arbiter":
        server.kill_arbiter()
        time.sleep(chance.uniform(0, 0.5))  # orphans go on for a moment
    server.kill()
    server.start()
    return "first process, then its orphans" if what == "arbiter" else "all at once"


def _counted(server: RealServer, phones: list[Phone]) -> tuple[int, int, int, int, list[str]]:
    wrong = [line for phone in phones for line in phone.wrong]
    log = {boat: _log(server, phones[0], boat, wrong) for boat in phones[0].boats}
    acknowledged = {key: one for phone in phones for key, one in phone.acknowledged.items()}
    survived = 0
    for phone in phones:
        for key, change in phone.acknowledged.items():
            kept = log[phone.boat_of[key]].get(key)
            survived += kept is not None and all(kept[name] == change[name] for name in change)
        for boat, seen in phone.read.items():
            final = {kept["cursor"]: key for key, kept in log[boat].items()}
            gone = [cursor for cursor, key in seen.items() if final.get(cursor) != key]
            wrong += [f"what was read at cursor {cursor} is another change now" for cursor in gone]
    if survived != len(acknowledged):
        wrong.append(f"{len(acknowledged) - survived} changes are lost or altered")
    photos = {digest: body for phone in phones for digest, body in phone.photos.items()}
    whole = sum(
        server.ask("GET", f"/api/photos/{digest}", Cookie=phones[0].cookie) == (200, body)
        for digest, body in photos.items()
    )
    if whole != len(photos):
        wrong.append(f"{len(photos) - whole} photographs are lost or altered")
    wrong += _half_written(server)
    return len(acknowledged), survived, len(photos), whole, wrong


def _log(server: RealServer, phone: Phone, boat: str, wrong: list[str]) -> dict[str, dict]:
    found: dict[str, dict] = {}
    since, more = 0, True
    while more:
        path = f"/api/boats/{boat}/changes?since={since}&limit=1000"
        page = json.loads(server.ask("GET", path, Cookie=phone.cookie)[1])
        for expected, change in enumerate(page["changes"], since + 1):
            if change["cursor"] != expected:
                wrong.append(f"cursor {change['cursor']} follows {expected - 1}")
            if change["id"] in found:
                wrong.append(f"change {change['id']} is there twice")
            found[change["id"]] = change
        since, more = page["cursor"], page["more"]
    return found


def _half_written(server: RealServer) -> list[str]:
    return list(check_data(server.data, server.database).damage)


def main() -> int:
    words = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    words.add_argument("kills", type=int, nargs="?", default=200)
    words.add_argument("database", choices=("sqlite", "postgres"), nargs="?", default="sqlite")
    words.add_argument("--seed", type=int, default=random.SystemRandom().randrange(10**6))
    asked = words.parse_args()
    with contextlib.ExitStack() as stack:
        folder = stack.enter_context(tempfile.TemporaryDirectory(prefix="shedtally-kills-"))
        data = Path(folder) / "data"
        if asked.database == "postgres":
            postgres = stack.enter_context(running_postgres())
            server = RealServer(data, postgres.new_database(), workers=3)
        else:
            server = RealServer(data)
        server.start()
        stack.callback(server.kill)
        print(f"{asked.database}, seed {asked.seed}")
        outcome = kill_many(server, asked.kills, asked.seed)
    print(outcome.text())
    return 1 if outcome.wrong else 0


if __name__ == "__main__":
    sys.exit(main())
