"""The names under which the server answers.

Any other name in a request means that a foreign page has pointed its own name at this machine (DNS
rebinding). The framework's own list can't hold IPv6 addresses, hence this one.
"""

from __future__ import annotations

from urllib.parse import urlsplit

from flask import current_app, request
from werkzeug.exceptions import SecurityError

ELSE = "http://localhost"


def is_ours() -> bool:
    """Whether the request came by a name of this server."""
    try:
        name = _bare(request.host)
    except (SecurityError, ValueError):
        return False
    return name in {_bare(host) for host in current_app.config["SHEDTALLY_HOSTS"]}


def own_address() -> str:
    """Scheme, name and port by which the request came; a foreign name is not repeated."""
    return request.host_url.rstrip("/") if is_ours() else ELSE


def _bare(host: str) -> str:
    return urlsplit(f"//{host}").hostname or ""
