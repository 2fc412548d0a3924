"""Letting devices in by a one-time code, and shutting them out."""

from __future__ import annotations

import threading
import uuid

import pytest
from sqlalchemy import select, text

from shedtally.app import create_app
from shedtally.domain.sync import pairing
from shedtally.storage.tables import db

WRITE = {"X-Shedtally": "1"}
MINUTE_MS = 60_000


def new_code(phone) -> str:
    return phone.http.post("/api/pairing-codes", headers=WRITE).json["code"]


def try_code(client, code: str, device: str | None = None, **more):
    body = {"code": code, "device": device or str(uuid.uuid4()), "name": "new phone"}
    return client.post("/api/pair", json=body, headers=WRITE, **more)


def slug(reply) -> str:
    return reply.json["type"].rsplit("/", 1)[-1]


def test_ping_needs_no_session_and_tells_which_server_it_is(client, clock) -> None:
    first, second = client.get("/api/ping").json, client.get("/api/ping").json
    assert first == second
    assert uuid.UUID(first["server"])
    assert uuid.UUID(first["epoch"])
    assert (first["schema"], first["now_ms"]) == (1, clock.ms)


def test_paired_device_has_a_session(phone, boat, client) -> None:
    session = phone.http.get("/api/session").json
    assert session["device"] == phone.device
    assert session["boats"] == [{"key": boat, "name": "Corncrake"}]
    assert session["server"] == client.get("/api/ping").json["server"]


def test_code_is_eight_signs_without_vowels_and_is_never_in_the_query(phone) -> None:
    made = phone.http.post("/api/pairing-codes", headers=WRITE).json
    code = pairing.as_typed(made["code"])
    assert len(code) == pairing.LENGTH
    assert set(code) <= set(pairing.ALPHABET)
    assert not set(pairing.ALPHABET) & set("AEIOU01")
    assert made["url"] == f"http://localhost/pair#{code}"


def test_code_may_be_typed_in_any_case_with_any_hyphens(phone, client) -> None:
    code = new_code(phone).lower().replace("-", " - ")
    assert try_code(client, code).status_code == 200


def test_code_works_once(phone, client, app) -> None:
    code = new_code(phone)
    assert try_code(client, code).status_code == 200
    assert slug(try_code(app.test_client(), code)) == "pairing-code"


def test_code_holds_for_five_minutes(phone, client, clock) -> None:
    code = new_code(phone)
    clock.ms += pairing.LIVES_MS
    assert try_code(client, code).status_code == 403
    code = new_code(phone)
    clock.ms += pairing.LIVES_MS - 1
    assert try_code(client, code).status_code == 200


def test_wrong_code_lets_nobody_in(phone, client) -> None:
    new_code(phone)
    reply = try_code(client, "BBBB-BBBB")
    assert (reply.status_code, slug(reply)) == (403, "pairing-code")
    assert "Set-Cookie" not in reply.headers
    assert client.get("/api/session").status_code == 401


def test_code_is_dead_after_five_wrong_tries(phone, client) -> None:
    code = new_code(phone)
    for _ in range(4):
        try_code(client, "BBBB-BBBB")
    assert try_code(client, code).status_code == 200
    code = new_code(phone)
    for _ in range(5):
        try_code(client, "BBBB-BBBB")
    assert try_code(client, code).status_code == 403


def test_one_address_that_guesses_is_made_to_wait(phone, client, clock) -> None:
    for _ in range(10):
        try_code(client, "BBBB-BBBB")
    clock.ms += MINUTE_MS
    reply = try_code(client, new_code(phone))
    assert (reply.status_code, slug(reply)) == (429, "too-many-tries")
    assert reply.headers["Retry-After"] == "240"
    assert reply.json["retry_after_s"] == 240
    other = {"environ_base": {"REMOTE_ADDR": "192.0.2.7"}}
    assert try_code(client, new_code(phone), **other).status_code == 200
    clock.ms += 4 * MINUTE_MS
    assert try_code(client, new_code(phone)).status_code == 200


def test_guessing_from_many_addresses_is_stopped_for_all(phone, client) -> None:
    for n in range(30):
        try_code(client, "BBBB-BBBB", environ_base={"REMOTE_ADDR": f"192.0.2.{n}"})
    assert slug(try_code(client, new_code(phone))) == "too-many-tries"


@pytest.mark.parametrize(
    ("body", "pointer"),
    [
        ({"device": "x", "code": "B", "name": "n"}, "/device"),
        ({"device": str(uuid.uuid4()), "code": "B", "name": ""}, "/name"),
        ({"device": str(uuid.uuid4()), "name": "n"}, "/code"),
    ],
)
def test_request_that_lacks_something_names_it(client, body, pointer) -> None:
    reply = client.post("/api/pair", json=body, headers=WRITE)
    assert (reply.status_code, slug(reply)) == (422, "invalid")
    assert [error["pointer"] for error in reply.json["errors"]] == [pointer]


def test_cookie_is_bound_to_the_host_over_https_and_unreadable_for_scripts(phone, app) -> None:
    reply = try_code(app.test_client(), new_code(phone), base_url="https://localhost")
    cookie = reply.headers["Set-Cookie"]
    assert cookie.startswith("__Host-shedtally=")
    for part in ("Secure", "HttpOnly", "SameSite=Strict", "Path=/"):
        assert part in cookie
    assert "Domain" not in cookie


def test_cookie_over_plain_http_still_works_and_is_strict(phone, client) -> None:
    cookie = try_code(client, new_code(phone)).headers["Set-Cookie"]
    assert cookie.startswith("shedtally=")
    assert "SameSite=Strict" in cookie
    assert "HttpOnly" in cookie


def test_neither_tokens_nor_codes_stand_in_the_database(phone, app, settings) -> None:
    code = pairing.as_typed(new_code(phone))
    token = phone.http.get_cookie("shedtally").value
    with app.app_context(), db.engine.connect() as connection:
        tables = [connection.execute(select(table)).all() for table in db.metadata.sorted_tables]
    with app.app_context():
        db.engine.dispose()
    stored = repr(tables).encode()
    stored += b"".join(path.read_bytes() for path in settings.data_dir.glob("*.sqlite3*"))
    assert phone.device.encode() in stored
    assert token.encode() not in stored
    assert code.encode() not in stored


def test_revoked_phone_can_neither_read_nor_write_from_its_next_request_on(phone, pair, boat):
    lost = pair(name="lost phone")
    assert lost.pull(boat).status_code == 200
    reply = phone.http.post(f"/api/devices/{lost.device}/revoke", headers=WRITE)
    assert reply.status_code == 204
    assert lost.pull(boat).status_code == 401
    assert lost.push(boat, [lost.change("boat", boat, note="n")]).status_code == 401
    assert lost.http.get("/api/session").status_code == 401
    assert lost.http.get(f"/api/boats/{boat}/snapshot").status_code == 401
    assert lost.put_photo(b"any").status_code == 401
    assert lost.http.get(f"/api/boats/{boat}/records/boat/{boat}/history").status_code == 401
    assert slug(lost.http.get("/api/rules")) == "not-paired"


def test_what_a_revoked_phone_sent_before_stays_and_its_last_number_is_known(phone, pair, boat):
    lost = pair(name="lost phone")
    lost.push(boat, [lost.change("boat", boat, note="sent before")])
    phone.http.post(f"/api/devices/{lost.device}/revoke", headers=WRITE)
    assert phone.pull_all(boat)[-1]["set"] == {"note": "sent before"}
    row = {one["name"]: one for one in phone.http.get("/api/devices").json}["lost phone"]
    assert (row["revoked"], row["last_seq"]) == (True, 1)


def test_revoked_phone_paired_again_goes_on_with_the_same_numbers(phone, pair, boat) -> None:
    lost = pair(name="found again")
    lost.push(boat, [lost.change("boat", boat, note="before")])
    phone.http.post(f"/api/devices/{lost.device}/revoke", headers=WRITE)
    found = pair(device=lost.device, name="found again")
    assert found.http.get("/api/session").json["last_seq"] == 1
    assert lost.http.get("/api/session").status_code == 401


def test_revoking_an_unknown_device_is_told(phone, new_id) -> None:
    reply = phone.http.post(f"/api/devices/{new_id()}/revoke", headers=WRITE)
    assert (reply.status_code, slug(reply)) == (404, "no-such-device")


def test_a_renamed_phone_is_called_so_everywhere_and_stays_paired(phone, new_id) -> None:
    address = f"/api/devices/{phone.device}/rename"
    assert phone.http.post(address, json={"name": "Mast end"}, headers=WRITE).status_code == 204
    assert phone.http.get("/api/devices").json[0]["name"] == "Mast end"
    assert phone.http.get("/api/session").json["name"] == "Mast end"
    assert phone.http.post(address, json={"name": ""}, headers=WRITE).status_code == 422
    unknown = f"/api/devices/{new_id()}/rename"
    reply = phone.http.post(unknown, json={"name": "x"}, headers=WRITE)
    assert (reply.status_code, slug(reply)) == (404, "no-such-device")


def test_last_seen_is_noted_to_the_minute(phone, clock) -> None:
    def last_seen() -> str:
        return phone.http.get("/api/devices").json[0]["last_seen"]

    first = last_seen()
    clock.ms += 30_000
    assert last_seen() == first
    clock.ms += 31_000
    phone.http.get("/api/session")
    assert last_seen() > first


def test_session_is_renewed_while_the_phone_is_in_use(phone) -> None:
    cookie = phone.http.get("/api/session").headers["Set-Cookie"]
    assert "Max-Age=33696000" in cookie


def wrong_tries_on_record(app) -> int:
    with app.app_context(), db.engine.connect() as connection:
        return connection.execute(text("SELECT count(*) FROM pairing_try")).scalar_one()


def test_tries_are_forgotten_when_they_count_no_longer(app, phone, client, clock) -> None:
    for _ in range(3):
        try_code(client, "BBBB-BBBB")
    clock.ms += 5 * MINUTE_MS
    try_code(client, "BBBB-BBBB")
    assert wrong_tries_on_record(app) == 1


def test_an_address_that_has_to_wait_is_noted_no_further(app, phone, client) -> None:
    for _ in range(14):
        try_code(client, "BBBB-BBBB")
    assert wrong_tries_on_record(app) == 10


def test_guesses_at_once_are_all_counted(app, phone) -> None:
    answers: list[int] = []

    def guess(browser) -> None:
        for _ in range(4):
            answers.append(try_code(browser, "BBBB-BBBB").status_code)

    threads = [threading.Thread(target=guess, args=(app.test_client(),)) for _ in range(6)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert (answers.count(403), answers.count(429)) == (10, 14)


def test_a_restart_forgets_no_wrong_try(app, phone, client, settings, clock) -> None:
    for _ in range(10):
        try_code(client, "BBBB-BBBB")
    again = create_app(settings, clock)
    assert try_code(again.test_client(), new_code(phone)).status_code == 429
    with again.app_context():
        db.engine.dispose()
