"""Foreign pages can't write, foreign names aren't answered, and every answer is dressed."""

from __future__ import annotations

import pytest

from shedtally.web import guard

WRITE = {"X-Shedtally": "1"}


def slug(reply) -> str:
    return reply.json["type"].rsplit("/", 1)[-1]


@pytest.mark.parametrize(
    "headers",
    [
        {},
        {**WRITE, "Origin": "https://evil.example"},
        {**WRITE, "Origin": "http://localhost:9999"},
        {**WRITE, "Origin": "null"},
        {**WRITE, "Sec-Fetch-Site": "cross-site"},
        {**WRITE, "Sec-Fetch-Site": "same-site"},
    ],
    ids=str,
)
def test_writes_that_other_pages_could_make_are_refused(phone, boat, headers) -> None:
    body = {"schema": 1, "changes": [phone.change("boat", boat, note="forged")]}
    reply = phone.http.post(f"/api/boats/{boat}/changes", json=body, headers=headers)
    assert (reply.status_code, slug(reply)) == (403, "not-from-here")
    assert len(phone.pull_all(boat)) == 1


@pytest.mark.parametrize(
    "headers",
    [
        {**WRITE, "Origin": "http://localhost", "Sec-Fetch-Site": "same-origin"},
        {**WRITE, "Sec-Fetch-Site": "none"},
        WRITE,
    ],
    ids=str,
)
def test_writes_of_the_own_page_pass(phone, boat, headers) -> None:
    body = {"schema": 1, "changes": [phone.change("boat", boat, note="own")]}
    reply = phone.http.post(f"/api/boats/{boat}/changes", json=body, headers=headers)
    assert reply.status_code == 200


def test_every_writing_route_refuses_what_another_page_could_send(app, phone) -> None:
    """A form on another page can set no header; so no route may do without it."""
    writing = [
        (rule, method)
        for rule in app.url_map.iter_rules()
        for method in (rule.methods or set()) - guard.SAFE_METHODS
        if rule.rule.startswith("/api/")
    ]
    assert len(writing) >= 6
    for rule, method in writing:
        path = rule.rule
        for argument in rule.arguments:
            path = path.replace(f"<string:{argument}>", "x")
        reply = phone.http.open(path, method=method)
        assert slug(reply) == "not-from-here", path


def test_every_api_route_but_three_needs_a_session(app, client) -> None:
    closed = [
        (rule, method)
        for rule in app.url_map.iter_rules()
        for method in (rule.methods or set()) - {"HEAD", "OPTIONS"}
        if rule.rule.startswith("/api/") and rule.rule not in guard.OPEN_PATHS
    ]
    assert len(closed) >= 15
    for rule, method in closed:
        path = rule.rule
        for argument in rule.arguments:
            path = path.replace(f"<string:{argument}>", "x")
        reply = client.open(path, method=method, headers=WRITE)
        assert (reply.status_code, slug(reply)) == (401, "not-paired"), path
    assert sorted(guard.OPEN_PATHS) == ["/api/openapi.json", "/api/pair", "/api/ping"]


@pytest.mark.parametrize(
    "host", ["evil.example", "localhost.evil.example", "192.0.2.1:8443", "local host", "[::1"]
)
@pytest.mark.parametrize("path", ["/api/ping", "/", "/problems/invalid"])
def test_names_that_are_not_ours_are_not_answered(client, host, path) -> None:
    reply = client.get(path, headers={"Host": host})
    assert (reply.status_code, slug(reply)) == (400, "unknown-host")
    assert "evil" not in reply.get_data(as_text=True)


@pytest.mark.parametrize("host", ["localhost", "localhost:8443", "127.0.0.1:5000", "[::1]:5000"])
def test_names_that_are_ours_are_answered(client, host) -> None:
    assert client.get("/api/ping", headers={"Host": host}).status_code == 200


@pytest.mark.parametrize(
    ("method", "path"),
    [
        ("GET", "/"),
        ("GET", "/t/K7Q4M2"),
        ("GET", "/assets/missing.js"),
        ("GET", "/api/ping"),
        ("GET", "/api/session"),
        ("GET", "/api/no/such/page"),
        ("POST", "/api/ping"),
        ("GET", "/problems/invalid"),
        ("GET", "/api/openapi.json"),
    ],
)
def test_every_answer_carries_the_security_headers(client, method, path) -> None:
    reply = client.open(path, method=method)
    for name, value in guard.HEADERS.items():
        assert reply.headers[name] == value


def test_policy_lets_nothing_from_elsewhere_in_and_no_inline_script() -> None:
    policy = guard.CONTENT_SECURITY_POLICY
    assert "unsafe-inline" not in policy
    assert "'unsafe-eval'" not in policy.replace("'wasm-unsafe-eval'", "")
    assert "http" not in policy
    assert "*" not in policy
    for rule in ("default-src 'self'", "object-src 'none'", "frame-ancestors 'none'"):
        assert rule in policy


@pytest.mark.parametrize("path", ["/api/ping", "/api/session", "/api/boats", "/api/nothing"])
def test_answers_of_the_api_are_kept_by_no_cache(phone, path) -> None:
    assert phone.http.get(path).headers["Cache-Control"] == "no-store"


def test_no_answer_opens_the_api_to_other_origins(phone) -> None:
    reply = phone.http.get("/api/session", headers={"Origin": "https://evil.example"})
    assert not [name for name, _ in reply.headers if name.startswith("Access-Control")]


def test_forwarded_headers_are_believed_only_behind_a_proxy(client, phone) -> None:
    forged = {"X-Forwarded-For": "192.0.2.9", "X-Forwarded-Proto": "https"}
    body = {"code": "BBBBBBBB", "device": phone.device, "name": "n"}
    for n in range(10):
        headers = {**WRITE, **forged, "X-Forwarded-For": f"192.0.2.{n}"}
        client.post("/api/pair", json=body, headers=headers)
    assert client.post("/api/pair", json=body, headers=WRITE).status_code == 429


def test_behind_a_proxy_the_session_is_bound_to_the_secure_name(tmp_path, clock) -> None:
    from shedtally.app import create_app
    from shedtally.settings import Settings
    from shedtally.storage.tables import db
    from shedtally.storage.unit_of_work import writing
    from shedtally.usecases.pair_device import make_code

    app = create_app(Settings(tmp_path, trusted_hosts=("shed.example",), proxies=1), clock)
    with app.app_context(), writing() as uow:
        code = make_code(uow, clock()).code
    reply = app.test_client().post(
        "/api/pair",
        json={"code": code, "device": "0" * 8 + "-0000-4000-8000-" + "0" * 12, "name": "n"},
        headers={**WRITE, "X-Forwarded-Proto": "https", "X-Forwarded-Host": "shed.example"},
    )
    assert reply.headers["Set-Cookie"].startswith("__Host-shedtally=")
    with app.app_context():
        db.engine.dispose()
