"""The JSON of the API as models: what is accepted, what is answered, and its description."""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict, Field, RootModel

from shedtally.usecases.reserve_tags import MAX_BLOCK
from shedtally.web.query import Query

UUID_FORM = r"^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$"
DIGEST_FORM = r"^[0-9a-f]{64}$"
MAX_CURSOR = 2**53 - 1


class Problem(BaseModel):
    """What is wrong, after RFC 9457; programs look at ``type`` only."""

    model_config = ConfigDict(extra="allow")
    type: str
    title: str
    status: int
    detail: str
    instance: str


class BoatPath(BaseModel):
    """Which boat."""

    boat: str = Field(pattern=UUID_FORM)


class HandoverPath(BoatPath):
    """Which handover of a boat."""

    handover: str = Field(max_length=64)


class RecordPath(BoatPath):
    """Which record of a boat."""

    table: str = Field(pattern=r"^[a-z][a-z0-9_-]{0,39}$")
    key: str = Field(pattern=r"^[A-Za-z0-9_-]{1,64}$")


class DevicePath(BaseModel):
    """Which device."""

    device: str = Field(pattern=UUID_FORM)


class NewName(BaseModel):
    """What a device is to be called."""

    name: str = Field(min_length=1, max_length=100)


class PhotoPath(BaseModel):
    """Which photo, by the SHA-256 of its bytes."""

    sha256: str = Field(pattern=DIGEST_FORM)


class Ping(BaseModel):
    """Which server answers; ``epoch`` changes when its data came back from a backup."""

    server: str
    epoch: str
    now_ms: int
    schema_: int = Field(alias="schema", serialization_alias="schema")
    name: str


class Boat(BaseModel):
    """A boat of this server."""

    key: str
    name: str


class PairRequest(BaseModel):
    """A one-time code, and who wants in."""

    code: str = Field(max_length=40)
    device: str = Field(pattern=UUID_FORM)
    name: str = Field(min_length=1, max_length=100)


class SecondCopy(BaseModel):
    """The other device that has read most of a boat; ``whole`` if that is all the asker made."""

    boat: str
    name: str
    last_seen: str
    whole: bool


class Session(BaseModel):
    """The device that asks, and what it can see.

    ``last_seq`` is the highest running number that arrived from it; up to ``complete_to`` none is
    missing. ``missing`` has the first and last number of each gap, 20 gaps at most: changes that
    were rejected, or never arrived. ``copies`` says for each boat that the device wrote to who else
    has it; changes that arrive after the answer are not in it.
    """

    device: str
    name: str
    server: str
    boats: list[Boat]
    last_seq: int
    complete_to: int
    missing: list[tuple[int, int]]
    copies: list[SecondCopy]


class PairingCode(BaseModel):
    """A code for one more device; ``url`` has it behind the #, where no server logs it."""

    code: str
    expires_at: str
    url: str


class DeviceOut(BaseModel):
    """A device that was paired; ``last_seq`` is the last of its changes that arrived."""

    device: str
    name: str
    paired_at: str
    last_seen: str
    revoked: bool
    last_seq: int


class DeviceList(RootModel[list[DeviceOut]]):
    """Every device that was ever paired, the last seen first."""


class BoatList(RootModel[list[Boat]]):
    """All boats, in order of name."""


class PhotoOut(BaseModel):
    """A photo that is on the server's disk. A phone may let go of its own copy now."""

    sha256: str
    bytes: int
    type: str
    width: int
    height: int
    has_position: bool


class PreviewHeader(BaseModel):
    """What the small picture's bytes must come to, after RFC 9530."""

    content_digest: str = Field(
        alias="Content-Digest",
        pattern=r"^sha-256=:[A-Za-z0-9+/]{43}=:$",
        description="SHA-256 of the small picture's bytes",
    )


class PreviewOut(BaseModel):
    """A small picture that stands in for a photo until that arrives.

    ``whole`` says that the photo itself is here, and the small picture was not needed.
    """

    sha256: str
    whole: bool


class MissingPhotos(BaseModel):
    """Digests that records name and whose bytes have not arrived."""

    photos: list[str]


class RescueQuery(Query):
    """Whether a file of another server's phone is meant to come in."""

    other_server: bool = False


class RescueRejected(BaseModel):
    """A change that can't be kept, and why."""

    id: str | None
    why: str


class RescuePhotoRefused(BaseModel):
    """A photo that can't be kept, and why."""

    sha256: str
    why: str


class RescueReply(BaseModel):
    """What became of a rescue file. ``damaged`` says what in it could not be read.

    ``accepted`` and ``photos_kept`` are new here, ``repeated`` and ``photos_known`` were here.
    """

    accepted: int
    repeated: int
    rejected: list[RescueRejected]
    photos_kept: int
    photos_known: int
    photos_refused: list[RescuePhotoRefused]
    damaged: list[str]


class TagBlockRequest(BaseModel):
    """How many codes."""

    count: int = Field(ge=1, le=MAX_BLOCK)


class TagBlock(BaseModel):
    """Codes that nobody else will get."""

    block: str
    codes: list[str]


class TagSheetQuery(Query):
    """Which tags, on what paper: ``codes`` separated by commas, or a ``block``."""

    sheet: str = Field(default="a4", max_length=40)
    codes: str = Field(default="", max_length=10_000)
    block: str = Field(default="", max_length=40)
    look: Literal["blank", "filled"] = "filled"


class Sheet(BaseModel):
    """A sheet or roll that tags can be printed on; lengths in mm."""

    id: str
    name: str
    about: str
    roll: bool
    per_page: int


class SheetList(RootModel[list[Sheet]]):
    """All sheets and rolls."""
