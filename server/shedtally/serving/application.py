"""The application as it is served: with the set-up page, and on the plain port that page first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from flask import Flask

from shedtally.app import create_app
from shedtally.settings import Settings
from shedtally.storage.tables import db
from shedtally.usecases.shed import Shed
from shedtally.web.guard import shed
from shedtally.web.setup import SetupFacts, setup_page

if TYPE_CHECKING:
    from _typeshed.wsgi import StartResponse, WSGIApplication, WSGIEnvironment


def application(settings: Settings, facts: SetupFacts, *, setup_first: bool = False) -> Flask:
    """Join application and set-up page.

    Args: setup_first: the bare address leads to the set-up page, unless the visitor chose
    there to look only.
    """
    app = create_app(settings)
    app.register_blueprint(setup_page(facts))
    if setup_first:
        app.wsgi_app = _setup_first(app.wsgi_app)  # type: ignore[method-assign, assignment]
    return app


@contextmanager
def opened(settings: Settings) -> Iterator[Shed]:
    """The server's own things, without serving: for codes and the demo."""
    app = create_app(settings)
    with app.app_context():
        try:
            yield shed()
        finally:
            db.session.remove()
            # An open connection must not go over into the processes that are forked later.
            db.engine.dispose()


def _setup_first(inner: WSGIApplication) -> WSGIApplication:
    def outer(environ: WSGIEnvironment, start_response: StartResponse) -> Iterable[bytes]:
        chosen = environ.get("QUERY_STRING", "").startswith("plain")
        if environ.get("PATH_INFO") == "/" and not chosen:
            start_response("302 Found", [("Location", "/setup"), ("Content-Length", "0")])
            return []
        return inner(environ, start_response)

    return outer
