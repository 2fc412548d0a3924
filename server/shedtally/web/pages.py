"""Routes outside the API: the built client, and a page for each kind of problem."""

from __future__ import annotations

from pathlib import Path

from flask import Blueprint, Response, current_app, send_file
from werkzeug.security import safe_join

from shedtally.web.problem_kinds import KINDS
from shedtally.web.problems import no_such_page

pages = Blueprint("pages", __name__)

CLIENT = Path(__file__).parent / "client"
FOR_EVER = "public, max-age=31536000, immutable"
ASK_ALWAYS = "no-cache"
# Not left to the system's table of types: browsers refuse a script or wasm of any other type.
TYPES = {
    ".css": "text/css",
    ".html": "text/html",
    ".ico": "image/x-icon",
    ".js": "text/javascript",
    ".json": "application/json",
    ".map": "application/json",
    ".png": "image/png",
    ".svg": "image/svg+xml",
    ".txt": "text/plain",
    ".wasm": "application/wasm",
    ".webmanifest": "application/manifest+json",
    ".woff2": "font/woff2",
}
NOT_BUILT = """<!doctype html><html lang="en"><meta charset="utf-8"><title>Shedtally</title>
<h1>The web client is not built</h1>
<p>The server runs, and what it holds is safe. Build the client once, in the project's folder:</p>
<pre>pip install .</pre>
<p>or, while you work on it:</p>
<pre>npm --prefix pwa run build</pre></html>"""


@pages.get("/problems/<slug>")
def problem(slug: str) -> Response:
    """Explain one kind of problem in a few sentences."""
    if slug not in KINDS:
        no_such_page()
    kind = KINDS[slug]
    text = (
        f"{kind.title}\n\n{kind.meaning}\n\nStatus {kind.status}. The phone: {kind.phone_does}.\n"
    )
    return Response(text, mimetype="text/plain")


@pages.get("/")
@pages.get("/<path:path>")
def client(path: str = "index.html") -> Response:
    """Send a file of the client; an address that is no file opens the client itself."""
    if path.startswith("api/"):
        no_such_page()
    folder: Path = current_app.config["SHEDTALLY_CLIENT"]
    if not (folder / "index.html").is_file():
        return Response(NOT_BUILT, status=503, mimetype="text/html")
    found = safe_join(str(folder), path)
    if found is not None and Path(found).is_file():
        return _file(folder, Path(found))
    if "." in path.rsplit("/", 1)[-1] or path.startswith("assets/"):
        no_such_page()
    return _file(folder, folder / "index.html")


def _file(folder: Path, file: Path) -> Response:
    kind = TYPES.get(file.suffix, "application/octet-stream")
    response = send_file(file, mimetype=kind, etag=True, conditional=True)
    hashed = file.relative_to(folder).parts[0] == "assets"
    response.headers["Cache-Control"] = FOR_EVER if hashed else ASK_ALWAYS
    return response
