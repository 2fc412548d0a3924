"""What a thousand records cost on a bad line, gzipped: sent one way, and received by a new phone.

Measured: 59 bytes a record up and 45 down, of which some 10 each are a key and an id that no
compression can take away. The limits leave room for another field or two, not for another format.
"""

import gzip
import json
import random

from bench.records import records

MANY = 1_000
UP_LIMIT, DOWN_LIMIT = 90, 65
GZIP = {"Accept-Encoding": "gzip"}


def changes(phone) -> list[dict]:
    rng = random.Random(3)
    made = [phone.change(one["table"], one["key"], **one["set"]) for one in records(MANY)]
    for one in made:
        # Ids as a phone makes them: the time, then chance.
        one["id"] = f"{one['stamp'][:8]}-{one['stamp'][8:12]}-7{rng.getrandbits(76):019x}"
        one["id"] = f"{one['id'][:18]}-8{one['id'][19:22]}-{one['id'][22:34]:0<12}"
    return made


def test_a_thousand_changes_go_up_in_few_bytes(phone, boat):
    body = json.dumps({"schema": 1, "changes": changes(phone)}, separators=(",", ":")).encode()
    assert len(gzip.compress(body, 6)) < UP_LIMIT * MANY


def test_a_new_phone_receives_a_thousand_records_in_few_bytes(phone, boat):
    sent = changes(phone)
    for at in range(0, MANY, 500):
        outcomes = {one["outcome"] for one in phone.push(boat, sent[at : at + 500]).json["results"]}
        assert outcomes == {"accepted"}
    answer = phone.http.get(f"/api/boats/{boat}/snapshot", headers=GZIP)
    assert answer.headers["Content-Encoding"] == "gzip"
    assert len(json.loads(gzip.decompress(answer.data))["records"]) >= 1
    assert len(answer.data) < DOWN_LIMIT * MANY


def test_the_lists_are_made_without_reading_photographs(phone, boat, app):
    photo = {"of": "item/i1", "sha256": "0" * 64, "type": "image/jpeg", "bytes": 9}
    made = [phone.change("photo", f"p{n}", **photo) for n in range(3)]
    phone.push(boat, [phone.change("item", "i1", name="pump"), *made])
    from shedtally.storage.unit_of_work import reading

    with app.app_context(), reading() as uow:
        read = list(uow.records(boat)._shown(["photo"]))
        held = uow.records(boat).read_boat()
    assert len(read) == 3
    assert "photo" not in repr(held).lower()
