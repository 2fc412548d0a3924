"""Gunicorn, started from code: worker processes with threads on one port.

One process on SQLite, which has one writer; several only on PostgreSQL. Threads, because a phone
on a bad signal may take a minute for one photograph.
"""

from __future__ import annotations

import contextlib
import os
import signal
import socket
import ssl
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from gunicorn.app.base import BaseApplication

from shedtally.domain.stopped import Stopped

if TYPE_CHECKING:
    from _typeshed.wsgi import WSGIApplication

THREADS = 8
# A thread that says nothing for so long is taken for dead and its process replaced.
SILENT_S = 120
# Time for a running upload to end after Ctrl-C.
FINISH_S = 10


@dataclass(frozen=True)
class Listener:
    """Where to listen, and with which certificate; None = plain HTTP."""

    host: str
    port: int
    certificate: Path | None = None
    key: Path | None = None

    @property
    def bind(self) -> str:
        """Host and port as gunicorn writes them."""
        return f"[{self.host}]:{self.port}" if ":" in self.host else f"{self.host}:{self.port}"


class CannotListen(Stopped):
    """The port can't be opened; says why and what to do."""


class PortTaken(CannotListen):
    """Another program listens there already."""

    def __init__(self, listener: Listener, option: str) -> None:
        super().__init__(
            f"Port {listener.port} is used by another program, perhaps by a Shedtally that is "
            f"still running. Nothing is changed. Stop that program, or choose another port with "
            f"{option}."
        )


class PortClosed(CannotListen):
    """The system keeps low ports to the administrator."""

    def __init__(self, listener: Listener, option: str) -> None:
        super().__init__(
            f"The system does not let this account listen on port {listener.port}. Nothing is "
            f"changed. Choose a port above 1023 with {option}."
        )


def ensure_free(listener: Listener, option: str) -> None:
    """Find out before anything is started or printed. Raises: CannotListen."""
    family = socket.AF_INET6 if ":" in listener.host else socket.AF_INET
    with contextlib.closing(socket.socket(family, socket.SOCK_STREAM)) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((listener.host, listener.port))
        except PermissionError:
            raise PortClosed(listener, option) from None
        except OSError:
            raise PortTaken(listener, option) from None


class _Gunicorn(BaseApplication):
    def __init__(self, load: Callable[[], WSGIApplication], options: dict[str, Any]) -> None:
        self._load = load
        self._options = options
        super().__init__()

    def load_config(self) -> None:
        for name, value in self._options.items():
            self.cfg.set(name, value)

    def load(self) -> Any:  # noqa: ANN401 - gunicorn asks for a union with ASGI
        return self._load()


def listen(
    listener: Listener,
    load: Callable[[], WSGIApplication],
    *,
    workers: int = 1,
    when_ready: Callable[[], None] = lambda: None,
    in_worker: Callable[[], None] = lambda: None,
    at_end: Callable[[], None] = lambda: None,
) -> None:
    """Serve until stopped; never returns, ends with SystemExit.

    Args: load: makes the application, called in each worker. when_ready: called once, when the
    port is open. in_worker: called in each worker before its first request. at_end: called
    once after the last request; not if the process is killed.
    """
    detached = signal.getsignal(signal.SIGHUP) is signal.SIG_IGN  # started with nohup

    def ready(_arbiter: object) -> None:
        # Gunicorn would take a closed terminal for a wish to reload, and run on unseen.
        signal.signal(signal.SIGHUP, signal.SIG_IGN if detached else _stop)
        when_ready()

    options: dict[str, Any] = {
        "bind": listener.bind,
        "workers": workers,
        "worker_class": "gthread",
        "threads": THREADS,
        "timeout": SILENT_S,
        "graceful_timeout": FINISH_S,
        "loglevel": "warning",
        "control_socket_disable": True,
        "when_ready": ready,
        "post_worker_init": lambda _worker: in_worker(),
        "on_exit": lambda _arbiter: at_end(),
    }
    if listener.certificate is not None:
        options |= {
            "certfile": str(listener.certificate),
            "keyfile": str(listener.key),
            "ssl_context": _tls,
        }
    _Gunicorn(load, options).run()


def _stop(_signal: int, _frame: object) -> None:
    os.kill(os.getpid(), signal.SIGTERM)


def _tls(_config: object, make: Callable[[], ssl.SSLContext]) -> ssl.SSLContext:
    context = make()
    context.minimum_version = ssl.TLSVersion.TLSv1_2
    return context
