"""Errors have one shape, wherever they come from, and each kind has a page."""

from __future__ import annotations

import logging
import uuid

import pytest
from sqlalchemy.exc import OperationalError

from shedtally.domain import errors
from shedtally.storage.photo_store import PhotoStore
from shedtally.web import problems
from shedtally.web.problem_kinds import KINDS

WRITE = {"X-Shedtally": "1"}
MEMBERS = {"type", "title", "status", "detail", "instance"}


def check(reply, slug: str) -> None:
    kind = KINDS[slug]
    assert reply.content_type == "application/problem+json"
    assert reply.status_code == kind.status == reply.json["status"]
    assert reply.json["type"] == f"http://localhost/problems/{slug}"
    assert reply.json["title"] == kind.title
    assert uuid.UUID(reply.json["instance"].removeprefix("urn:uuid:"))
    assert set(reply.json) >= MEMBERS
    detail = reply.json["detail"]
    assert detail.endswith(".")
    assert "!" not in detail
    for leak in ("Traceback", "sqlite", "SELECT", "/tmp", ".py", "<"):
        assert leak not in detail


@pytest.mark.parametrize(
    ("slug", "method", "path", "more"),
    [
        ("no-such-page", "GET", "/api/nothing", {}),
        ("no-such-page", "GET", "/assets/nothing.js", {}),
        ("no-such-page", "GET", "/problems/nothing", {}),
        ("wrong-method", "POST", "/api/ping", {}),
        ("wrong-method", "DELETE", "/", {}),
        ("unreadable", "POST", "/api/pair", {"data": b"{", "content_type": "application/json"}),
        ("unreadable", "POST", "/api/pair", {"data": b"", "content_type": "application/json"}),
        ("wrong-type", "POST", "/api/pair", {"data": b"a=b", "content_type": "text/plain"}),
        ("invalid", "POST", "/api/pair", {"json": {}}),
        ("invalid", "POST", "/api/pair", {"json": []}),
        ("invalid", "POST", "/api/pair", {"json": "text"}),
        ("invalid", "GET", "/api/boats/x/changes", {}),
        ("invalid", "GET", "/api/photos/x", {}),
        ("no-such-photo", "GET", f"/api/photos/{'0' * 64}", {}),
        ("no-such-photo", "GET", f"/api/photos/{'0' * 64}/thumbnail", {}),
    ],
)
def test_each_origin_of_errors_answers_in_the_one_shape(phone, slug, method, path, more) -> None:
    check(phone.http.open(path, method=method, headers=WRITE, **more), slug)


def test_body_too_large_is_a_problem(phone, boat) -> None:
    path = f"/api/boats/{boat}/changes"
    body = b'{"schema": 1, "changes": ["' + b"x" * 8_000_001 + b'"]}'
    reply = phone.http.post(path, data=body, content_type="application/json", headers=WRITE)
    check(reply, "too-large")


def test_wrong_method_says_which_are_right(client) -> None:
    assert "GET" in client.post("/api/ping", headers=WRITE).headers["Allow"]


def test_fault_of_the_server_tells_nothing_but_a_number_that_is_in_the_log(
    app, phone, monkeypatch, caplog
) -> None:
    def fail(*_args: object) -> None:
        raise RuntimeError("secret /etc/path")

    monkeypatch.setattr(PhotoStore, "thumbnail", fail)
    with caplog.at_level(logging.ERROR):
        reply = phone.http.get(f"/api/photos/{'0' * 64}/thumbnail")
    check(reply, "server-fault")
    assert "secret" not in reply.get_data(as_text=True)
    assert reply.json["instance"] in caplog.text
    assert "secret" in caplog.text


@pytest.mark.parametrize(
    ("message", "slug"),
    [
        ("database or disk is full", "disk-full"),
        ("database is locked", "server-busy"),
        ("no such table: x", "server-fault"),
    ],
)
def test_trouble_of_the_database_is_told_apart(phone, monkeypatch, message, slug) -> None:
    def fail(*_args: object) -> None:
        raise OperationalError("SELECT 1", {}, Exception(message))

    monkeypatch.setattr(PhotoStore, "thumbnail", fail)
    reply = phone.http.get(f"/api/photos/{'0' * 64}/thumbnail")
    check(reply, slug)


def leaves(error: type) -> list[type]:
    below = [leaf for child in error.__subclasses__() for leaf in leaves(child)]
    return below or [error]


EXAMPLES = {
    errors.TooManyTries: (5,),
    errors.NoSuchBoat: ("x",),
    errors.NoSuchDevice: ("x",),
    errors.NoSuchPhoto: ("x",),
    errors.NoSuchTagBlock: ("x",),
    errors.NoSuchRuleSet: ("x",),
    errors.NoSuchSheet: ("x",),
    errors.ClientTooOld: (0, 1),
    errors.BadChange: ("name", "is too long."),
    errors.PhotoTooLarge: (50_000_000,),
    errors.PhotoCutShort: (10, 5),
    errors.PhotoTooLong: (10, 11),
    errors.WrongDigest: ("0" * 64,),
    errors.OtherType: ("image/png",),
    errors.TooManyPixels: (64_000_000,),
}


@pytest.mark.parametrize("error", leaves(errors.Refused), ids=lambda error: error.__name__)
def test_every_refusal_of_the_domain_has_its_kind_of_problem(app, error) -> None:
    with app.test_request_context("/"):
        problem = problems.from_refused(error(*EXAMPLES.get(error, ())))
        assert problem.slug in KINDS
        assert problem.detail.endswith(".")


def test_tree_in_the_module_text_names_every_error() -> None:
    for error in (*leaves(errors.Refused), errors.Missing, errors.PhotoRefused):
        assert error.__name__ in (errors.__doc__ or "")


@pytest.mark.parametrize("slug", KINDS)
def test_each_kind_has_a_page_at_its_address(client, slug) -> None:
    reply = client.get(f"/problems/{slug}")
    assert reply.status_code == 200
    text = reply.get_data(as_text=True)
    assert KINDS[slug].title in text
    assert KINDS[slug].meaning in text


def test_kinds_are_named_once_in_kebab_case_with_error_status() -> None:
    for slug, kind in KINDS.items():
        assert slug == kind.slug
        assert slug == slug.lower().strip("-").replace("_", "-")
        assert 400 <= kind.status < 600
        assert kind.meaning.endswith(".")
        assert not kind.title.endswith(".")


def test_framework_statuses_map_to_kinds_of_the_same_status() -> None:
    for status, slug in problems._BY_STATUS.items():
        assert KINDS[slug].status == status
