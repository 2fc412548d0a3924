"""Batches may come gzipped; what unpacks to too much, or not at all, is refused clearly."""

from __future__ import annotations

import gzip
import json
import tracemalloc

import pytest

from shedtally.web.inflate import MAX_INFLATED_BYTES

WRITE = {"X-Shedtally": "1"}


def send(phone, boat: str, body: bytes, encoding: str = "gzip"):
    headers = {**WRITE, "Content-Encoding": encoding}
    return phone.http.post(
        f"/api/boats/{boat}/changes", data=body, content_type="application/json", headers=headers
    )


def packed(changes: list) -> bytes:
    return gzip.compress(json.dumps({"schema": 1, "changes": changes}).encode())


@pytest.mark.parametrize("encoding", ["gzip", "GZIP", " gzip "])
def test_gzipped_batch_lands_like_a_plain_one(phone, boat, new_id, encoding) -> None:
    changes = [phone.change("item", new_id(), name="pump é") for _ in range(50)]
    reply = send(phone, boat, packed(changes), encoding)
    assert {one["outcome"] for one in reply.json["results"]} == {"accepted"}
    assert {one["outcome"] for one in phone.push(boat, changes).json["results"]} == {"repeated"}


@pytest.mark.parametrize(
    "spoil",
    [
        lambda body: body[:-9],
        lambda body: body[:20],
        lambda body: b"",
        lambda body: body[:-8] + b"\0" * 8,
        lambda body: body + b"more",
        lambda body: body + body,
        lambda body: b"plain text",
        gzip.decompress,
    ],
    ids=["cut", "cut early", "nothing", "checksum", "tail", "twice", "no gzip", "plain"],
)
def test_damaged_gzip_is_refused_and_nothing_lands(phone, boat, new_id, spoil) -> None:
    body = packed([phone.change("item", new_id(), name="pump")])
    reply = send(phone, boat, spoil(body))
    assert reply.status_code == 400
    assert reply.json["type"].endswith("/problems/unreadable")
    assert len(phone.pull_all(boat)) == 1


@pytest.mark.parametrize("encoding", ["br", "deflate", "gzip, gzip", "zstd"])
def test_other_packing_is_refused_with_what_is_taken(phone, boat, encoding) -> None:
    reply = send(phone, boat, packed([]), encoding)
    assert reply.status_code == 415
    assert reply.json["type"].endswith("/problems/wrong-type")
    assert reply.headers["Accept-Encoding"] == "gzip"


def test_body_that_unpacks_to_too_much_is_refused_before_it_is_unpacked(phone, boat) -> None:
    bomb = gzip.compress(b" " * (8 * MAX_INFLATED_BYTES), 9)
    assert len(bomb) < 1_000_000
    tracemalloc.start()
    reply = send(phone, boat, bomb)
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert reply.status_code == 413
    assert reply.json["type"].endswith("/problems/too-large")
    assert reply.json["limit"] == MAX_INFLATED_BYTES
    assert peak < 4 * MAX_INFLATED_BYTES


def test_batch_larger_than_a_plain_one_may_be_goes_in_gzipped(phone, boat, new_id) -> None:
    changes = [
        phone.change("item", new_id(), **{f"new_{n}": "x" * 4000 for n in range(8)})
        for _ in range(300)
    ]
    assert phone.push(boat, changes).status_code == 413
    assert send(phone, boat, packed(changes)).status_code == 200


def test_strangers_make_no_work_of_unpacking(client, boat) -> None:
    reply = client.post(
        f"/api/boats/{boat}/changes",
        data=b"no gzip",
        content_type="application/json",
        headers={**WRITE, "Content-Encoding": "gzip"},
    )
    assert reply.status_code == 401
