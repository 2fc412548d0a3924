"""Letting a device in by a code that somebody with access read out, and shutting it out again."""

from __future__ import annotations

import secrets
import threading
from collections import deque
from dataclasses import dataclass

from shedtally.domain import pairing
from shedtally.domain.errors import NoSuchDevice, TooManyTries
from shedtally.domain.pairing import PairedDevice
from shedtally.storage.unit_of_work import UnitOfWork

TRIES_PER_ADDRESS = 10
TRIES_IN_ALL = 30
WINDOW_MS = 5 * 60 * 1000
EVERYONE = ""


@dataclass(frozen=True, slots=True)
class NewCode:
    """A pairing code as typed, and when it ends (milliseconds since 1970)."""

    code: str
    expires_ms: int


class Tries:
    """Counts wrong codes of the last five minutes, per network address and in all.

    Kept in memory: a restart forgets them, but the codes themselves count their tries too.
    """

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._wrong: dict[str, deque[int]] = {}

    def check(self, address: str, now_ms: int) -> None:
        """Let this address try a code now, or not.

        Raises: TooManyTries, which says for how long not.
        """
        with self._lock:
            for who, most in ((address, TRIES_PER_ADDRESS), (EVERYONE, TRIES_IN_ALL)):
                times = self._recent(who, now_ms)
                if len(times) >= most:
                    wait_ms = times[0] + WINDOW_MS - now_ms
                    raise TooManyTries(max(1, -(-wait_ms // 1000)))

    def count(self, address: str, now_ms: int) -> None:
        """A wrong code came from this address."""
        with self._lock:
            for who in (address, EVERYONE):
                times = self._recent(who, now_ms)
                times.append(now_ms)
                self._wrong[who] = times
            for who in [who for who, times in self._wrong.items() if not times]:
                del self._wrong[who]

    def _recent(self, who: str, now_ms: int) -> deque[int]:
        times = self._wrong.get(who, deque())
        while times and times[0] <= now_ms - WINDOW_MS:
            times.popleft()
        return times


def make_code(uow: UnitOfWork, now_ms: int) -> NewCode:
    """A new code, valid once within five minutes."""
    code = "".join(secrets.choice(pairing.ALPHABET) for _ in range(pairing.LENGTH))
    expires_ms = now_ms + pairing.LIVES_MS
    uow.pairing_codes.add(code, expires_ms, now_ms)
    return NewCode(code, expires_ms)


def pair_device(uow: UnitOfWork, code: str, device: str, name: str, now_ms: int) -> str | None:
    """Let ``device`` in: its new session token. None if the code is not valid.

    A wrong code is answered, not raised, so that the count of tries is committed.
    """
    if not uow.pairing_codes.take(pairing.as_typed(code), now_ms):
        uow.pairing_codes.count_wrong_try()
        return None
    token = secrets.token_urlsafe(32)
    uow.devices.pair(device, name, token, now_ms)
    return token


def revoke_device(uow: UnitOfWork, device: str, now_ms: int) -> None:
    """Shut a device out from its next request on.

    Raises: NoSuchDevice.
    """
    if not uow.devices.revoke(device, now_ms):
        raise NoSuchDevice(device)


def device_of(uow: UnitOfWork, token: str | None) -> PairedDevice | None:
    """Whose token this is; None for none, an unknown or a revoked one."""
    return uow.devices.by_token(token) if token else None
