"""A snapshot stands for the whole log: with the pull that follows, it makes the same records."""

from __future__ import annotations

import gzip
import itertools
import json
import uuid

import pytest

from shedtally.domain.sync import merge, stamp
from shedtally.domain.sync.change import parse
from shedtally.domain.sync.merge import State, Version


def pages_of(phone, boat: str, limit: int = 5000, between=lambda: None) -> list[dict]:
    found: list[dict] = []
    after = ""
    while True:
        reply = phone.http.get(f"/api/boats/{boat}/snapshot?limit={limit}&after={after}")
        assert reply.status_code == 200, reply.json
        found.append(reply.json)
        if not reply.json["more"]:
            return found
        after = reply.json["after"]
        between()


def states_of(pages: list[dict]) -> dict[tuple[str, str], State]:
    """The records of a snapshot, read as its description says."""
    found = {}
    for page in pages:
        versions = versions_of(page)
        met = 0
        for group in page["records"]:
            for at, (key, by) in enumerate(zip(keys_of(group), group["versions"], strict=True)):
                numbers = [by] if isinstance(by, int) else by
                own = []
                for number in numbers:
                    own.append(versions[met if number == 0 else number - 1])
                    met += number == 0
                by_field = own * len(group["fields"]) if isinstance(by, int) else own
                values = [column[at] for column in group["values"]]
                found[group["table"], key] = State(
                    dict(zip(group["fields"], values, strict=True)),
                    dict(zip(group["fields"], by_field, strict=True)),
                )
        assert met == len(versions)
    return found


def versions_of(page: dict) -> list[Version]:
    columns = page["versions"]
    times = itertools.accumulate(columns["ms"])
    ids = [str(uuid.UUID(part)) for part in cut(columns["changes"])]
    return [
        Version(stamp.make(ms, counter), page["devices"][device], change)
        for ms, counter, device, change in zip(
            times, columns["counters"], columns["devices"], ids, strict=True
        )
    ]


def keys_of(group: dict) -> list[str]:
    keys = group["keys"]
    return keys if isinstance(keys, list) else [str(uuid.UUID(part)) for part in cut(keys)]


def cut(digits: str) -> list[str]:
    return [digits[at : at + 32] for at in range(0, len(digits), 32)]


def merged(states: dict, changes: list[dict]) -> dict[tuple[str, str], State]:
    """The records after a pull."""
    found = dict(states)
    for sent in changes:
        change = parse({name: sent[name] for name in sent if name != "cursor"})
        name = (change.table, change.key)
        found[name] = merge.apply(found.get(name, merge.EMPTY), change)
    return found


def test_snapshot_is_what_the_whole_log_makes(pair, phone, boat, new_id, clock) -> None:
    other, shared = pair(), new_id()
    for n, writer in enumerate((phone, other, phone)):
        clock.ms += 10
        writer.push(boat, [writer.change("item", shared, name=f"pump {n}", count=n + 1)])
        other.push(boat, [other.change("item", new_id(), name="é ü \u2028", note=None)])
    other.push(boat, [other.change("item", shared, condition="worn", unknown_field=1.5)])
    other.push(boat, [other.change("unknown_table", "k-1", thing=True)])
    pages = pages_of(phone, boat)
    assert [page["cursor"] for page in pages] == [9]
    assert pages[0]["last"] == phone.pull_all(boat)[-1]["id"]
    assert pages[0]["epoch"] == phone.http.get("/api/ping").json["epoch"]
    whole = merged({}, phone.pull_all(boat))
    assert len(whole) == 6
    assert states_of(pages) == whole


def test_records_written_between_the_pages_come_by_the_pull_that_follows(
    pair, phone, boat, new_id, clock
) -> None:
    other = pair()
    keys = sorted(new_id() for _ in range(9))
    phone.push(boat, [phone.change("item", key, name=key, count=1) for key in keys])

    def write() -> None:
        clock.ms += 1
        edits = [other.change("item", key, count=2) for key in (keys[0], keys[-1])]
        other.push(
            boat,
            [
                *edits,
                other.change("item", new_id(), name="new"),
                other.change("zinc", new_id(), name="new"),
            ],
        )

    pages = pages_of(phone, boat, limit=3, between=write)
    assert len(pages) >= 4
    assert {len(states_of([page])) for page in pages[:-1]} == {3}
    since = phone.pull(boat, pages[0]["cursor"], limit=1000).json["changes"]
    found = merged(states_of(pages), since)
    assert found == merged({}, phone.pull_all(boat))


def test_snapshot_of_a_boat_that_is_not_here_is_a_problem(phone, new_id) -> None:
    reply = phone.http.get(f"/api/boats/{new_id()}/snapshot")
    assert reply.status_code == 404
    assert reply.json["type"].endswith("/problems/no-such-boat")


@pytest.mark.parametrize(
    "query", ["limit=0", "limit=10001", "after=item", "after=../x", "after=item/", "after='/x"]
)
def test_snapshot_asked_for_wrongly_is_a_problem(phone, boat, query) -> None:
    reply = phone.http.get(f"/api/boats/{boat}/snapshot?{query}")
    assert reply.status_code == 422
    assert reply.json["type"].endswith("/problems/invalid")


def test_snapshot_is_for_paired_devices_only(client, boat) -> None:
    assert client.get(f"/api/boats/{boat}/snapshot").status_code == 401


def test_snapshot_goes_out_gzipped(phone, boat, new_id) -> None:
    phone.push(boat, [phone.change("item", new_id(), name="bilge pump") for _ in range(100)])
    path = f"/api/boats/{boat}/snapshot"
    reply = phone.http.get(path, headers={"Accept-Encoding": "gzip"})
    assert reply.headers["Content-Encoding"] == "gzip"
    assert json.loads(gzip.decompress(reply.data)) == phone.http.get(path).json
