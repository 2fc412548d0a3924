"""Requests made smaller for slow lines: JSON may be sent gzipped, up to a limit when unpacked."""

from __future__ import annotations

import io
import zlib

from flask import Flask, request

from shedtally.web.problems import Problem

MAX_INFLATED_BYTES = 20_000_000
_GZIP = zlib.MAX_WBITS | 16


def install(app: Flask) -> None:
    """Unpack what ``app`` is sent; after the guard, so that strangers make no work."""
    app.before_request(_unpack)


def _unpack() -> None:
    """Put the plain body in the place of the packed one.

    Raises: Problem for any other packing, damage, or more than ``MAX_INFLATED_BYTES``.
    """
    if not request.content_encoding or request.mimetype != "application/json":
        return
    if request.content_encoding.strip().lower() != "gzip":
        raise Problem(
            "wrong-type", "Send JSON plain or as gzip.", headers={"Accept-Encoding": "gzip"}
        )
    body = inflated(request.get_data(cache=False))
    environ = request.environ
    environ["wsgi.input"] = io.BytesIO(body)
    environ["CONTENT_LENGTH"] = str(len(body))
    environ.pop("HTTP_TRANSFER_ENCODING", None)
    environ.pop("HTTP_CONTENT_ENCODING")
    # The request object has the stream that was read, and the limit for packed bodies.
    request.__dict__.pop("stream", None)
    request.max_content_length = MAX_INFLATED_BYTES


def inflated(body: bytes) -> bytes:
    """What was packed into ``body``, never unpacking more than is allowed.

    Raises: Problem.
    """
    unpacking = zlib.decompressobj(_GZIP)
    try:
        plain = unpacking.decompress(body, MAX_INFLATED_BYTES)
    except zlib.error as error:
        raise _damaged() from error
    if not unpacking.eof and unpacking.unconsumed_tail:
        detail = f"Unpacked, it has more than {MAX_INFLATED_BYTES / 1e6:g} megabytes. Send less."
        raise Problem("too-large", detail, {"limit": MAX_INFLATED_BYTES})
    if not unpacking.eof or unpacking.unused_data:
        raise _damaged()
    return plain


def _damaged() -> Problem:
    return Problem("unreadable", "What arrived is no whole gzip. Send it again.")
