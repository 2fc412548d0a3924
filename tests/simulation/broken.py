"""The project's code broken on purpose, one line at a time: each has to be noticed.

    python -m tests.simulation --broken

tells for each break how many schedules it took, and which promise was seen broken.
"""

from __future__ import annotations

import tempfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from shedtally.domain.sync import clash, merge, stamp
from shedtally.domain.sync.change import Change
from shedtally.domain.sync.merge import State, Version
from shedtally.storage.change_log import ChangeLog
from shedtally.storage.clashes import Clashes
from shedtally.storage.reading_marks import ReadingMarks
from shedtally.usecases import bring_in_rescue, receive_changes

from .named import ONCE_BROKEN, SMALL
from .schedule import Schedule
from .session import Session

MOST_SCHEDULES = 400


@dataclass(frozen=True)
class Break:
    """What is broken: lines of the phone's code, or attributes of the server's."""

    says: str
    lines: tuple[tuple[str, str, str], ...] = ()
    server: tuple[tuple[Any, str, Any], ...] = ()


def _last_arrival_wins(state: State, change: Any, by: str | None = None, cursor: int = 0) -> State:
    version = Version(by or change.stamp, change.device, change.id, cursor)
    versions = dict.fromkeys(change.values, version)
    return State({**state.values, **change.values}, {**state.versions, **versions})


_advance = ChangeLog.advance


def _advance_too_far(log: ChangeLog, cursor: int, highest: str) -> None:
    _advance(log, cursor + 1, highest)


_clashes = clash.clashes


def _clashes_of_losers_only(before: Any, after: Any, change: Any, own: Any, seen: int) -> list:
    found = _clashes(before, after, change, own, seen)
    return [one for one in found if one.kept.version != own]


_FORGET = 'await settle(boat, batch, batch.map(({ id }) => ({ id, outcome: "accepted" })));'
MERGE, RECORDS, OUTBOX = "domain/merge.ts", "storage/records.ts", "storage/outbox.ts"
BREAKS = [
    Break("phone: the last arrival wins",
          ((MERGE, "if (held && !isNewer(version, held)) continue;", ""),)),
    Break("phone: a corrected stamp is not believed",
          ((RECORDS, "hasOtherStamp(row, change)", "false"),)),
    Break("phone: the cursor runs ahead of what was stored",
          (("sync/pull.ts", "putCursor(tx, boat, page.cursor,",
                "putCursor(tx, boat, page.cursor + 1,"),)),
    Break("phone: what was sent is forgotten, whatever the answer says",
          (("sync/push.ts", "await settleOrTrouble(boat, batch, await post(boat, batch, parcel));",
            f"await post(boat, batch, parcel); {_FORGET}"),)),
    Break("phone: what is on its way is forgotten before the answer",
          (("sync/push.ts", "await settleOrTrouble(boat, batch, await post(boat, batch, parcel));",
            f"{_FORGET} await post(boat, batch, parcel);"),)),
    Break("phone: only the first change of a keep is queued",
          (("storage/keep.ts", "= changes.map((change) =>\n",
            "= changes.slice(0, 1).map((change) =>\n"),)),
    Break("phone: the clock does not follow what was seen",
          (("domain/stamp.ts", "return seen > last ? seen : last;", "return last;"),
           ("storage/keep.ts", "stamp = latest(stamp, held?.versions[field]?.[0]);", ""))),
    Break("phone: an edit is not put above what is shown",
          (("storage/keep.ts", "stamp = latest(stamp, held?.versions[field]?.[0]);", ""),)),
    Break("phone: a restored server is not noticed",
          (("sync/round.ts", "epoch !== pong.epoch) await resendAll();",
            "epoch !== pong.epoch) {}"),
           ("sync/round.ts", "\tawait resendAll();", ""))),
    Break("phone: others' changes are not offered to a restored server",
          (("sync/round.ts", "await offerOthers().catch(", "await Promise.resolve().catch("),)),
    Break("phone: what came by a snapshot is not restated to a restored server",
          (("sync/offer.ts", "\tawait offerSnapshots();", ""),)),
    Break("phone: the rescue file lacks what came by a snapshot",
          ((OUTBOX, "others.push(...(await restatedInBlocks(tx)));", ""),)),
    Break("phone: the stamp in a snapshot is believed, whatever the log says",
          ((RECORDS, "...fold(all, without(base, all))", "...fold(all, base)"),)),
    Break("phone: what is restated merges under a name of its own",
          (("domain/change.ts", "restates ?? id", "id"),)),
    Break("phone: bases of the lost log are kept",
          (("storage/schema.ts", "stamp, base: 0, ...", "stamp, ..."),)),
    Break("phone: what is new goes out before what a lost log had",
          (("sync/round.ts", "\tawait offerOthers().catch(",
            "\tawait pushChanges();\n\tawait offerOthers().catch("),)),
    Break("phone: what is said again does not say so",
          (("storage/schema.ts", "...(cursor !== undefined && { again: true })", ""),)),
    # Alone it would be mended, because the server lists the photograph as missing.
    Break("phone: a photograph counts as sent before it is, and is not offered again",
          (("sync/photos.ts", "const photo = await photoBytes(row.sha256);",
            "await photoArrived(row.sha256); const photo = await photoBytes(row.sha256);"),
           ("sync/round.ts", "[offerMissing, ", "["))),
    Break("phone: what the server lists as missing is not offered again",
          (("sync/round.ts", "[offerMissing, ", "["),)),
    Break("phone: every page pushes, whether or not another does",
          (("sync/schedule.ts", "navigator.locks as LockManager | undefined",
            "undefined as LockManager | undefined"),)),
    Break("phone: what is kept on one page is not shown on the other",
          (("storage/keep.ts", "\ttellTabs({\n", "\t(() => {})({\n"),)),
    Break("phone: what a page stored and died over is not shown on the other",
          (("sync/round.ts", "\tawait showMissed();", ""),)),
    Break("phone: what comes in is not shown",
          (("sync/pull.ts", "showRows(rows);", ""),)),
    Break("phone: the rescue file lacks what waits",
          ((OUTBOX, "...own];", "...own.filter(({ id }) => !waits.has(id))];"),)),
    Break("phone: the rescue file lacks what was acknowledged",
          ((OUTBOX, "(row.device === device && !row.restates ? own : others).push(change);",
            "if (row.device !== device) others.push(change);"),)),
    Break("phone: the rescue file lacks what others wrote",
          ((OUTBOX, "[...others.slice(-MOST_OF_OTHERS), ...own]", "[...own]"),)),
    Break("server: bases of a lost log count in a rescue file", (),
          ((bring_in_rescue, "_is_of_other_log", lambda *_: False),)),
    Break("server: the last arrival wins", (), ((merge, "apply", _last_arrival_wins),)),
    Break("server: a change is not known again", (),
          ((ChangeLog, "known", lambda *_: {}), (ChangeLog, "taken", lambda *_: set()))),
    Break("server: what is restated merges under a name of its own", (),
          ((Change, "merges_as", property(lambda self: self.id)),)),
    Break("server: cursors have gaps", (), ((ChangeLog, "advance", _advance_too_far),)),
    Break("server: stamps from the future are believed", (),
          ((stamp, "is_too_far_ahead", lambda *_: False),)),
    Break("server: stamps out of a lost log are put right again", (),
          ((Change, "comes_from_a_log", property(lambda _: False)),)),
    Break("server: a phone counts as having read far past where it is", (),
          ((ReadingMarks, "note",
            lambda self, device, boat, cursor, now_ms, do=ReadingMarks.note:
            do(self, device, boat, cursor + 100, now_ms)),)),
    Break("server: no clash is listed", (), ((receive_changes, "clashes", lambda *_: []),)),
    Break("server: only late losers are listed", (),
          ((receive_changes, "clashes", _clashes_of_losers_only),)),
    Break("server: binning unseen work is not listed", (),
          ((clash, "_binned_unseen", lambda *_: []),)),
    Break("server: any later change settles a clash", (),
          ((Clashes, "settle", lambda self, table, key, fields, _seen, cursor, do=Clashes.settle:
            do(self, table, key, fields, 2**53, cursor)),)),
]  # fmt: skip


def see_all(most: int = MOST_SCHEDULES) -> int:
    """Run schedules on each break until one notices; 1 if any break went unnoticed."""
    unnoticed = 0
    for one in BREAKS:
        schedules, what = see(one, most)
        unnoticed += what == ""
        print(f"{one.says}: {'seen at schedule' if what else 'NOT SEEN in'} {schedules}\n   {what}")
    print(f"{len(BREAKS)} breaks, {unnoticed} not seen")
    return 1 if unnoticed else 0


def see(one: Break, most: int = MOST_SCHEDULES) -> tuple[int, str]:
    """How many schedules it took to notice, and the first thing said; empty if it was not."""
    lines: list[Mapping[str, str]] = [
        {"file": file, "line": line, "instead": instead} for file, line, instead in one.lines
    ]
    with tempfile.TemporaryDirectory() as folder, _broken(one.server):
        session = Session(Path(folder), lines)
        try:
            for number, schedule in enumerate(_schedules(most), 1):
                try:
                    session.run(schedule)
                except Exception as error:
                    first = str(error).split("\n", 1)[0]
                    return number, f"{type(error).__name__}: {first[:150]}"
        finally:
            session.close()
    return most, ""


def _schedules(most: int) -> Iterator[Schedule]:
    """Those written by hand, then by number."""
    for steps in [*SMALL.values(), *ONCE_BROKEN.values()]:
        yield Schedule(2, (0, 0, 0), tuple(steps))
    yield from (Session.schedule(seed) for seed in range(1, most + 1))


@contextmanager
def _broken(server: tuple[tuple[Any, str, Any], ...]) -> Iterator[None]:
    whole = [(where, name, getattr(where, name)) for where, name, _ in server]
    for where, name, instead in server:
        setattr(where, name, instead)
    try:
        yield
    finally:
        for where, name, before in whole:
            setattr(where, name, before)
