"""Paired devices and the codes that let them in. Tokens and codes are stored as digests only."""

from __future__ import annotations

import hashlib
from collections.abc import Collection
from typing import Any

from sqlalchemy import RowMapping, delete, func, insert, select, update
from sqlalchemy.orm import Session

from shedtally.domain.sync.pairing import MAX_TRIES, PairedDevice
from shedtally.storage import tables
from shedtally.storage.change_log import highest_seqs
from shedtally.storage.database import Turn, one_at_a_time
from shedtally.storage.upsert import insert_or_replace

_device = tables.device
_code = tables.pairing_code
_try = tables.pairing_try
ADDRESS_LENGTH = 64


class Devices:
    """Who may read and write."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def pair(self, key: str, name: str, token: str, now_ms: int) -> None:
        """Let a device in with ``token``; an older token of the same device ends."""
        row = {
            "key": key,
            "name": name,
            "token_sha256": digest(token),
            "paired_ms": now_ms,
            "last_seen_ms": now_ms,
            "revoked_ms": None,
        }
        insert_or_replace(self._session, _device, [row])

    def by_token(self, token: str) -> PairedDevice | None:
        """The device of ``token``, unless it was revoked."""
        query = select(_device).where(
            _device.c.token_sha256 == digest(token), _device.c.revoked_ms.is_(None)
        )
        row = self._session.execute(query).mappings().first()
        return _paired(row) if row else None

    def seen(self, key: str, now_ms: int) -> None:
        """Note that the device was here."""
        statement = update(_device).where(_device.c.key == key).values(last_seen_ms=now_ms)
        self._session.execute(statement)

    def revoke(self, key: str, now_ms: int) -> bool:
        """End the device's session; whether there is such a device."""
        statement = update(_device).where(_device.c.key == key)
        first = func.coalesce(_device.c.revoked_ms, now_ms)
        result: Any = self._session.execute(statement.values(revoked_ms=first))
        return bool(result.rowcount)

    def rename(self, key: str, name: str) -> bool:
        """Call the device something else; whether there is such a device."""
        statement = update(_device).where(_device.c.key == key).values(name=name)
        result: Any = self._session.execute(statement)
        return bool(result.rowcount)

    def names(self, keys: Collection[str]) -> dict[str, str]:
        """The names of those of these devices that were ever paired."""
        query = select(_device.c.key, _device.c.name).where(_device.c.key.in_(keys))
        return {row.key: row.name for row in self._session.execute(query)}

    def all(self) -> list[PairedDevice]:
        """Every device that was ever paired, the last seen first."""
        seqs = highest_seqs(self._session)
        query = select(_device).order_by(_device.c.last_seen_ms.desc(), _device.c.key)
        return [
            _paired(row, seqs.get(row["key"], 0)) for row in self._session.execute(query).mappings()
        ]


class PairingCodes:
    """Codes that were shown and not used yet."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def add(self, code: str, expires_ms: int, now_ms: int) -> None:
        """Make ``code`` valid; codes that have run out are forgotten."""
        self._session.execute(delete(_code).where(_code.c.expires_ms <= now_ms))
        row = {"code_sha256": digest(code), "expires_ms": expires_ms, "tries_left": MAX_TRIES}
        self._session.execute(insert(_code).values(row))

    def take(self, code: str, now_ms: int) -> bool:
        """Use ``code`` up; whether it was valid."""
        statement = delete(_code).where(
            _code.c.code_sha256 == digest(code),
            _code.c.expires_ms > now_ms,
            _code.c.tries_left > 0,
        )
        result: Any = self._session.execute(statement)
        return bool(result.rowcount)

    def take_turn(self) -> None:
        """Let one device at a time try a code, so that none slips past the count."""
        one_at_a_time(self._session, Turn.PAIRING)

    def count_wrong_try(self, address: str, now_ms: int, since_ms: int) -> None:
        """A wrong code was tried: it counts against every open code, for it was aimed at one.

        Tries up to ``since_ms`` are forgotten.
        """
        self._session.execute(update(_code).values(tries_left=_code.c.tries_left - 1))
        self._session.execute(delete(_code).where(_code.c.tries_left <= 0))
        self._session.execute(delete(_try).where(_try.c.at_ms <= since_ms))
        row = {"address": address[:ADDRESS_LENGTH], "at_ms": now_ms}
        self._session.execute(insert(_try).values(row))

    def wrong_tries(self, address: str | None, since_ms: int) -> list[int]:
        """When wrong codes came after ``since_ms``, oldest first; None for those of everybody."""
        query = select(_try.c.at_ms).where(_try.c.at_ms > since_ms).order_by(_try.c.at_ms)
        if address is not None:
            query = query.where(_try.c.address == address[:ADDRESS_LENGTH])
        return list(self._session.execute(query).scalars())


def digest(secret: str) -> str:
    """SHA-256 in hexadecimal. No salt: the secrets are random, and looked up by digest."""
    return hashlib.sha256(secret.encode()).hexdigest()


def _paired(row: RowMapping, last_seq: int = 0) -> PairedDevice:
    return PairedDevice(
        row["key"],
        row["name"],
        row["paired_ms"],
        row["last_seen_ms"],
        row["revoked_ms"],
        last_seq,
    )
