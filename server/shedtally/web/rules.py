"""Routes: the rules that the phone needs offline."""

from __future__ import annotations

from flask import Response, json, request

from shedtally.rules.load import rules_for_phone
from shedtally.web.answers import answers, blueprint
from shedtally.web.guard import shed

api = blueprint("rules", "Kinds, systems and rule sets")


@api.get(
    "/rules",
    responses=answers(
        {200: {"description": "The rules", "content": {"application/json": {"schema": {}}}}}
    ),
)
def rules() -> Response:
    """Send the rules that the phone needs; with an ETag, so that they travel once."""
    response = Response(json.dumps(rules_for_phone(shed().rules)), mimetype="application/json")
    response.headers["Cache-Control"] = "private, no-cache"
    response.add_etag()
    response.make_conditional(request)
    return response
