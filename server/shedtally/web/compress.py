"""Answers made smaller for slow lines: text is sent gzipped to those who take it."""

from __future__ import annotations

import functools
import gzip

from flask import Flask, Response, request

LEAST_BYTES = 1_000
KINDS = {
    "application/json",
    "application/manifest+json",
    "application/problem+json",
    "application/wasm",
    "image/svg+xml",
    "text/css",
    "text/csv",
    "text/html",
    "text/javascript",
    "text/plain",
}


def install(app: Flask) -> None:
    """Compress what ``app`` answers."""
    app.after_request(_compress)


def _compress(response: Response) -> Response:
    if response.mimetype not in KINDS:
        return response
    response.vary.add("Accept-Encoding")
    wanted = request.accept_encodings["gzip"] > 0 and response.status_code == 200
    if not wanted or response.content_encoding or request.method == "HEAD":
        return response
    response.direct_passthrough = False
    body = response.get_data()
    if len(body) < LEAST_BYTES:
        return response
    is_file = not request.path.startswith("/api/")
    response.set_data(_kept_gzip(body) if is_file else gzip.compress(body, 6, mtime=0))
    response.content_encoding = "gzip"
    response.headers.pop("Accept-Ranges", None)
    etag, _ = response.get_etag()
    if etag:
        # The bytes differ from the plain ones, so the tag may promise equal meaning only.
        response.set_etag(etag, weak=True)
    return response


@functools.lru_cache(maxsize=64)
def _kept_gzip(body: bytes) -> bytes:
    """The files of the client are few and asked for often."""
    return gzip.compress(body, 9, mtime=0)
