"""Letting a device in by a code that somebody with access read out, and shutting it out again."""

from __future__ import annotations

import secrets
from dataclasses import dataclass

from shedtally.domain.errors import NoSuchDevice, TooManyTries
from shedtally.domain.sync import pairing
from shedtally.domain.sync.pairing import PairedDevice
from shedtally.storage.unit_of_work import UnitOfWork

TRIES_PER_ADDRESS = 10
TRIES_IN_ALL = 30
WINDOW_MS = 5 * 60 * 1000


@dataclass(frozen=True, slots=True)
class NewCode:
    """A pairing code as typed, and when it ends (milliseconds since 1970)."""

    code: str
    expires_ms: int


def ensure_may_try(uow: UnitOfWork, address: str, now_ms: int) -> None:
    """Let this network address try a code now, or not; counted in the database for all processes.

    Raises: TooManyTries, which says for how long not.
    """
    for who, most in ((address, TRIES_PER_ADDRESS), (None, TRIES_IN_ALL)):
        times = uow.pairing_codes.wrong_tries(who, now_ms - WINDOW_MS)
        if len(times) >= most:
            wait_ms = times[0] + WINDOW_MS - now_ms
            raise TooManyTries(max(1, -(-wait_ms // 1000)))


def make_code(uow: UnitOfWork, now_ms: int) -> NewCode:
    """A new code, valid once within five minutes."""
    code = "".join(secrets.choice(pairing.ALPHABET) for _ in range(pairing.LENGTH))
    expires_ms = now_ms + pairing.LIVES_MS
    uow.pairing_codes.add(code, expires_ms, now_ms)
    return NewCode(code, expires_ms)


def pair_device(
    uow: UnitOfWork, code: str, device: str, name: str, *, address: str, now_ms: int
) -> str | None:
    """Let ``device`` in: its new session token. None if the code is not valid.

    A wrong code is answered, not raised, so that the count of tries is committed.

    Raises: TooManyTries from this network address, or in all.
    """
    uow.pairing_codes.take_turn()
    ensure_may_try(uow, address, now_ms)
    if not uow.pairing_codes.take(pairing.as_typed(code), now_ms):
        uow.pairing_codes.count_wrong_try(address, now_ms, now_ms - WINDOW_MS)
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


def rename_device(uow: UnitOfWork, device: str, name: str) -> None:
    """Call a device something else.

    Raises: NoSuchDevice.
    """
    if not uow.devices.rename(device, name):
        raise NoSuchDevice(device)


def device_of(uow: UnitOfWork, token: str | None) -> PairedDevice | None:
    """Whose token this is; None for none, an unknown or a revoked one."""
    return uow.devices.by_token(token) if token else None
