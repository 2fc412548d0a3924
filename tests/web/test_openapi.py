"""The description of the API is made from the code and leaves nothing out."""

from __future__ import annotations

import re

import pytest

from shedtally.web.answers import PROBLEM_TYPE


@pytest.fixture
def described(client) -> dict:
    return client.get("/api/openapi.json").json


def operations(described: dict) -> list[tuple[str, str, dict]]:
    return [
        (path, method, operation)
        for path, methods in described["paths"].items()
        for method, operation in methods.items()
    ]


def test_every_route_of_the_api_is_described(app, described) -> None:
    routes = {
        (re.sub(r"<(?:\w+:)?(\w+)>", r"{\1}", rule.rule), method.lower())
        for rule in app.url_map.iter_rules()
        for method in (rule.methods or set()) - {"HEAD", "OPTIONS"}
        if rule.rule.startswith("/api/") and rule.rule != "/api/openapi.json"
    }
    assert len(routes) >= 25
    assert {(path, method) for path, method, _ in operations(described)} == routes


def test_every_operation_says_in_a_sentence_what_it_does(described) -> None:
    for path, method, operation in operations(described):
        summary = operation.get("summary", "")
        assert summary.endswith("."), (path, method)
        assert len(summary) > 15, (path, method)


def test_every_operation_answers_its_errors_as_problems(described) -> None:
    for path, method, operation in operations(described):
        bad = {code: one for code, one in operation["responses"].items() if int(code) >= 400}
        assert {"401", "422", "500"} <= set(bad), (path, method)
        for code, one in bad.items():
            assert list(one["content"]) == [PROBLEM_TYPE], (path, method, code)


def test_every_reference_leads_somewhere(described) -> None:
    import json

    for name in re.findall(r'"#/components/schemas/([^"]+)"', json.dumps(described)):
        assert name in described["components"]["schemas"]


def test_description_says_how_to_get_in(described) -> None:
    assert described["openapi"].startswith("3.1")
    (scheme,) = described["components"]["securitySchemes"].values()
    assert (scheme["type"], scheme["in"]) == ("apiKey", "cookie")
    assert described["security"] == [{"session": []}]
    for path in ("/api/ping", "/api/pair"):
        for operation in described["paths"][path].values():
            assert operation["security"] == []


def test_writing_operations_ask_for_the_header(described) -> None:
    for path, method, operation in operations(described):
        names = {one["name"] for one in operation.get("parameters", []) if one["in"] == "header"}
        names -= {"Content-Digest"}
        assert names == (set() if method == "get" else {"X-Shedtally"}), (path, method)
