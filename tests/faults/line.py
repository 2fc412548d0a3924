"""The line between a phone and its server, as in a steel shed: it dies, stalls, and cuts off."""

from __future__ import annotations

import contextlib
import re
import socket
import struct
import threading
from typing import Literal

PUT = re.compile(rb"PUT /api/photos/[0-9a-f]{64} HTTP/1\.1\r\n.*?\r\n\r\n", re.DOTALL)
LENGTH = re.compile(rb"content-length: *(\d+)", re.IGNORECASE)
CHUNK = 16_384


class Line:
    """Passes bytes between phones and a server on this machine, as long as it is ``whole``.

    ``dead`` ends every connection at once. ``stalled`` accepts and says nothing, and holds back
    what is under way; what it held goes on when it is whole again.
    ``cut_at`` ends each upload of a full photograph after that part of its bytes.
    """

    def __init__(self, server_port: int) -> None:
        self.server_port = server_port
        self.cut_at: float | None = None
        self.cuts = 0
        self._state: Literal["whole", "dead", "stalled"] = "whole"
        self._moving = threading.Event()
        self._moving.set()
        self._open: set[socket.socket] = set()
        self._listener = socket.create_server(("127.0.0.1", 0))
        self.port = int(self._listener.getsockname()[1])
        threading.Thread(target=self._accept, daemon=True).start()

    @property
    def address(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def be(self, state: Literal["whole", "dead", "stalled"]) -> None:
        self._state = state
        if state == "stalled":
            self._moving.clear()
        else:
            self._moving.set()
        if state == "dead":
            for one in list(self._open):
                self._reset(one)

    def close(self) -> None:
        self.be("dead")
        self._listener.close()

    def _accept(self) -> None:
        while True:
            try:
                phone, _ = self._listener.accept()
            except OSError:
                return
            if self._state == "dead":
                self._reset(phone)
                continue
            self._open.add(phone)
            threading.Thread(target=self._join, args=(phone,), daemon=True).start()

    def _join(self, phone: socket.socket) -> None:
        self._moving.wait()
        try:
            server = socket.create_connection(("127.0.0.1", self.server_port))
        except OSError:
            self._reset(phone)
            return
        self._open.add(server)
        back = threading.Thread(target=self._pass_on, args=(server, phone), daemon=True)
        back.start()
        self._pass_on(phone, server, upload=Upload())
        back.join()
        for one in (phone, server):
            self._open.discard(one)
            one.close()

    def _pass_on(
        self, source: socket.socket, target: socket.socket, upload: Upload | None = None
    ) -> None:
        with contextlib.suppress(OSError):
            while body := source.recv(CHUNK):
                self._moving.wait()
                if upload and self.cut_at is not None:
                    most = upload.before(body, self.cut_at)
                    if most is not None:
                        target.sendall(body[:most])
                        self.cuts += 1
                        self._reset(source)
                        # The server sees the phone go away in mid-sentence, not a reset.
                        target.shutdown(socket.SHUT_WR)
                        return
                target.sendall(body)
            target.shutdown(socket.SHUT_WR)

    def _reset(self, one: socket.socket) -> None:
        """End a connection as a line does that breaks: without a word of farewell."""
        self._open.discard(one)
        with contextlib.suppress(OSError):
            one.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
            # Ends a recv that waits in another thread, which close() alone does not.
            one.shutdown(socket.SHUT_RD)
        one.close()


class Upload:
    """How far the upload on one connection is."""

    def __init__(self) -> None:
        self.head = b""
        self.length = 0
        self.sent: int | None = None

    def before(self, body: bytes, part: float) -> int | None:
        """How much of ``body`` still passes before the cut; None if all of it does."""
        start = 0
        if self.sent is None:
            self.head += body
            found = PUT.search(self.head)
            if not found:
                self.head = self.head[-CHUNK:]
                return None
            announced = LENGTH.search(found[0])
            self.length = int(announced[1]) if announced else 0
            start = len(body) - (len(self.head) - found.end())
            self.sent = 0
        left = int(self.length * part) - self.sent
        here = len(body) - start
        if here >= left:
            return start + left
        self.sent += here
        return None
