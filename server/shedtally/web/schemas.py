"""The JSON of the API as models: what is accepted, what is answered, and its description."""

from __future__ import annotations

import datetime as dt
from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field, RootModel

from shedtally.domain.lists import LeftList, RenewalList, WasteList
from shedtally.usecases.receive_changes import MAX_BATCH
from shedtally.usecases.reserve_tags import MAX_BLOCK
from shedtally.usecases.send_snapshot import MAX_PAGE

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


class Session(BaseModel):
    """The device that asks, and what it can see.

    ``last_seq`` is the highest running number that arrived from it; up to ``complete_to`` none is
    missing. ``missing`` has the first and last number of each gap, 20 gaps at most: changes that
    were rejected, or never arrived.
    """

    device: str
    name: str
    server: str
    boats: list[Boat]
    last_seq: int
    complete_to: int
    missing: list[tuple[int, int]]


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


class ChangeIn(BaseModel):
    """One edit of one record. Judged one by one, so a faulty one is answered, not refused."""

    id: str = Field(pattern=UUID_FORM)
    device: str = Field(pattern=UUID_FORM)
    seq: int = Field(ge=1, le=MAX_CURSOR)
    stamp: str = Field(pattern=r"^[0-9a-f]{16}$")
    table: str
    key: str
    set_: dict[str, str | int | float | bool | None] = Field(alias="set")
    base: int = Field(ge=0, le=MAX_CURSOR)


class ChangeOut(ChangeIn):
    """A change in the log; it merges by ``stamp``.

    ``own_stamp`` is given where its author's clock was too far ahead: the stamp as sent.
    """

    cursor: int
    own_stamp: str | None = None


class Push(BaseModel):
    """A batch of changes; ``schema`` is the version that the phone speaks."""

    schema_: int = Field(alias="schema", ge=0, le=10_000)
    changes: list[Any] = Field(
        max_length=MAX_BATCH,
        json_schema_extra={"items": {"anyOf": [ChangeIn.model_json_schema(), {}]}},
    )


class ResultOut(BaseModel):
    """What became of one change; ``stamp`` where it merges by another than its own."""

    id: str | None
    outcome: Literal["accepted", "repeated", "rejected"]
    cursor: int | None = None
    stamp: str | None = None
    problem: Problem | None = None


class PushReply(BaseModel):
    """One result a change, in the order sent. All that is accepted is on the disk."""

    cursor: int
    now_ms: int
    results: list[ResultOut]


class PullQuery(BaseModel):
    """From where, and how many at most.

    ``last`` is the id of the change at ``since``, from the last answer. With it a reader is told
    if the log is no longer the one that it has read; the same for ``epoch``.
    """

    since: int = Field(default=0, ge=0, le=MAX_CURSOR)
    last: str = Field(default="", pattern=rf"^$|{UUID_FORM}")
    epoch: str = Field(default="", max_length=40)
    limit: int = Field(default=500, ge=1, le=2000)


class PullReply(BaseModel):
    """Changes in order of cursor; ask again from ``cursor`` while there is more."""

    epoch: str
    cursor: int
    last: str | None
    more: bool
    changes: list[ChangeOut]


class SnapshotQuery(BaseModel):
    """Where the last page ended (its ``after``), and how many records at most."""

    after: str = Field(default="", pattern=r"^([a-z][a-z0-9_-]{0,39}/[A-Za-z0-9_-]{1,64})?$")
    limit: int = Field(default=5000, ge=1, le=MAX_PAGE)

    def name_after(self) -> tuple[str, str] | None:
        """Table and key that the page comes after, None for the first page."""
        table, _, key = self.after.partition("/")
        return (table, key) if self.after else None


class SnapshotVersions(BaseModel):
    """Versions by columns: who wrote a value, and when.

    The time of a stamp is ``ms`` milliseconds after that of the version before, the first after
    1970; its counter stands in ``counters``. ``devices`` are places in the list of devices,
    ``changes`` the ids of all changes, 32 digits each.
    """

    ms: list[int]
    counters: list[int]
    devices: list[int]
    changes: str


class SnapshotRecords(BaseModel):
    """Records of one table with the same fields, by columns.

    ``keys`` are UUIDs of 32 digits one after the other, or a list of other keys. ``values`` has a
    list for each field. ``versions`` has a number for each record, or one for each of its fields
    in a list: 0 is the next version that was not named before, n the n-th of all.
    """

    table: str
    fields: list[str]
    keys: str | list[str]
    values: list[list[str | int | float | bool | None]]
    versions: list[int | list[int]]


class Snapshot(BaseModel):
    """A page of records as they are. While there is ``more``, ask again with ``after``.

    Then pull from the ``cursor`` of the first page. ``last`` is the id of the change there.
    """

    epoch: str
    cursor: int
    last: str | None
    more: bool
    after: str | None
    records: list[SnapshotRecords]
    devices: list[str]
    versions: SnapshotVersions


class HistoryQuery(BaseModel):
    """Past which cursor, and how many changes at most."""

    since: int = Field(default=0, ge=0, le=MAX_CURSOR)
    limit: int = Field(default=10_000, ge=1, le=10_000)


class HistoryEntry(ChangeOut):
    """A change with the time at which it arrived."""

    received_ms: int


class History(BaseModel):
    """Changes of one record, as they arrived, and the names of the devices that made them.

    Ask again from the cursor of the last one while there is ``more``.
    """

    more: bool
    devices: dict[str, str]
    changes: list[HistoryEntry]


class ClashSide(BaseModel):
    """One of two values, and who wrote it."""

    value: str | int | float | bool | None
    stamp: str
    device: str
    change: str


class ClashOut(BaseModel):
    """Two values for one field, written without sight of each other."""

    table: str
    key: str
    field: str
    kept: ClashSide
    lost: ClashSide
    cursor: int


class ClashList(RootModel[list[ClashOut]]):
    """Open clashes, in the order in which they were found."""


class PhotoOut(BaseModel):
    """A photo that is on the server's disk. A phone may let go of its own copy now."""

    sha256: str
    bytes: int
    type: str
    width: int
    height: int
    has_position: bool


class MissingPhotos(BaseModel):
    """Digests that records name and whose bytes have not arrived."""

    photos: list[str]


class RescueQuery(BaseModel):
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
    """What became of a rescue file. ``damaged`` says what in it could not be read."""

    accepted: int
    repeated: int
    rejected: list[RescueRejected]
    photos_kept: int
    photos_refused: list[RescuePhotoRefused]
    damaged: list[str]


class TagBlockRequest(BaseModel):
    """How many codes."""

    count: int = Field(ge=1, le=MAX_BLOCK)


class TagBlock(BaseModel):
    """Codes that nobody else will get."""

    block: str
    codes: list[str]


class TagSheetQuery(BaseModel):
    """Which tags, on what paper: ``codes`` separated by commas, or a ``block``."""

    sheet: str = Field(default="a4", max_length=40)
    codes: str = Field(default="", max_length=10_000)
    block: str = Field(default="", max_length=40)
    look: Literal["blank", "filled"] = "filled"


class WasteQuery(BaseModel):
    """By which rules; what is left out is taken from the boat's record."""

    rule_set: str = Field(default="", max_length=40)
    holder: Literal["", "household", "business"] = ""
    on: dt.date | None = None


class ListReply(BaseModel):
    """A list, when it was made, and the cursor of the last change that it contains."""

    cursor: int
    made_at: str
    list: Any


class LeftReply(ListReply):
    """What is left to take out."""

    list: LeftList


class WasteReply(ListReply):
    """Waste by stream."""

    list: WasteList


class RenewalReply(ListReply):
    """What is to be renewed."""

    list: RenewalList


class Sheet(BaseModel):
    """A sheet or roll that tags can be printed on; lengths in mm."""

    id: str
    name: str
    about: str
    roll: bool
    per_page: int


class SheetList(RootModel[list[Sheet]]):
    """All sheets and rolls."""
