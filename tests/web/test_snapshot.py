"""A snapshot stands for the whole log: with the pull that follows, it makes the same records."""

from __future__ import annotations

import gzip
import json

import pytest

from shedtally.domain import merge
from shedtally.domain.change import parse
from shedtally.domain.merge import State, Version


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
        versions = [
            Version(stamp, page["devices"][device], change, cursor)
            for stamp, device, change, cursor in page["versions"]
        ]
        for table, key, values, by in page["records"]:
            places = dict.fromkeys(values, by) if isinstance(by, int) else by
            assert places.keys() == values.keys()
            of = {field: versions[place] for field, place in places.items()}
            found[table, key] = State(values, of)
    return found


def merged(states: dict, changes: list[dict]) -> dict[tuple[str, str], State]:
    """The records after a pull."""
    found = dict(states)
    for sent in changes:
        change = parse({name: sent[name] for name in sent if name != "cursor"})
        name = (change.table, change.key)
        found[name] = merge.apply(found.get(name, merge.EMPTY), change, cursor=sent["cursor"])
    return found


def with_cursors(states: dict) -> dict:
    """Versions compare without their cursors; here they count too."""
    return {
        name: (dict(state.values), {f: (v, v.cursor) for f, v in state.versions.items()})
        for name, state in states.items()
    }


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
    assert with_cursors(states_of(pages)) == with_cursors(whole)


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
    assert {len(page["records"]) for page in pages[:-1]} == {3}
    since = phone.pull(boat, pages[0]["cursor"], limit=1000).json["changes"]
    found = merged(states_of(pages), since)
    assert with_cursors(found) == with_cursors(merged({}, phone.pull_all(boat)))


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
