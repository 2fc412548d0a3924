"""Keeping a photo: first the bytes are on the disk, then the database says so, then the phone."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from contextlib import AbstractContextManager
from pathlib import Path

from shedtally.domain.errors import NoSuchPhoto
from shedtally.domain.sync.kept import KeptPhoto, PictureType
from shedtally.storage.photo_store import PhotoStore
from shedtally.storage.unit_of_work import UnitOfWork


def keep_photo(
    reading: Callable[[], AbstractContextManager[UnitOfWork]],
    writing: Callable[[], AbstractContextManager[UnitOfWork]],
    store: PhotoStore,
    sha256: str,
    *,
    declared: int | None,
    chunks: Iterable[bytes],
    device: str,
    now_ms: int,
    kind: PictureType | None = None,
) -> tuple[KeptPhoto, bool]:
    """Take in the bytes of a photo; also whether they are new here.

    No transaction is open while the bytes come in: a slow phone must not make others wait.

    Raises: PhotoRefused in all its kinds; DiskFull.
    """
    with reading() as uow:
        known = uow.photos.find(sha256)
    photo = store.keep(sha256, declared, chunks, kind=kind, known=known)
    with writing() as uow:
        new = uow.photos.add(photo, device, now_ms)
    return photo, new


def keep_preview(
    reading: Callable[[], AbstractContextManager[UnitOfWork]],
    store: PhotoStore,
    sha256: str,
    *,
    declared: int | None,
    chunks: Iterable[bytes],
    digest: str,
) -> bool:
    """Take in the small picture sent ahead of a photo; False if the photo itself is here already.

    Raises: PhotoRefused in all its kinds; DiskFull.
    """
    with reading() as uow:
        if uow.photos.find(sha256) is not None:
            return False
    store.keep_preview(sha256, declared, chunks, digest)
    return True


def find_photo(
    uow: UnitOfWork, store: PhotoStore, sha256: str, *, original: bool
) -> tuple[Path, KeptPhoto]:
    """The file to send for a photo; a copy without position data unless ``original``.

    Raises: NoSuchPhoto.
    """
    photo = uow.photos.find(sha256)
    if photo is None:
        raise NoSuchPhoto(sha256)
    bare = photo.has_position and not original
    path = store.without_position(sha256) if bare else store.original(sha256)
    if not path.exists():
        raise NoSuchPhoto(sha256)
    return path, photo


def find_thumbnail(uow: UnitOfWork, store: PhotoStore, sha256: str) -> tuple[Path, bool]:
    """The small picture of a photo, and whether it is only what its phone sent ahead of it.

    Raises: NoSuchPhoto.
    """
    path = store.thumbnail(sha256)
    if uow.photos.find(sha256) is not None and path.exists():
        return path, False
    path = store.preview(sha256)
    if not path.exists():
        raise NoSuchPhoto(sha256)
    return path, True
