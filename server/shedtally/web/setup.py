"""The set-up page: hands the shed's certificate authority to a phone and checks the result.

Plain HTML, so that a browser that trusts nothing yet can show it. The only script belongs to
the checks; without it the page still explains and hands over.
"""

from __future__ import annotations

import datetime as dt
import ssl
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from cryptography import x509
from flask import Blueprint, Response, jsonify, render_template, request

FILES = Path(__file__).parent / "setup_files"
# Not left to the system's own table: a browser refuses a script of any other type.
TYPES = {".css": "text/css", ".js": "text/javascript"}
# What phones know as "install this as an authority" (IANA has no registered type for it).
AUTHORITY_TYPE = "application/x-x509-ca-cert"


@dataclass(frozen=True)
class SetupFacts:
    """What the page tells: the address to open, and the certificates if they are the shed's own.

    `authority` and `server` are PEM files; None when a public authority vouches for the
    address, or when it needs none (localhost).
    """

    url: str
    authority: Path | None = None
    server: Path | None = None


def setup_page(facts: SetupFacts) -> Blueprint:
    """Make the routes under /setup for one server."""
    pages = Blueprint("setup", __name__, template_folder="templates")

    @pages.get("/setup")
    def page() -> Response:
        html = render_template(
            "setup.html",
            url=facts.url,
            here=request.host_url.rstrip("/"),
            secure=request.is_secure or request.host.split(":")[0] in {"localhost", "127.0.0.1"},
            fingerprint=_fingerprint(facts.authority),
            days_left=_days_left(facts.server),
        )
        return _fresh(Response(html, mimetype="text/html"))

    @pages.get("/setup/state.json")
    def state() -> Response:
        return _fresh(
            jsonify(
                url=facts.url,
                secure=request.is_secure,
                fingerprint=_fingerprint(facts.authority),
                certificate_days_left=_days_left(facts.server),
            )
        )

    @pages.get("/setup/authority.<any(crt, pem):form>")
    def authority(form: str) -> tuple[Response, int]:
        if facts.authority is None:
            text = f"{facts.url} needs no certificate from here; open it and go on.\n"
            return Response(text, mimetype="text/plain"), 404
        pem = facts.authority.read_text(encoding="ascii")
        body = pem.encode() if form == "pem" else ssl.PEM_cert_to_DER_cert(pem)
        kind = AUTHORITY_TYPE if form == "crt" else "application/x-pem-file"
        return _fresh(Response(body, content_type=kind)), 200

    @pages.get("/setup/<any('tokens.css', 'setup.css', 'check.js', 'worker.js'):name>")
    def file(name: str) -> Response:
        return _fresh(Response((FILES / name).read_bytes(), mimetype=TYPES[Path(name).suffix]))

    return pages


def _fresh(response: Response) -> Response:
    """A server that moved or got a new certificate must not be explained from a cache."""
    response.headers["Cache-Control"] = "no-cache"
    return response


def _fingerprint(authority: Path | None) -> str | None:
    """SHA-256 of the certificate in pairs of digits, as the terminal and the phone show it."""
    if authority is None:
        return None
    return (
        sha256(ssl.PEM_cert_to_DER_cert(authority.read_text(encoding="ascii")))
        .digest()
        .hex(":")
        .upper()
    )


def _days_left(server: Path | None) -> int | None:
    if server is None:
        return None
    ends = x509.load_pem_x509_certificate(server.read_bytes()).not_valid_after_utc
    return (ends - dt.datetime.now(dt.UTC)).days
