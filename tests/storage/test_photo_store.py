"""Photo bytes: whole and checked, or not there at all."""

from __future__ import annotations

import errno
import hashlib
import os
import time
from pathlib import Path

import pytest

from shedtally.domain import errors
from shedtally.storage import photo_store
from shedtally.storage.photo_store import PhotoStore

JPEG = "image/jpeg"


@pytest.fixture
def store(tmp_path: Path) -> PhotoStore:
    return PhotoStore(tmp_path, max_bytes=1_000_000, max_pixels=1_000_000, keep_free_bytes=0)


def sha(body: bytes) -> str:
    return hashlib.sha256(body).hexdigest()


def files(folder: Path) -> list[Path]:
    return [path for path in folder.rglob("*") if path.is_file()]


def test_kept_bytes_are_those_that_were_sent(store, jpeg) -> None:
    kept = store.keep(sha(jpeg), len(jpeg), [jpeg[:1000], jpeg[1000:]], kind=JPEG)
    assert store.original(kept.sha256).read_bytes() == jpeg
    assert (kept.type, kept.bytes, kept.width, kept.height) == ("image/jpeg", len(jpeg), 400, 300)
    assert store.thumbnail(kept.sha256).exists()


def test_no_temporary_file_is_left_after_success(store, jpeg, tmp_path) -> None:
    store.keep(sha(jpeg), len(jpeg), [jpeg], kind=JPEG)
    assert files(tmp_path / "incoming") == []


@pytest.mark.parametrize(
    ("spoil", "refusal"),
    [
        (lambda body: (sha(body), len(body), [body[:-1]]), errors.PhotoCutShort),
        (lambda body: (sha(body), len(body), []), errors.PhotoCutShort),
        (lambda body: (sha(body), len(body), [body, b"x"]), errors.PhotoTooLong),
        (lambda body: ("0" * 64, len(body), [body]), errors.WrongDigest),
        (lambda body: (sha(body), None, [body]), errors.LengthMissing),
        (lambda body: (sha(body), 1_000_001, [body]), errors.PhotoTooLarge),
        (lambda _body: (sha(b""), 0, []), errors.NotAPicture),
        (lambda body: (sha(body[:-900]), len(body) - 900, [body[:-900]]), errors.NotAPicture),
        (lambda _body: (sha(b"<html>"), 6, [b"<html>"]), errors.NotAPicture),
    ],
    ids=[
        "last byte missing",
        "nothing came",
        "a byte too many",
        "wrong digest",
        "no length",
        "too large",
        "empty",
        "a picture that was cut off before it was sent",
        "no picture",
    ],
)
def test_what_is_refused_leaves_nothing_behind(store, jpeg, tmp_path, spoil, refusal) -> None:
    with pytest.raises(refusal):
        store.keep(*spoil(jpeg), kind=JPEG)
    assert files(tmp_path) == []


def test_picture_announced_as_another_type_is_refused(store, jpeg, tmp_path) -> None:
    with pytest.raises(errors.OtherType):
        store.keep(sha(jpeg), len(jpeg), [jpeg], kind="image/png")
    assert files(tmp_path) == []


def test_too_many_pixels_are_refused_before_they_are_decoded(store, picture, tmp_path) -> None:
    body = picture("PNG", (1001, 1000))
    with pytest.raises(errors.TooManyPixels):
        store.keep(sha(body), len(body), [body], kind="image/png")
    assert files(tmp_path) == []


def test_a_refused_photo_can_be_sent_again(store, jpeg) -> None:
    with pytest.raises(errors.PhotoCutShort):
        store.keep(sha(jpeg), len(jpeg), [jpeg[:50]], kind=JPEG)
    assert store.keep(sha(jpeg), len(jpeg), [jpeg], kind=JPEG).bytes == len(jpeg)


def test_a_full_disk_is_told_and_leaves_nothing(store, jpeg, tmp_path, monkeypatch) -> None:
    def no_space(_file: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(photo_store, "flush", no_space)
    with pytest.raises(errors.DiskFull):
        store.keep(sha(jpeg), len(jpeg), [jpeg], kind=JPEG)
    assert files(tmp_path) == []


def test_the_last_space_is_kept_for_records(tmp_path, jpeg) -> None:
    store = PhotoStore(tmp_path, 1_000_000, 1_000_000, keep_free_bytes=2**62)
    with pytest.raises(errors.DiskFull):
        store.keep(sha(jpeg), len(jpeg), [jpeg], kind=JPEG)
    assert files(tmp_path) == []


def test_other_disk_errors_are_not_called_full(store, jpeg, monkeypatch) -> None:
    def broken(_file: object) -> None:
        raise OSError(errno.EIO, "Input/output error")

    monkeypatch.setattr(photo_store, "flush", broken)
    with pytest.raises(OSError, match="Input/output"):
        store.keep(sha(jpeg), len(jpeg), [jpeg], kind=JPEG)


def test_nothing_is_visible_before_the_bytes_are_on_the_disk(store, jpeg, monkeypatch) -> None:
    """Killed at any step before the rename, the photo is not there; after it, it is whole."""
    steps: list[tuple[str, bool]] = []
    real_flush, real_place = photo_store.flush, photo_store.place
    target = store.original(sha(jpeg))

    def flush(file) -> None:
        steps.append(("flush", target.exists()))
        real_flush(file)

    def place(path: Path, to: Path) -> None:
        steps.append((f"place {to == target}", target.exists()))
        real_place(path, to)

    monkeypatch.setattr(photo_store, "flush", flush)
    monkeypatch.setattr(photo_store, "place", place)
    store.keep(sha(jpeg), len(jpeg), [jpeg], kind=JPEG)
    names = [name for name, _ in steps]
    assert names[0] == "flush"
    assert names[-1] == "place True"
    assert not any(visible for _, visible in steps)


def test_the_folder_is_flushed_after_the_rename(store, jpeg, monkeypatch) -> None:
    order: list[str] = []
    real_fsync, real_replace = os.fsync, Path.replace

    def fsync(handle: int) -> None:
        order.append("folder" if os.path.isdir(f"/proc/self/fd/{handle}") else "file")  # noqa: PTH112
        real_fsync(handle)

    def replace(path: Path, target: Path) -> Path:
        order.append("rename")
        return real_replace(path, target)

    monkeypatch.setattr(os, "fsync", fsync)
    monkeypatch.setattr(Path, "replace", replace)
    store.keep(sha(jpeg), len(jpeg), [jpeg], kind=JPEG)
    last_rename = len(order) - 1 - order[::-1].index("rename")
    assert order[:last_rename].count("file") == 2  # the photo and its thumbnail
    assert order[last_rename + 1 :] == ["folder", "folder"]


def test_known_photo_is_checked_and_not_decoded_again(store, jpeg, monkeypatch) -> None:
    kept = store.keep(sha(jpeg), len(jpeg), [jpeg], kind=JPEG)
    monkeypatch.setattr(photo_store, "inspect", None)
    assert store.keep(sha(jpeg), len(jpeg), [jpeg], kind=JPEG, known=kept) == kept
    with pytest.raises(errors.PhotoCutShort):
        store.keep(sha(jpeg), len(jpeg), [jpeg[:-1]], kind=JPEG, known=kept)


def test_known_photo_whose_file_was_lost_is_written_again(store, jpeg) -> None:
    kept = store.keep(sha(jpeg), len(jpeg), [jpeg], kind=JPEG)
    store.original(kept.sha256).unlink()
    store.keep(kept.sha256, len(jpeg), [jpeg], kind=JPEG, known=kept)
    assert store.original(kept.sha256).read_bytes() == jpeg


def test_only_old_leftovers_of_dead_uploads_are_removed(store, tmp_path) -> None:
    old, new = tmp_path / "incoming/old", tmp_path / "incoming/new"
    for path in (old, new):
        path.write_bytes(b"half")
    day_ago = time.time() - 25 * 3600
    os.utime(old, (day_ago, day_ago))
    store.remove_leftovers(time.time())
    assert files(tmp_path / "incoming") == [new]
