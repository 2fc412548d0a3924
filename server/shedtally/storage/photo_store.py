"""Photo bytes in the data folder, each under its SHA-256, whole or not at all.

An upload goes to a temporary file; only when its length, digest and content have been checked and
the bytes are on the disk itself is it renamed into place, and the folder flushed too. A process
that is killed at any point leaves a temporary file, never half a photo.
"""

from __future__ import annotations

import errno
import hashlib
import os
import shutil
import uuid
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO

from shedtally.domain.errors import (
    DiskFull,
    LengthMissing,
    NotAPicture,
    OtherType,
    PhotoCutShort,
    PhotoTooLarge,
    PhotoTooLong,
    WrongDigest,
)
from shedtally.domain.sync.kept import KeptPhoto, PictureType
from shedtally.storage.pictures import inspect

LEFTOVER_AFTER_S = 24 * 60 * 60
# Phones make one of 320 px and some ten kilobytes.
PREVIEW_MAX_BYTES = 200_000
PREVIEW_MAX_PIXELS = 1_000_000
_NO_SPACE = (errno.ENOSPC, errno.EDQUOT)


class PhotoStore:
    """The folders ``photos`` (as sent) and ``pictures`` (made from them) of a data folder.

    ``previews`` stand in for photos that are still on their phone; no backup has them.
    """

    def __init__(
        self, data_dir: Path, max_bytes: int, max_pixels: int, keep_free_bytes: int
    ) -> None:
        self._photos = data_dir / "photos"
        self._pictures = data_dir / "pictures"
        self._previews = data_dir / "previews"
        self._incoming = data_dir / "incoming"
        self.max_bytes = max_bytes
        self._max_pixels = max_pixels
        self._keep_free_bytes = keep_free_bytes
        for folder in (self._photos, self._pictures, self._previews, self._incoming):
            folder.mkdir(parents=True, exist_ok=True)

    def original(self, sha256: str) -> Path:
        """Where the bytes as sent are, or would be."""
        return self._photos / sha256[:2] / sha256

    def thumbnail(self, sha256: str) -> Path:
        """A JPEG of at most 320 px."""
        return self._pictures / sha256[:2] / f"{sha256}-320.jpg"

    def preview(self, sha256: str) -> Path:
        """What its phone sent ahead of a photo: a JPEG of at most 320 px."""
        return self._previews / sha256[:2] / f"{sha256}.jpg"

    def without_position(self, sha256: str) -> Path:
        """The copy to show where the bytes as sent tell a position."""
        return self._pictures / sha256[:2] / f"{sha256}-bare"

    def keep(
        self,
        sha256: str,
        declared: int | None,
        chunks: Iterable[bytes],
        *,
        kind: PictureType | None = None,
        known: KeptPhoto | None = None,
    ) -> KeptPhoto:
        """Take in an upload; when this returns, the photo is on the disk.

        Args: declared: bytes announced. kind: type announced, None for any. known: what is on
            record of this photo, if it was here before; then it is checked, and not decoded again.
        Raises: PhotoRefused in all its kinds, DiskFull. Nothing is left behind then.
        """
        size = self._acceptable(declared, self.max_bytes)
        with self._temporary() as path, _space_errors():
            with path.open("xb") as file:
                _copy(file, chunks, size, sha256)
                flush(file)
            if known is not None and self.original(sha256).exists():
                return known
            return self._take_in(sha256, path, size, kind)

    def keep_preview(
        self, sha256: str, declared: int | None, chunks: Iterable[bytes], digest: str
    ) -> None:
        """Take in the small picture that a phone sends ahead of the photo ``sha256``.

        It is made anew from its pixels, like a thumbnail, so that no metadata travels on. Whether
        it shows that photo can't be proved, so the photo's own thumbnail takes its place.

        Args: digest: SHA-256 of the small picture's bytes, in hexadecimal.
        Raises: PhotoRefused in all its kinds, DiskFull. Nothing is left behind then.
        """
        size = self._acceptable(declared, PREVIEW_MAX_BYTES)
        with self._temporary() as path, _space_errors():
            with path.open("xb") as file:
                _copy(file, chunks, size, digest)
            found = inspect(path, PREVIEW_MAX_PIXELS)
            if found.type != "image/jpeg":
                raise OtherType(found.type)
            self._write(self.preview(sha256), found.thumbnail)
        # The photo itself may have come meanwhile.
        if self.original(sha256).exists():
            self.preview(sha256).unlink(missing_ok=True)

    def _acceptable(self, declared: int | None, most: int) -> int:
        """The length announced, if an upload of it can be taken in at all."""
        if declared is None:
            raise LengthMissing
        if declared > most:
            raise PhotoTooLarge(most)
        if declared == 0:
            raise NotAPicture
        if shutil.disk_usage(self._incoming).free - declared < self._keep_free_bytes:
            raise DiskFull
        return declared

    @contextmanager
    def set_aside(self, declared: int | None, chunks: Iterable[bytes]) -> Iterator[Path]:
        """An upload that is no photo, as a file that is gone at the end.

        Raises: LengthMissing, PhotoCutShort, PhotoTooLong, DiskFull.
        """
        if declared is None:
            raise LengthMissing
        if shutil.disk_usage(self._incoming).free - declared < self._keep_free_bytes:
            raise DiskFull
        with self._temporary() as path:
            with _space_errors(), path.open("xb") as file:
                _copy(file, chunks, declared, None)
            yield path

    def remove_leftovers(self, now_s: float) -> None:
        """Remove temporary files of uploads that died more than a day before ``now_s``."""
        for path in self._incoming.iterdir():
            if now_s - path.stat().st_mtime > LEFTOVER_AFTER_S:
                path.unlink(missing_ok=True)

    def _take_in(self, sha256: str, path: Path, size: int, kind: PictureType | None) -> KeptPhoto:
        found = inspect(path, self._max_pixels)
        if kind is not None and found.type != kind:
            raise OtherType(found.type)
        self._write(self.thumbnail(sha256), found.thumbnail)
        if found.without_position is not None:
            self._write(self.without_position(sha256), found.without_position)
        place(path, self.original(sha256))
        self.preview(sha256).unlink(missing_ok=True)
        has_position = found.without_position is not None
        return KeptPhoto(sha256, found.type, size, found.width, found.height, has_position)

    def _write(self, target: Path, content: bytes) -> None:
        with self._temporary() as path:
            with path.open("xb") as file:
                file.write(content)
                flush(file)
            place(path, target)

    @contextmanager
    def _temporary(self) -> Iterator[Path]:
        path = self._incoming / str(uuid.uuid4())
        try:
            yield path
        finally:
            path.unlink(missing_ok=True)


def flush(file: IO[bytes]) -> None:
    """Wait until the file's bytes are on the disk itself."""
    file.flush()
    os.fsync(file.fileno())


def place(path: Path, target: Path) -> None:
    """Rename into place, and wait until the folders that name it are on the disk too."""
    target.parent.mkdir(exist_ok=True)
    path.replace(target)
    for folder in (target.parent, target.parent.parent):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _copy(file: IO[bytes], chunks: Iterable[bytes], declared: int, sha256: str | None) -> None:
    digest = hashlib.sha256()
    got = 0
    for chunk in chunks:
        got += len(chunk)
        if got > declared:
            raise PhotoTooLong(declared, got)
        digest.update(chunk)
        file.write(chunk)
    # HTTP servers may hand over a body that stopped half-way as if it were whole.
    if got < declared:
        raise PhotoCutShort(declared, got)
    if sha256 is not None and digest.hexdigest() != sha256:
        raise WrongDigest(digest.hexdigest())


@contextmanager
def _space_errors() -> Iterator[None]:
    try:
        yield
    except OSError as error:
        if error.errno in _NO_SPACE:
            raise DiskFull from error
        raise
