"""Route: bringing in what a phone could not send."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from flask import request
from werkzeug.exceptions import ClientDisconnected

from shedtally.usecases.bring_in_rescue import (
    MAX_FILE_BYTES,
    RescueDesk,
    RescueReport,
    bring_in,
)
from shedtally.web import guard, schemas
from shedtally.web.answers import answers, blueprint
from shedtally.web.guard import shed
from shedtally.web.problems import Problem, from_refused

api = blueprint("rescue", "What a phone could not send")

ZIP = "application/zip"
CHUNK_BYTES = 64 * 1024


@api.post(
    "/rescue",
    openapi_extensions={
        "requestBody": {
            "required": True,
            "content": {ZIP: {"schema": {"type": "string", "format": "binary"}}},
        }
    },
    responses=answers(
        {200: schemas.RescueReply},
        "rescue-unreadable",
        "rescue-other-server",
        "length-required",
        "too-large",
        "wrong-type",
        "photo-cut-short",
        "disk-full",
    ),
)
def rescue(query: schemas.RescueQuery) -> dict[str, Any]:
    """Bring in the rescue file of a phone, as that phone's work; may be repeated.

    What is whole in a damaged file is kept, and the rest named.
    """
    if request.mimetype != ZIP or request.content_encoding:
        raise Problem("wrong-type", "Choose the rescue file that a phone saved, a .zip.")
    if (request.content_length or 0) > MAX_FILE_BYTES:
        detail = f"A rescue file may have {MAX_FILE_BYTES / 1e9:g} gigabytes."
        raise Problem("too-large", detail, {"limit": MAX_FILE_BYTES})
    request.max_content_length = MAX_FILE_BYTES
    desk = RescueDesk(
        shed().reading,
        shed().writing,
        shed().photos,
        guard.device().key,
        shed().now_ms(),
        shed().rules,
    )
    with shed().photos.set_aside(request.content_length, _body()) as file:
        return as_json(bring_in(desk, file, from_other_server=query.other_server))


def as_json(report: RescueReport) -> dict[str, Any]:
    """The report, with a sentence for everything that was not kept."""
    return {
        "accepted": report.accepted,
        "repeated": report.repeated,
        "rejected": [
            {"id": one.id, "why": f"{one.field or 'change'}: {one.detail}"}
            for one in report.rejected
        ],
        "photos_kept": report.photos_kept,
        "photos_known": report.photos_known,
        "photos_refused": [
            {"sha256": sha256, "why": from_refused(refused).detail}
            for sha256, refused in report.photos_refused
        ],
        "damaged": report.damaged,
    }


def _body() -> Iterator[bytes]:
    """The request's bytes; where the connection broke, they simply end."""
    try:
        while chunk := request.stream.read(CHUNK_BYTES):
            yield chunk
    except ClientDisconnected:
        return
