"""Routes: photo bytes by their SHA-256."""

from __future__ import annotations

import base64
from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path
from typing import Any

from flask import Response, request, send_file
from werkzeug.exceptions import ClientDisconnected

from shedtally.domain.errors import NoSuchBoat
from shedtally.domain.sync.kept import PICTURE_TYPES
from shedtally.usecases.keep_photo import (
    find_photo,
    find_thumbnail,
    keep_photo,
    keep_preview,
)
from shedtally.web import guard, schemas
from shedtally.web.answers import answers, blueprint, file_answer
from shedtally.web.guard import shed
from shedtally.web.problems import Problem

api = blueprint("photos", "Photographs")

CHUNK_BYTES = 64 * 1024
PICTURE = file_answer(*PICTURE_TYPES)
# Content-addressed: what is under a digest never changes.
FOR_EVER = "private, max-age=31536000, immutable"
# What a phone sent ahead gives way to the server's own thumbnail.
UNTIL_THE_PHOTO_COMES = "private, no-cache"
PREVIEW = "X-Shedtally-Preview"


@api.put(
    "/photos/<string:sha256>",
    openapi_extensions={
        "requestBody": {
            "required": True,
            "content": {
                kind: {"schema": {"type": "string", "format": "binary"}} for kind in PICTURE_TYPES
            },
        }
    },
    responses=answers(
        {200: schemas.PhotoOut, 201: schemas.PhotoOut},
        "length-required",
        "too-large",
        "wrong-type",
        "photo-cut-short",
        "photo-digest",
        "not-a-picture",
        "too-many-pixels",
        "disk-full",
    ),
)
def put_photo(path: schemas.PhotoPath) -> tuple[dict[str, Any], int]:
    """Take in a photo, whole and checked, or not at all; may be repeated.

    When this answers, the bytes are on the server's disk. 201: new here. 200: was here before.
    """
    kind = next((kind for kind in PICTURE_TYPES if kind == request.mimetype), None)
    if kind is None or request.content_encoding:
        raise Problem("wrong-type", "Send a photo as image/jpeg, image/png or image/webp.")
    request.max_content_length = shed().photos.max_bytes
    photo, new = keep_photo(
        shed().reading,
        shed().writing,
        shed().photos,
        path.sha256,
        declared=request.content_length,
        chunks=_body(),
        kind=kind,
        device=guard.device().key,
        now_ms=shed().now_ms(),
    )
    return asdict(photo), 201 if new else 200


@api.put(
    "/photos/<string:sha256>/preview",
    openapi_extensions={
        "requestBody": {
            "required": True,
            "content": {"image/jpeg": {"schema": {"type": "string", "format": "binary"}}},
        }
    },
    responses=answers(
        {200: schemas.PreviewOut},
        "length-required",
        "too-large",
        "wrong-type",
        "photo-cut-short",
        "photo-digest",
        "not-a-picture",
        "too-many-pixels",
        "disk-full",
    ),
)
def put_preview(path: schemas.PhotoPath, header: schemas.PreviewHeader) -> dict[str, Any]:
    """Take in a small picture of a photo that is still on its phone; may be repeated.

    Other devices are shown it until the photo itself is here. It has at most 200,000 bytes.
    """
    if request.mimetype != "image/jpeg" or request.content_encoding:
        raise Problem("wrong-type", "Send the small picture as image/jpeg.")
    digest = base64.b64decode(header.content_digest.split(":")[1]).hex()
    kept = keep_preview(
        shed().reading,
        shed().photos,
        path.sha256,
        declared=request.content_length,
        chunks=_body(),
        digest=digest,
    )
    return {"sha256": path.sha256, "whole": not kept}


@api.get("/photos/<string:sha256>", responses=answers({200: PICTURE}, "no-such-photo"))
def get_photo(path: schemas.PhotoPath) -> Response:
    """Send a photo, byte for byte as its phone sent it.

    If those bytes tell where it was taken, this is a copy that does not.
    """
    with shed().reading() as uow:
        file, photo = find_photo(uow, shed().photos, path.sha256, original=False)
    return _send(file, photo.type)


@api.get("/photos/<string:sha256>/original", responses=answers({200: PICTURE}, "no-such-photo"))
def get_original(path: schemas.PhotoPath) -> Response:
    """Send a photo byte for byte, with any position data that its sender left in."""
    with shed().reading() as uow:
        file, photo = find_photo(uow, shed().photos, path.sha256, original=True)
    return _send(file, photo.type)


@api.get(
    "/photos/<string:sha256>/thumbnail",
    responses=answers({200: file_answer("image/jpeg")}, "no-such-photo"),
)
def get_thumbnail(path: schemas.PhotoPath) -> Response:
    """Send a small picture, upright, of at most 320 pixels, with no metadata.

    With ``X-Shedtally-Preview: 1`` it is what a phone sent ahead of the photo, to be asked for
    again once the photo is here.
    """
    with shed().reading() as uow:
        file, is_preview = find_thumbnail(uow, shed().photos, path.sha256)
    response = _send(file, "image/jpeg")
    if is_preview:
        response.headers[PREVIEW] = "1"
        response.headers["Cache-Control"] = UNTIL_THE_PHOTO_COMES
    return response


@api.get(
    "/boats/<string:boat>/photos/missing",
    responses=answers({200: schemas.MissingPhotos}, "no-such-boat"),
)
def missing(path: schemas.BoatPath) -> dict[str, Any]:
    """List photos that records name and whose bytes have not arrived, for phones to offer."""
    with shed().reading() as uow:
        if not uow.log(path.boat).exists():
            raise NoSuchBoat(path.boat)
        return {"photos": uow.records(path.boat).missing_photos()}


def _body() -> Iterator[bytes]:
    """The request's bytes; where the connection broke, they simply end."""
    try:
        while chunk := request.stream.read(CHUNK_BYTES):
            yield chunk
    except ClientDisconnected:
        return


def _send(file: Path, kind: str) -> Response:
    response = send_file(file, mimetype=kind, as_attachment=True, download_name=file.name)
    response.headers["Cache-Control"] = FOR_EVER
    response.headers["Content-Security-Policy"] = guard.SENT_FILE_POLICY
    return response
