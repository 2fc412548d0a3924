"""Several server processes on one PostgreSQL database: nobody is overtaken, nothing given twice."""

from __future__ import annotations

import hashlib
import http.client
import json
import os
import threading
import time
import uuid
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from pathlib import Path
from typing import TypeVar

import pytest

from postgres_server import Postgres
from real_server import JSON, RealServer
from shedtally.domain.sync import stamp
from shedtally.usecases.pair_device import TRIES_PER_ADDRESS

T = TypeVar("T")
WORKERS = 3
WRITERS = 4
BATCHES = 25


@pytest.fixture(scope="module")
def server(postgres: Postgres, tmp_path_factory: pytest.TempPathFactory) -> Iterator[RealServer]:
    with postgres.a_database() as url:
        made = RealServer(tmp_path_factory.mktemp("shed"), url, WORKERS)
        made.start()
        wait_for_workers(made)
        yield made
        made.kill()


def wait_for_workers(server: RealServer) -> None:
    """Until every worker has the application loaded: each holds a connection to the database."""
    deadline = time.monotonic() + 60
    query = "SELECT count(DISTINCT pid) FROM pg_stat_activity WHERE datname = current_database()"
    while server.count(query) < WORKERS + 1:  # and the one that asks
        assert time.monotonic() < deadline, "not all workers came up"
        time.sleep(0.1)


def at_once(jobs: Sequence[Callable[[], T]]) -> list[T]:
    """What these return, run in threads that start together; what one raises is raised here."""
    together = threading.Barrier(len(jobs))

    def run(job: Callable[[], T]) -> T:
        together.wait()
        return job()

    with ThreadPoolExecutor(len(jobs)) as pool:
        return list(pool.map(run, jobs))


class Phone:
    def __init__(self, server: RealServer) -> None:
        self.server = server
        self.device, self.cookie = server.pair()
        self.seq = 0

    def change(self, table: str, key: str, **values: object) -> dict:
        self.seq += 1
        return {
            "id": str(uuid.uuid4()), "device": self.device, "seq": self.seq,
            "stamp": stamp.make(time.time_ns() // 1_000_000), "table": table, "key": key,
            "set": values, "base": 0,
        }  # fmt: skip

    def push(self, boat: str, changes: list[dict]) -> dict:
        body = json.dumps({"schema": 1, "changes": changes}).encode()
        return self.post(f"/api/boats/{boat}/changes", body)

    def post(self, path: str, body: bytes) -> dict:
        status, answer = self.server.ask("POST", path, body, Cookie=self.cookie, **JSON)
        assert status in (200, 201), answer
        return json.loads(answer)

    def get(self, path: str) -> dict:
        status, answer = self.server.ask("GET", path, Cookie=self.cookie)
        assert status == 200, answer
        return json.loads(answer)

    def new_boat(self) -> str:
        boat = str(uuid.uuid4())
        self.push(boat, [self.change("boat", boat, name="Tern")])
        return boat


def test_cursors_of_writers_in_several_processes_are_contiguous_and_a_reader_skips_none(
    server: RealServer,
) -> None:
    phones = [Phone(server) for _ in range(WRITERS)]
    boat = phones[0].new_boat()
    sent: set[str] = set()
    read: list[tuple[int, str]] = []
    done = threading.Event()

    def write(phone: Phone) -> None:
        for number in range(BATCHES):
            batch = [phone.change("item", str(uuid.uuid4()), name=f"{number}") for _ in range(3)]
            assert {one["outcome"] for one in phone.push(boat, batch)["results"]} == {"accepted"}
            sent.update(one["id"] for one in batch)

    def follow() -> None:
        """A reader that never asks again for what lies before its cursor."""
        reader, since = Phone(server), 0
        while True:
            last_round = done.is_set()
            page = reader.get(f"/api/boats/{boat}/changes?since={since}&limit=500")
            read.extend((one["cursor"], one["id"]) for one in page["changes"])
            since = page["cursor"]
            if last_round and not page["more"]:
                return

    def write_all() -> None:
        try:
            at_once([partial(write, phone) for phone in phones])
        finally:
            done.set()

    at_once([write_all, follow])
    assert len(sent) == WRITERS * BATCHES * 3
    assert [cursor for cursor, _ in read] == list(range(1, len(sent) + 2))
    assert {key for _, key in read} >= sent


def test_one_batch_sent_to_several_processes_at_once_is_kept_once(server: RealServer) -> None:
    phone = Phone(server)
    boat = phone.new_boat()
    for _ in range(5):
        batch = [phone.change("item", str(uuid.uuid4()), name="pump") for _ in range(10)]
        answers = at_once([partial(phone.push, boat, batch)] * 4)
        outcomes = Counter(one["outcome"] for answer in answers for one in answer["results"])
        assert outcomes == {"accepted": 10, "repeated": 30}
        cursors = {tuple(one["cursor"] for one in answer["results"]) for answer in answers}
        assert len(cursors) == 1


def test_one_new_boat_sent_by_two_phones_at_once_is_opened_once(server: RealServer) -> None:
    phones = [Phone(server) for _ in range(4)]
    for _ in range(5):
        boat = str(uuid.uuid4())
        first = [phone.change("boat", boat, name="Tern") for phone in phones]
        at_once([
            partial(phone.push, boat, [one]) for phone, one in zip(phones, first, strict=True)
        ])  # fmt: skip
        found = phones[0].get(f"/api/boats/{boat}/changes?since=0&limit=500")["changes"]
        assert [one["cursor"] for one in found] == [1, 2, 3, 4]


def test_no_tag_code_is_ever_given_out_twice(server: RealServer) -> None:
    phones = [Phone(server) for _ in range(WRITERS)]
    boat = phones[0].new_boat()
    codes: list[str] = []

    def reserve(phone: Phone) -> None:
        for _ in range(15):
            body = json.dumps({"count": 7}).encode()
            codes.extend(phone.post(f"/api/boats/{boat}/tag-blocks", body)["codes"])

    at_once([partial(reserve, phone) for phone in phones])
    assert len(codes) == WRITERS * 15 * 7
    assert len(set(codes)) == len(codes)


def pair(server: RealServer, code: str) -> int:
    body = json.dumps({"code": code, "device": str(uuid.uuid4()), "name": "n"}).encode()
    return server.ask("POST", "/api/pair", body, **JSON)[0]


def test_a_code_lets_one_device_in_however_many_try_it_at_once(server: RealServer) -> None:
    server.execute("DELETE FROM pairing_try")
    for _ in range(3):
        answers = at_once([partial(pair, server, server.new_code())] * 4)
        assert answers.count(200) == 1
        server.execute("DELETE FROM pairing_try")


def test_wrong_codes_are_counted_over_all_processes(server: RealServer) -> None:
    server.execute("DELETE FROM pairing_try")
    answers: list[int] = []

    def guess() -> None:
        answers.extend(pair(server, "BBBBBBBB") for _ in range(5))

    at_once([guess] * 6)
    assert answers.count(403) == TRIES_PER_ADDRESS
    assert answers.count(429) == 30 - TRIES_PER_ADDRESS
    assert server.count("SELECT count(*) FROM pairing_try") == TRIES_PER_ADDRESS
    server.execute("DELETE FROM pairing_try")


def test_a_photograph_uploaded_to_several_processes_at_once_is_one_file(
    server: RealServer, picture: Callable[..., bytes]
) -> None:
    phone = Phone(server)
    for number in range(3):
        body = picture("JPEG", (900 + number, 700))
        digest = hashlib.sha256(body).hexdigest()
        kind = {"Content-Type": "image/jpeg", "Cookie": phone.cookie}
        put = partial(server.ask, "PUT", f"/api/photos/{digest}", body, **kind)
        answers = [status for status, _ in at_once([put] * 4)]
        assert sorted(answers) == [200, 200, 200, 201]
    assert len(server.files()) == len({file.name for file in server.files()}) == 3
    assert server.files("incoming") == []
    assert server.count("SELECT count(*) FROM photo") == 3


def test_every_process_answers_and_shows_what_another_took_in(server: RealServer) -> None:
    """Else the tests above would show nothing: all might have gone to one process."""
    phone = Phone(server)
    boat = phone.new_boat()
    before = {worker: times(worker) for worker in server.worker_ids()}
    assert len(before) == WORKERS

    def look() -> None:
        for _ in range(40):
            assert phone.get(f"/api/boats/{boat}/changes?since=0&limit=9")["cursor"] == 1

    at_once([look] * 6)
    worked = [worker for worker in before if times(worker) > before[worker]]
    assert len(worked) > 1


def times(worker: int) -> int:
    """Processor time of a process, in ticks of the kernel's clock."""
    fields = Path(f"/proc/{worker}/stat").read_text().rpartition(")")[2].split()
    return int(fields[11]) + int(fields[12])


def test_a_worker_that_dies_is_replaced_and_no_phone_notices_more_than_a_cut_line(
    server: RealServer,
) -> None:
    phone = Phone(server)
    boat = phone.new_boat()
    os.kill(server.worker_ids()[0], 9)
    deadline = time.monotonic() + 60
    while len(server.worker_ids()) < WORKERS and time.monotonic() < deadline:
        time.sleep(0.05)
    batch = [phone.change("item", str(uuid.uuid4()), name="pump")]
    for _ in range(20):
        try:
            outcome = phone.push(boat, batch)["results"][0]["outcome"]
            break
        except (OSError, http.client.HTTPException):
            time.sleep(0.1)
    assert outcome in ("accepted", "repeated")
