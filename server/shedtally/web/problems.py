"""Error answers: RFC 9457 problem details, made here and nowhere else."""

from __future__ import annotations

import logging
import uuid
from collections.abc import Mapping
from typing import Any, NoReturn

from flask import Flask, Response, json, request
from pydantic import ValidationError
from sqlalchemy.exc import OperationalError
from werkzeug.exceptions import HTTPException, SecurityError

from shedtally.domain import errors
from shedtally.web import hosts
from shedtally.web.problem_kinds import KINDS

log = logging.getLogger(__name__)

_BY_STATUS = {
    400: "unreadable",
    401: "not-paired",
    404: "no-such-page",
    405: "wrong-method",
    411: "length-required",
    413: "too-large",
    415: "wrong-type",
    422: "invalid",
    503: "server-busy",
}


class Problem(Exception):
    """Raise to answer with a problem; ``detail`` tells the person what to do now."""

    def __init__(
        self,
        slug: str,
        detail: str,
        extensions: Mapping[str, Any] | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> None:
        super().__init__(slug, detail)
        self.slug = slug
        self.detail = detail
        self.extensions = dict(extensions or {})
        self.headers = dict(headers or {})


def type_of(slug: str) -> str:
    """The address that names a kind of problem; it opens a page about it."""
    return f"{hosts.own_address()}/problems/{slug}"


def body_of(
    slug: str,
    detail: str,
    extensions: Mapping[str, Any] | None = None,
    instance: str | None = None,
) -> dict[str, Any]:
    """The members of a problem.

    Args: instance: what it happened to, if that has an id of its own; else a new id, which also
        stands in the server's log.
    """
    kind = KINDS[slug]
    return {
        "type": type_of(slug),
        "title": kind.title,
        "status": kind.status,
        "detail": detail,
        "instance": f"urn:uuid:{instance or uuid.uuid4()}",
        **(extensions or {}),
    }


def answer(problem: Problem) -> Response:
    """The response for a problem."""
    body = body_of(problem.slug, problem.detail, problem.extensions)
    log.info("%s %s: %s %s", request.method, request.path, problem.slug, body["instance"])
    response = Response(
        json.dumps(body), status=body["status"], mimetype="application/problem+json"
    )
    response.headers.update(problem.headers)
    response.headers["Cache-Control"] = "no-store"
    return response


def install(app: Flask) -> None:
    """Let every error of ``app`` end as a problem."""
    app.register_error_handler(Problem, answer)
    app.register_error_handler(errors.Refused, lambda refused: answer(from_refused(refused)))
    app.register_error_handler(HTTPException, lambda error: answer(_from_http(error)))
    app.register_error_handler(OperationalError, _from_database)
    app.register_error_handler(Exception, _unexpected)


def from_validation(error: ValidationError) -> Response:
    """What the framework calls when a request doesn't fit its schema."""
    if request.is_json and request.get_json(silent=True) is None:
        return answer(Problem("unreadable", "What arrived is no JSON. Send it again."))
    is_picture = request.mimetype.startswith("image/")
    if request.method in ("POST", "PUT") and not request.is_json and not is_picture:
        return answer(Problem("wrong-type", "Send JSON, with the type application/json."))
    found = [
        {"pointer": "/" + "/".join(str(part) for part in one["loc"]), "detail": one["msg"]}
        for one in error.errors(include_url=False, include_input=False, include_context=False)
    ]
    where = ", ".join(one["pointer"] for one in found)
    return answer(Problem("invalid", f"Correct these and try again: {where}.", {"errors": found}))


def from_refused(refused: errors.Refused) -> Problem:
    """The problem that tells of a refusal."""
    if type(refused) in _TOLD:
        return Problem(*_TOLD[type(refused)])
    match refused:
        case errors.TooManyTries(retry_after_s=seconds):
            detail = f"Wait {seconds} seconds, then use a new code."
            after = {"retry_after_s": seconds}
            return Problem("too-many-tries", detail, after, {"Retry-After": str(seconds)})
        case errors.ClientTooOld(schema=schema, oldest=oldest):
            detail = "Reload the app while connected. What is not yet sent stays on the phone."
            return Problem("client-too-old", detail, {"schema": schema, "oldest": oldest})
        case errors.BadChange(field=field, detail=detail):
            return Problem("invalid", detail, {"errors": [{"pointer": field, "detail": detail}]})
        case errors.PhotoRefused():
            return _photo(refused)
    raise AssertionError(refused)


# Refusals that carry no data: kind, and what the person does now.
_TOLD: dict[type[errors.Refused], tuple[str, str]] = {
    errors.NotPaired: (
        "not-paired",
        "Pair this device again. What is not yet sent stays on it.",
    ),
    errors.WrongCode: (
        "pairing-code",
        "Check the code, or ask for a new one. A code holds for five minutes.",
    ),
    errors.NoSuchBoat: ("no-such-boat", "Choose a boat of this server."),
    errors.NoSuchDevice: ("no-such-device", "Look at the list of devices again."),
    errors.NoSuchPhoto: ("no-such-photo", "It comes once its phone has sent it."),
    errors.NoSuchTagBlock: ("no-such-tag-block", "Reserve a new block and print that."),
    errors.NoSuchRuleSet: ("no-such-rule-set", "Choose one of the rule sets that are listed."),
    errors.NoSuchSheet: ("no-such-sheet", "Choose one of the sheets that are listed."),
    errors.CursorUnknown: (
        "cursor-unknown",
        "Read the boat from its beginning. What is not yet sent stays on the phone.",
    ),
    errors.RescueUnreadable: (
        "rescue-unreadable",
        "Nothing was kept. Make the file again on its phone, and choose that one.",
    ),
    errors.RescueOfOtherServer: (
        "rescue-other-server",
        "Nothing was kept. If it belongs here all the same, say so and bring it in again.",
    ),
    errors.TagsUsedUp: ("tags-used-up", "No code is left to give out on this server."),
    errors.DiskFull: (
        "disk-full",
        "Free space on the server's disk. The phone keeps its work until then.",
    ),
}


def _photo(refused: errors.PhotoRefused) -> Problem:
    match refused:
        case errors.LengthMissing():
            return Problem("length-required", "Send the photo with its Content-Length.")
        case errors.PhotoTooLarge(limit=limit):
            detail = f"A photo may have {limit / 1e6:g} megabytes. Make it smaller."
            return Problem("too-large", detail, {"limit": limit})
        case errors.PhotoCutShort(declared=declared, got=got):
            detail = f"{declared} bytes were announced and {got} arrived. Send it again."
            return Problem("photo-cut-short", detail)
        case errors.WrongDigest(found=found):
            detail = "The photo changed on its way. Send it again."
            return Problem("photo-digest", detail, {"found": found})
        case errors.OtherType(found=kind):
            detail = f"The file is {kind}, and was announced as something else."
            return Problem("wrong-type", detail, {"found": kind})
        case errors.TooManyPixels(limit=limit):
            detail = f"A picture may have {limit / 1e6:g} megapixels. Make it smaller."
            return Problem("too-many-pixels", detail, {"limit": limit})
    detail = "Not a whole JPEG, PNG or WebP picture. Take or choose another one."
    return Problem("not-a-picture", detail)


def _from_http(error: HTTPException) -> Problem:
    headers = {}
    if isinstance(error, SecurityError):
        return unknown_host()
    slug = _BY_STATUS.get(error.code or 500, "server-fault")
    for name, value in error.get_headers():
        if name in ("Allow", "Retry-After"):
            headers[name] = value
    detail = _HTTP_DETAILS.get(slug, KINDS[slug].meaning)
    return Problem(slug, detail, headers=headers)


_HTTP_DETAILS = {
    "no-such-page": "Check the address.",
    "too-large": "Send less at once.",
    "unreadable": "Send it again.",
}


# PostgreSQL's codes: no room; locks and deadlocks, and whatever it does when it stops or is full.
# Source: https://www.postgresql.org/docs/current/errcodes-appendix.html
_NO_ROOM = "53100"
_PASSES = ("08", "40", "53", "55P03", "57")


def _from_database(error: OperationalError) -> Response:
    text = str(error.orig)
    code = getattr(error.orig, "sqlstate", "")  # None where there is no connection to give one
    if code == _NO_ROOM or "is full" in text or "No space" in text:
        return answer(from_refused(errors.DiskFull()))
    if code is None or code.startswith(_PASSES) or "locked" in text or "busy" in text:
        problem = Problem("server-busy", "Try again in a moment.", headers={"Retry-After": "2"})
        return answer(problem)
    return _unexpected(error)


def _unexpected(error: Exception) -> Response:
    slug = "server-fault"
    response = answer(Problem(slug, "The server noted it. Try again; nothing sent is lost."))
    log.error("%s", json.loads(response.get_data())["instance"], exc_info=error)
    return response


def unknown_host() -> Problem:
    """The problem of a request by a name that is not the server's."""
    return Problem("unknown-host", "Open the address that the server shows at its start.")


def no_such_page() -> NoReturn:
    """Answer that there is nothing here."""
    raise Problem("no-such-page", "Check the address.")
