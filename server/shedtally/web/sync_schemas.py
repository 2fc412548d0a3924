"""The JSON of changes, snapshots, history and clashes; common forms are in `schemas.py`."""

from __future__ import annotations

from typing import Any, Literal

from pydantic import BaseModel, Field, RootModel

from shedtally.usecases.receive_changes import MAX_BATCH
from shedtally.usecases.send_snapshot import MAX_PAGE
from shedtally.web.query import Query
from shedtally.web.schemas import MAX_CURSOR, UUID_FORM, Problem


class ChangeIn(BaseModel):
    """One edit of one record. Judged one by one, so a faulty one is answered, not refused.

    ``restates`` is given where a phone says again, after a restored backup, what it knew of a lost
    change from a snapshot: id of that change, its author and stamp, and a ``seq`` below zero.
    ``again``: a server had this change and lost it; its stamp is the one which that gave it.
    """

    id: str = Field(pattern=UUID_FORM)
    device: str = Field(pattern=UUID_FORM)
    seq: int = Field(ge=-MAX_CURSOR, le=MAX_CURSOR)
    stamp: str = Field(pattern=r"^[0-9a-f]{16}$")
    table: str
    key: str
    set_: dict[str, str | int | float | bool | None] = Field(alias="set")
    base: int = Field(ge=0, le=MAX_CURSOR)
    restates: str | None = Field(default=None, pattern=UUID_FORM)
    again: bool = False


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


class PullQuery(Query):
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


class SnapshotQuery(Query):
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


class HistoryQuery(Query):
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
