"""What the database knows of the photos whose bytes are in the photo store."""

from __future__ import annotations

from dataclasses import asdict

from sqlalchemy import select
from sqlalchemy.orm import Session

from shedtally.domain.sync.kept import KeptPhoto
from shedtally.storage import tables
from shedtally.storage.upsert import insert_if_absent

_photo = tables.photo


class PhotoRows:
    """Facts by digest. A row exists only once the bytes are safely on disk."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def add(self, photo: KeptPhoto, device: str, now_ms: int) -> bool:
        """Note a photo; False if it was noted before."""
        row = {**asdict(photo), "kept_ms": now_ms, "device": device}
        return insert_if_absent(self._session, _photo, row)

    def find(self, sha256: str) -> KeptPhoto | None:
        """The facts of a photo, None if its bytes haven't arrived."""
        query = select(
            _photo.c.sha256,
            _photo.c.type,
            _photo.c.bytes,
            _photo.c.width,
            _photo.c.height,
            _photo.c.has_position,
        ).where(_photo.c.sha256 == sha256)
        row = self._session.execute(query).mappings().first()
        return KeptPhoto(**row) if row else None
