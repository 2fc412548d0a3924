"""Reading an archive that may be damaged: every entry that is whole, wherever the damage lies.

Nothing is ever unpacked to a path: an entry is a name and a stream, and who asks decides which
names mean anything. An archive that was cut has lost its list of contents, which stands at its end;
then its entries are found one after the other from the start.
"""

from __future__ import annotations

import struct
import zipfile
import zlib
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import IO

CHUNK_BYTES = 64 * 1024
# Signature, version, flags, method, time, date, checksum, packed size, size, lengths of the name
# and of the extra field. Source: APPNOTE.TXT 4.3.7 of the ZIP format.
_HEADER = struct.Struct("<4s5H3L2H")
_SIGNATURE = b"PK\x03\x04"
_SIZE_COMES_LATER = 0x0008
_DAMAGE = (zipfile.BadZipFile, zlib.error, EOFError, RuntimeError, NotImplementedError, OSError)


class EntryDamaged(Exception):
    """The bytes of an entry can't be read to their end."""


class NoArchive(Exception):
    """Not a ZIP archive, not even the start of one."""


@dataclass(frozen=True, slots=True)
class Entry:
    """``size`` is what the archive says of the bytes unpacked."""

    name: str
    size: int
    _open: Callable[[], IO[bytes]]

    def chunks(self) -> Iterator[bytes]:
        """The bytes, never more than ``size`` and a little.

        Raises: EntryDamaged.
        """
        read = 0
        try:
            with self._open() as stream:
                while read <= self.size and (chunk := stream.read(CHUNK_BYTES)):
                    read += len(chunk)
                    yield chunk
        except _DAMAGE as error:
            raise EntryDamaged(self.name) from error


@dataclass(frozen=True, slots=True)
class Archive:
    """What could be found; ``whole`` is False where the list of contents is lost."""

    entries: list[Entry]
    whole: bool


@contextmanager
def opened(path: Path) -> Iterator[Archive]:
    """The archive in a file.

    Raises: NoArchive.
    """
    try:
        archive = zipfile.ZipFile(path)
    except (zipfile.BadZipFile, OSError, ValueError, NotImplementedError):
        yield _salvaged(path)
        return
    with archive:
        yield Archive([_listed(archive, info) for info in archive.infolist()], whole=True)


def _listed(archive: zipfile.ZipFile, info: zipfile.ZipInfo) -> Entry:
    return Entry(info.filename, info.file_size, lambda: archive.open(info))


def _salvaged(path: Path) -> Archive:
    """The stored entries from the start of the file up to where it makes no sense any more."""
    found: list[Entry] = []
    length = path.stat().st_size
    with path.open("rb") as file:
        while len(header := file.read(_HEADER.size)) == _HEADER.size:
            signature, _, flags, method, _, _, _, _, size, name_length, extra_length = (
                _HEADER.unpack(header)
            )
            if signature != _SIGNATURE or method != 0 or flags & _SIZE_COMES_LATER:
                break
            name = file.read(name_length).decode("utf-8", "replace")
            start = file.tell() + extra_length
            if start + size > length:
                found.append(Entry(name, size, _cut))
                break
            found.append(Entry(name, size, _slice_of(path, start, size)))
            file.seek(start + size)
    if not found:
        raise NoArchive
    return Archive(found, whole=False)


def _cut() -> IO[bytes]:
    raise EOFError


def _slice_of(path: Path, start: int, size: int) -> Callable[[], IO[bytes]]:
    return lambda: _Slice(path, start, size)  # type: ignore[return-value]


class _Slice:
    """Part of a file, as far as `Entry.chunks` needs one."""

    def __init__(self, path: Path, start: int, size: int) -> None:
        self._file = path.open("rb")
        self._file.seek(start)
        self._left = size

    def __enter__(self) -> _Slice:
        return self

    def __exit__(self, *_: object) -> None:
        self._file.close()

    def read(self, most: int) -> bytes:
        """At most ``most`` of the bytes that are left."""
        chunk = self._file.read(min(most, self._left))
        self._left -= len(chunk)
        return chunk
