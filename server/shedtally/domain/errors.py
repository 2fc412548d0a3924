"""Everything that can go wrong between a phone and the server, as one closed tree.

Refused
├── NotPaired
├── WrongCode, TooManyTries
├── Missing: NoSuchBoat, NoSuchDevice, NoSuchPhoto, NoSuchTagBlock, NoSuchRuleSet, NoSuchSheet
├── ClientTooOld
├── BadChange
├── PhotoRefused: LengthMissing, PhotoTooLarge, PhotoCutShort, PhotoTooLong, WrongDigest,
│   NotAPicture, OtherType, TooManyPixels
├── CursorUnknown
├── RescueUnreadable, RescueOfOtherServer
├── TagsUsedUp
└── DiskFull

Each carries data, not a sentence; `web/problems.py` has the sentences.
"""

from __future__ import annotations


class Refused(Exception):
    """The server can't do what was asked; what the phone holds is safe."""


class NotPaired(Refused):
    """No session, or one that was revoked."""


class WrongCode(Refused):
    """The pairing code is wrong, used up or too old. Which of them is not told to a guesser."""


class TooManyTries(Refused):
    """Too many wrong pairing codes; after ``retry_after_s`` seconds another may be tried."""

    def __init__(self, retry_after_s: int) -> None:
        super().__init__(retry_after_s)
        self.retry_after_s = retry_after_s


class Missing(Refused):
    """What was asked for by name isn't here."""

    def __init__(self, name: str) -> None:
        super().__init__(name)
        self.name = name


class NoSuchBoat(Missing):
    """No boat with this key."""


class NoSuchDevice(Missing):
    """No device with this key."""


class NoSuchPhoto(Missing):
    """No bytes with this digest have arrived yet."""


class NoSuchTagBlock(Missing):
    """No block of tags with this key."""


class NoSuchRuleSet(Missing):
    """No rule set with this id."""


class NoSuchSheet(Missing):
    """No sheet or roll size with this id."""


class ClientTooOld(Refused):
    """The phone's app speaks ``schema``, older than ``oldest``, which is still understood."""

    def __init__(self, schema: int, oldest: int) -> None:
        super().__init__(schema, oldest)
        self.schema = schema
        self.oldest = oldest


class BadChange(Refused):
    """One change can't be kept: ``field`` is the member or field, ``detail`` says why."""

    def __init__(self, field: str, detail: str) -> None:
        super().__init__(field, detail)
        self.field = field
        self.detail = detail


class PhotoRefused(Refused):
    """These bytes can't become a photo; nothing of them was kept."""


class LengthMissing(PhotoRefused):
    """The upload didn't say how long it is, so that a cut could not be noticed."""


class PhotoTooLarge(PhotoRefused):
    """More than ``limit`` bytes."""

    def __init__(self, limit: int) -> None:
        super().__init__(limit)
        self.limit = limit


class PhotoCutShort(PhotoRefused):
    """``got`` bytes arrived of ``declared``."""

    def __init__(self, declared: int, got: int) -> None:
        super().__init__(declared, got)
        self.declared = declared
        self.got = got


class PhotoTooLong(PhotoCutShort):
    """More bytes arrived than declared."""


class WrongDigest(PhotoRefused):
    """The bytes have the digest ``found`` and not the one in the address."""

    def __init__(self, found: str) -> None:
        super().__init__(found)
        self.found = found


class NotAPicture(PhotoRefused):
    """Not a whole JPEG, PNG or WebP picture."""


class OtherType(PhotoRefused):
    """The bytes are a picture of the type ``found``, not of the one announced."""

    def __init__(self, found: str) -> None:
        super().__init__(found)
        self.found = found


class TooManyPixels(PhotoRefused):
    """More than ``limit`` pixels."""

    def __init__(self, limit: int) -> None:
        super().__init__(limit)
        self.limit = limit


class CursorUnknown(Refused):
    """The reader's cursor is none of this log: of another boat, or of a log that was lost."""


class RescueUnreadable(Refused):
    """Nothing in the file can be read as a phone's rescue file."""


class RescueOfOtherServer(Refused):
    """The rescue file was made by a phone of another server."""


class TagsUsedUp(Refused):
    """Every number that a tag can carry has been given out."""


class DiskFull(Refused):
    """The server's disk is full, or so nearly full that the rest is kept for records."""
