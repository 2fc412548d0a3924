"""Routes: boats, pushing and pulling changes, history, clashes."""

from __future__ import annotations

import contextlib
from typing import Any

from flask import Response
from sqlalchemy.exc import SQLAlchemyError

from shedtally.domain.errors import NoSuchBoat
from shedtally.domain.sync.change import LoggedChange
from shedtally.domain.sync.clash import Side
from shedtally.usecases.receive_changes import Result, receive_changes
from shedtally.usecases.second_copies import is_worth_noting
from shedtally.usecases.send_changes import Mark, history, send_changes
from shedtally.usecases.send_snapshot import send_snapshot
from shedtally.web import guard, problems, schemas, sync_schemas
from shedtally.web.answers import answers, blueprint
from shedtally.web.columns import text_of
from shedtally.web.guard import shed

api = blueprint("sync", "Changes in both directions")


@api.get("/boats", responses=answers({200: schemas.BoatList}))
def boats() -> list[dict[str, str]]:
    """List the boats of this server."""
    with shed().reading() as uow:
        return [{"key": key, "name": name} for key, name in uow.boats()]


@api.post(
    "/boats/<string:boat>/changes",
    responses=answers(
        {200: sync_schemas.PushReply},
        "no-such-boat",
        "client-too-old",
        "too-large",
        "wrong-type",
        "disk-full",
    ),
)
def push(path: schemas.BoatPath, body: sync_schemas.Push) -> dict[str, Any]:
    """Take in up to 2000 changes, gzipped or not; may be repeated any number of times.

    Every change is judged alone. A boat comes to be by a change of table ``boat`` with its key.
    """
    now_ms = shed().now_ms()
    with shed().writing() as uow:
        received = receive_changes(
            uow,
            path.boat,
            body.changes,
            sent_by=guard.device().key,
            schema=body.schema_,
            now_ms=now_ms,
            rules=shed().rules,
        )
    # Only here, after the commit, may anything be called accepted.
    results = [_result(one) for one in received.results]
    return {"cursor": received.cursor, "now_ms": now_ms, "results": results}


@api.get(
    "/boats/<string:boat>/changes",
    responses=answers({200: sync_schemas.PullReply}, "no-such-boat", "cursor-unknown"),
)
def pull(path: schemas.BoatPath, query: sync_schemas.PullQuery) -> dict[str, Any]:
    """Send the changes after a cursor, in order."""
    mark = Mark(query.since, query.last or None, query.epoch or None)
    device, now_ms = guard.device().key, shed().now_ms()
    with shed().reading() as uow:
        page = send_changes(uow, path.boat, mark, query.limit)
        worth_noting = is_worth_noting(uow, device, path.boat, mark.cursor, now_ms)
    if worth_noting:
        # A full disk must not keep anybody from reading.
        with contextlib.suppress(SQLAlchemyError), shed().writing() as uow:
            uow.reading_marks().note(device, path.boat, mark.cursor, now_ms)
    return {
        "epoch": page.epoch,
        "cursor": page.cursor,
        "last": page.last,
        "more": page.more,
        "changes": [_change(entry) for entry in page.changes],
    }


@api.get(
    "/boats/<string:boat>/snapshot",
    responses=answers({200: sync_schemas.Snapshot}, "no-such-boat"),
)
def snapshot(path: schemas.BoatPath, query: sync_schemas.SnapshotQuery) -> Response:
    """Send the records as they are, for a device that has none of this boat.

    Keep the cursor of the first page, read all pages, then pull from that cursor.
    """
    after = query.name_after()
    with shed().reading() as uow:
        page = send_snapshot(uow, path.boat, after, query.limit)
    return Response(text_of(page), mimetype="application/json")


@api.get(
    "/boats/<string:boat>/records/<string:table>/<string:key>/history",
    responses=answers({200: sync_schemas.History}, "no-such-boat"),
)
def record_history(path: schemas.RecordPath, query: sync_schemas.HistoryQuery) -> dict[str, Any]:
    """Send the changes of one record, as they arrived; none for an unknown record."""
    with shed().reading() as uow:
        found = history(uow, path.boat, path.table, path.key, since=query.since, limit=query.limit)
    return {
        "more": found.more,
        "devices": found.devices,
        "changes": [{**_change(one), "received_ms": one.received_ms} for one in found.changes],
    }


@api.get(
    "/boats/<string:boat>/clashes", responses=answers({200: sync_schemas.ClashList}, "no-such-boat")
)
def clashes(path: schemas.BoatPath) -> list[dict[str, Any]]:
    """List what two devices wrote without sight of each other, until somebody settles it."""
    with shed().reading() as uow:
        if not uow.log(path.boat).exists():
            raise NoSuchBoat(path.boat)
        found = uow.clashes(path.boat).open()
    return [
        {
            "table": one.table,
            "key": one.key,
            "field": one.field,
            "kept": _side(one.kept),
            "lost": _side(one.lost),
            "cursor": one.cursor,
        }
        for one in found
    ]


def _result(result: Result) -> dict[str, Any]:
    out: dict[str, Any] = {"id": result.id, "outcome": result.outcome}
    if result.outcome == "rejected":
        error = {"pointer": f"/{result.field}", "detail": result.detail}
        detail = f"{result.field or 'change'}: {result.detail}"
        more = {"errors": [error]}
        out["problem"] = problems.body_of("invalid", detail, more, instance=result.id)
        return out
    out["cursor"] = result.cursor
    if result.stamp is not None:
        out["stamp"] = result.stamp
    return out


def _change(entry: LoggedChange) -> dict[str, Any]:
    out = {**entry.change.as_sent(), "stamp": entry.stamp, "cursor": entry.cursor}
    if entry.stamp != entry.change.stamp:
        out["own_stamp"] = entry.change.stamp
    return out


def _side(side: Side) -> dict[str, Any]:
    return {
        "value": side.value,
        "stamp": side.version.stamp,
        "device": side.version.device,
        "change": side.version.change,
    }
