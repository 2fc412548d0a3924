"""What routes share when they describe and build their answers."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from typing import Any

from flask_openapi3.blueprint import APIBlueprint
from flask_openapi3.models.tag import Tag

from shedtally.web.problem_kinds import KINDS

PROBLEM_TYPE = "application/problem+json"
_PROBLEM_SCHEMA = {"schema": {"$ref": "#/components/schemas/Problem"}}
# Any request may be refused with one of these before its route is asked.
ALWAYS = ("unreadable", "not-paired", "not-from-here", "invalid", "server-fault", "server-busy")


def blueprint(name: str, about: str) -> APIBlueprint:
    """A group of routes under /api."""
    tag = Tag(name=name, description=about)
    return APIBlueprint(name, __name__, url_prefix="/api", abp_tags=[tag])


def answers(good: dict[int, Any], *slugs: str) -> dict[Any, Any]:
    """The answers of a route: the good ones, and the problems that it may report besides ALWAYS."""
    found: dict[Any, Any] = dict(good)
    for status, kinds in _by_status((*ALWAYS, *slugs)).items():
        found[status] = {
            "description": "; ".join(kinds),
            "content": {PROBLEM_TYPE: _PROBLEM_SCHEMA},
        }
    return found


def file_answer(*types: str) -> dict[str, Any]:
    """A good answer that is a file of one of ``types``."""
    return {
        "description": "The file",
        "content": {one: {"schema": {"type": "string", "format": "binary"}} for one in types},
    }


def iso(ms: int) -> str:
    """Milliseconds since 1970 as an ISO 8601 time in UTC, to the second."""
    return dt.datetime.fromtimestamp(ms // 1000, dt.UTC).isoformat()


def today(now_ms: int) -> dt.date:
    """The date in UTC."""
    return dt.datetime.fromtimestamp(now_ms / 1000, dt.UTC).date()


def _by_status(slugs: Iterable[str]) -> dict[int, list[str]]:
    found: dict[int, list[str]] = {}
    for slug in slugs:
        found.setdefault(KINDS[slug].status, []).append(f"{slug}: {KINDS[slug].title}")
    return found
