"""The description of the API (OpenAPI 3.1), made from its routes and models."""

from __future__ import annotations

from typing import Any

from flask_openapi3.openapi import OpenAPI

from shedtally.web.guard import OPEN_PATHS, WRITE_HEADER

SESSION = {
    "session": {
        "type": "apiKey",
        "in": "cookie",
        "name": "__Host-shedtally",
        "description": "Given at pairing. Over plain HTTP its name is `shedtally`.",
    }
}
HEADER = {
    "name": WRITE_HEADER,
    "in": "header",
    "required": True,
    "description": "Any value. No other site can make a browser send it.",
    "schema": {"type": "string", "const": "1"},
}


def described(app: OpenAPI) -> dict[str, Any]:
    """The whole description, with what holds for every route added: session and header."""
    made: dict[str, Any] = app.api_doc
    paths: dict[str, dict[str, Any]] = made["paths"]
    for path, operations in paths.items():
        for method, operation in operations.items():
            if path in OPEN_PATHS:
                operation["security"] = []
            if method != "get":
                operation["parameters"] = [*operation.get("parameters", []), HEADER]
    made["security"] = [{"session": []}]
    made["components"]["securitySchemes"] = SESSION
    return made
