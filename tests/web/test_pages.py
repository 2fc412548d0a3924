"""The built client is served so that it updates when it should and runs offline when it can't."""

from __future__ import annotations

import gzip
from pathlib import Path

import pytest

from shedtally.app import create_app
from shedtally.settings import Settings
from shedtally.storage.tables import db


@pytest.fixture
def built(tmp_path: Path) -> Path:
    """A client as the build leaves it."""
    folder = tmp_path / "client"
    (folder / "assets").mkdir(parents=True)
    (folder / "index.html").write_text("<!doctype html><title>Shedtally</title>" + " " * 2000)
    (folder / "sw.js").write_text("// worker")
    (folder / "manifest.webmanifest").write_text("{}")
    (folder / "assets/index-1a2b.js").write_text("const words = 'more words';" * 200)
    (folder / "assets/reader-3c4d.wasm").write_bytes(b"\0asm" + bytes(5000))
    (tmp_path / "secret.txt").write_text("secret")
    return folder


@pytest.fixture
def site(built, tmp_path, clock):
    app = create_app(Settings(tmp_path / "data", client_dir=built), clock)
    yield app.test_client()
    with app.app_context():
        db.engine.dispose()


def fetch(site, path: str, **more):
    return site.get(path, buffered=True, **more)


@pytest.mark.parametrize("path", ["/", "/index.html", "/sw.js", "/manifest.webmanifest"])
def test_what_decides_the_version_is_asked_for_every_time(site, path) -> None:
    reply = fetch(site, path)
    assert reply.status_code == 200
    assert reply.headers["Cache-Control"] == "no-cache"
    tag = reply.headers["ETag"]
    assert fetch(site, path, headers={"If-None-Match": tag}).status_code == 304


@pytest.mark.parametrize("path", ["/assets/index-1a2b.js", "/assets/reader-3c4d.wasm"])
def test_files_named_by_their_content_are_kept_for_ever(site, path) -> None:
    assert "immutable" in fetch(site, path).headers["Cache-Control"]


@pytest.mark.parametrize(
    ("path", "kind"),
    [
        ("/", "text/html; charset=utf-8"),
        ("/sw.js", "text/javascript; charset=utf-8"),
        ("/assets/reader-3c4d.wasm", "application/wasm"),
        ("/manifest.webmanifest", "application/manifest+json"),
    ],
)
def test_types_are_those_that_browsers_insist_on(site, path, kind) -> None:
    assert fetch(site, path).content_type == kind


@pytest.mark.parametrize("path", ["/t/K7Q4M2", "/T/K7Q4M2", "/left", "/item/0190-ab", "/pair"])
def test_addresses_inside_the_app_open_the_app(site, path) -> None:
    reply = fetch(site, path)
    assert reply.status_code == 200
    assert b"<title>Shedtally" in reply.data
    assert reply.headers["Cache-Control"] == "no-cache"


@pytest.mark.parametrize(
    "path",
    ["/assets/gone-9z.js", "/old.js", "/../secret.txt", "/%2e%2e/secret.txt",
     "/assets/../../secret.txt"],
)  # fmt: skip
def test_what_is_not_there_is_not_answered_with_the_app(site, path) -> None:
    reply = fetch(site, path)
    assert reply.status_code == 404
    assert b"secret" not in reply.data
    assert b"<title>Shedtally" not in reply.data


@pytest.mark.parametrize("path", ["/", "/assets/index-1a2b.js", "/assets/reader-3c4d.wasm"])
def test_text_and_wasm_travel_compressed_to_those_who_take_it(site, path) -> None:
    plain = fetch(site, path)
    small = fetch(site, path, headers={"Accept-Encoding": "br, gzip"})
    assert "Content-Encoding" not in plain.headers
    assert small.headers["Content-Encoding"] == "gzip"
    assert gzip.decompress(small.data) == plain.data
    assert int(small.headers["Content-Length"]) == len(small.data) < len(plain.data)
    assert "Accept-Encoding" in small.headers["Vary"]
    again = fetch(
        site, path, headers={"Accept-Encoding": "gzip", "If-None-Match": small.headers["ETag"]}
    )
    assert again.status_code == 304


def test_client_that_is_not_built_is_explained_with_the_command(tmp_path, clock) -> None:
    app = create_app(Settings(tmp_path / "data", client_dir=tmp_path / "none"), clock)
    reply = app.test_client().get("/")
    assert reply.status_code == 503
    assert b"npm --prefix pwa run build" in reply.data
    assert app.test_client().get("/api/ping").status_code == 200
    with app.app_context():
        db.engine.dispose()
