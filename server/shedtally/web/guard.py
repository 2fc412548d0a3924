"""Who may do what: session, origin of writes, and the headers that every answer carries."""

from __future__ import annotations

from urllib.parse import urlsplit

from flask import Flask, Response, current_app, g, request

from shedtally.domain.errors import NotPaired
from shedtally.domain.sync.pairing import PairedDevice
from shedtally.usecases.pair_device import device_of
from shedtally.usecases.shed import Shed
from shedtally.web import hosts
from shedtally.web.problems import Problem, unknown_host

OPEN_PATHS = {"/api/ping", "/api/pair", "/api/openapi.json"}
SEEN_EVERY_MS = 60_000
COOKIE_DAYS = 390
SAFE_METHODS = {"GET", "HEAD", "OPTIONS"}
WRITE_HEADER = "X-Shedtally"

# Workers fetch under the policy of their own script, so it goes on every answer.
CONTENT_SECURITY_POLICY = (
    "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; img-src 'self' blob:; "
    "connect-src 'self'; worker-src 'self'; object-src 'none'; base-uri 'none'; "
    "frame-ancestors 'none'; form-action 'self'"
)
# A file that somebody sent may hold a page in disguise: nothing in it may run.
SENT_FILE_POLICY = "sandbox; default-src 'none'"
# No Strict-Transport-Security: the set-up page of the same name must stay open over plain HTTP
# for phones that do not trust the certificate yet.
HEADERS = {
    "Content-Security-Policy": CONTENT_SECURITY_POLICY,
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(self), microphone=(), geolocation=(), payment=(), usb=()",
}


def shed() -> Shed:
    """The server that this request belongs to."""
    found: Shed = current_app.extensions["shedtally"]
    return found


def device() -> PairedDevice:
    """The device that asks; only behind the guard."""
    found: PairedDevice = g.device
    return found


def install(app: Flask) -> None:
    """Guard every request to ``app``, dress every answer."""
    app.before_request(_check)
    app.after_request(_dress)


def cookie_name() -> str:
    """The ``__Host-`` prefix binds the cookie to this host; browsers allow it on HTTPS only."""
    return "__Host-shedtally" if request.is_secure else "shedtally"


def set_session(response: Response, token: str) -> None:
    """Give the device its session, for as long as browsers keep one."""
    response.set_cookie(
        cookie_name(),
        token,
        max_age=COOKIE_DAYS * 86_400,
        path="/",
        secure=request.is_secure,
        httponly=True,
        samesite="Strict",
    )


def session_token() -> str | None:
    """The token that the request carries."""
    return request.cookies.get(cookie_name())


def _check() -> None:
    if not hosts.is_ours():
        raise unknown_host()
    if not request.path.startswith("/api/"):
        return
    if request.method not in SAFE_METHODS:
        _check_origin()
    if request.path not in OPEN_PATHS:
        g.device = _paired()


def _check_origin() -> None:
    """Refuse writes that another site makes in the name of a paired browser."""
    origin = request.headers.get("Origin")
    foreign = origin is not None and urlsplit(origin).netloc != request.host
    site = request.headers.get("Sec-Fetch-Site", "same-origin")
    if foreign or site not in ("same-origin", "none") or WRITE_HEADER not in request.headers:
        raise Problem("not-from-here", "Open Shedtally at its own address and try there.")


def _paired() -> PairedDevice:
    now_ms = shed().now_ms()
    with shed().reading() as uow:
        found = device_of(uow, session_token())
    if found is None:
        raise NotPaired
    # Written once a minute: every write is a flush of the disk.
    if now_ms - found.last_seen_ms > SEEN_EVERY_MS:
        with shed().writing() as uow:
            uow.devices.seen(found.key, now_ms)
    return found


def _dress(response: Response) -> Response:
    for name, value in HEADERS.items():
        response.headers.setdefault(name, value)
    if request.path.startswith("/api/"):
        response.headers.setdefault("Cache-Control", "no-store")
    return response
