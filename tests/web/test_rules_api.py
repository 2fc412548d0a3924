"""The rules for phones travel once and again only when they change."""

from __future__ import annotations

from shedtally.rules.load import load


def test_rules_hold_what_the_phone_needs(phone) -> None:
    rules = phone.http.get("/api/rules").json
    assert rules["version"] == load().version
    assert len(rules["kinds"]) >= 100
    assert {"eu", "us-federal"} <= {one["id"] for one in rules["rule_sets"]}


def test_rules_that_the_phone_has_are_not_sent_again(phone) -> None:
    first = phone.http.get("/api/rules")
    again = phone.http.get("/api/rules", headers={"If-None-Match": first.headers["ETag"]})
    assert (again.status_code, again.data) == (304, b"")
    other = phone.http.get("/api/rules", headers={"If-None-Match": '"older"'})
    assert other.status_code == 200
