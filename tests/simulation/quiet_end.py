"""The quiet end of a schedule, and everything that must be so after it."""

from __future__ import annotations

import base64
import hashlib
from random import Random
from typing import Any

from . import oracle, second_phones
from .link import SimPhone
from .schedule import MINUTE
from .world import Broken, World

ROUNDS = 5
FUTURE_MS = 5 * MINUTE + 1_000


def end(world: World) -> None:
    """Let every phone send and receive until nothing moves; check all promises.

    Raises: Broken, with every promise that did not hold.
    """
    phones = _bring_together(world)
    _until_quiet(world, phones)
    sent = world.owner.log()
    log = [oracle.merging(entry) for entry in sent]
    seen = _seen(world, sent)
    open_pages = [page for page in world.pages() if page in phones or (page.on and not page.old)]
    here = [page for page in open_pages if any(page.handset is one.handset for one in phones)]
    # How far a phone has read is noted twice a minute at most.
    world.clock.ms += 31_000 if world.schedule.seed % 2 else 0
    # A page that is looked at does a round; before it may lack what another died over.
    told = {page.name: world.result(world.do(page, "sync")) for page in [*here, *here]}
    dumps = {page.name: world.result(world.do(page, "dump")) for page in here}
    wrong = [
        *_numbering(sent),
        *_lost(world, sent, dumps),
        *_forgotten(world, log, dumps),
        *_order(log, seen),
        *_future(world, log),
        *_records(world, log, dumps),
        *_any_order(world, sent, phones),
        *_clashes(world, log, seen),
        *_photos(world, dumps),
        *second_phones.wrong_claims(world, log, told),
    ]
    world.counts.changes += len(log)
    if wrong:
        raise Broken("\n".join(wrong))


def _bring_together(world: World) -> list[SimPhone]:
    """Pair revoked phones again, or bring in what is on them as a file; the phones that sync."""
    phones = []
    for phone in world.present():
        if phone.old:
            world.crash(phone)
        if phone.handset.revoked and int(phone.name) % 2 == world.schedule.seed % 2:
            file = base64.b64decode(world.result(world.do(phone, "rescue")))
            world.owner.bring_in(file)
            world.owner.bring_in(file)
            world.counts.rescues += 1
            dump = world.result(world.do(phone, "dump"))
            mine = {one for by, one in world.kept_photos if by is phone.handset}
            world.rescued_photos |= mine & set(dump["photo"])
            world.rescued |= {change["id"] for change in dump["change"]}
            world.rescued_values |= _versions(dump)
            continue
        if phone.handset.revoked:
            world.pair(phone)
        phones.append(phone)
    if world.schedule.seed % 3 == 0 and phones:
        phones.append(world.join(0))
    return phones


def _until_quiet(world: World, phones: list[SimPhone]) -> None:
    told: list[Any] = []
    for _ in range(ROUNDS):
        before = world.server.cursor(world.boat)
        told = []
        for phone in phones:
            world.clock.ms += 1
            phone.fates.clear()
            answer = world.result(world.do(phone, "sync"))
            if not answer["paired"]:
                # A restored backup may not know this phone.
                world.pair(phone)
                answer = world.result(world.do(phone, "sync"))
            told.append(answer)
        still = all(
            one["problem"] is None and one["unsentChanges"] == 0 == one["unsentPhotos"]
            for one in told
        )
        if still and world.server.cursor(world.boat) == before:
            break
    else:
        raise Broken(f"the phones do not come to rest: {told}")
    if any(one["rejected"] for one in told):
        raise Broken(f"a change that a phone let through was refused: {told}")


def _seen(world: World, log: list[dict]) -> dict[str, frozenset[str]]:
    """For each change the changes that its author had seen, his own earlier ones too."""
    own: dict[str, list[str]] = {}
    found = {}
    for entry in sorted(log, key=lambda entry: entry["seq"]):
        if "restates" in entry:
            found.setdefault(entry["restates"], frozenset())
            continue
        earlier = own.setdefault(entry["device"], [])
        kept = world.kept.get((entry["device"], entry["seq"]))
        found[entry["id"]] = frozenset(earlier) | (kept.seen if kept else frozenset())
        earlier.append(entry["id"])
    return found


def _numbering(log: list[dict]) -> list[str]:
    wrong = []
    if [entry["cursor"] for entry in log] != list(range(1, len(log) + 1)):
        wrong.append(f"cursors have gaps: {[entry['cursor'] for entry in log]}")
    for what in ("id",), ("device", "seq"):
        names = [tuple(entry[part] for part in what) for entry in log]
        if len(set(names)) != len(names):
            wrong.append(f"a change is in the log twice, by {what}")
    return wrong


def _lost(world: World, log: list[dict], dumps: dict[str, Any]) -> list[str]:
    """Everything kept on a phone that still exists, and everything acknowledged, is in the log."""
    logged = {(entry["device"], entry["seq"]): entry for entry in log}
    gone = {phone.handset.device for phone in world.phones if phone.handset.overboard} | {
        world.owner.device
    }
    wrong = []
    for name, kept in world.kept.items():
        entry = logged.get(name)
        if entry is None:
            if kept.certain and kept.device not in gone:
                wrong.append(f"lost: {kept}")
        elif not _is_of(entry, kept):
            wrong.append(f"changed: {kept} became {entry}")
    for group in world.unsure:
        names = [(one.device, one.seq) for one in group]
        if any(world.kept[name] is not one for name, one in zip(names, group, strict=True)):
            continue  # Its numbers were given to a later keep, so it left nothing behind.
        if 0 < sum(name in logged for name in names) < len(group):
            wrong.append(f"half of one keep arrived: {group}")
    wrong += [
        f"nobody kept this: {entry}"
        for name, entry in logged.items()
        if name not in world.kept and not _is_restated(world, entry)
    ]
    held = {change["id"] for dump in dumps.values() for change in dump["change"]}
    must = world.link.acked | (world.acked_before_restore & (held | world.rescued))
    here = {entry["id"] for entry in log}
    wrong += [
        f"acknowledged and lost: {one}"
        for one in must - here
        # Where the whole change is, what restates a part of it is not kept besides.
        if world.link.restated.get(one) not in here
    ]
    return wrong


def _is_restated(world: World, entry: dict) -> bool:
    """Whether it says again a part of something that its author kept."""
    told = {(field, oracle.text(value)) for field, value in entry["set"].items()}
    return "restates" in entry and any(
        (kept.device, kept.table, kept.key) == (entry["device"], entry["table"], entry["key"])
        and told <= {(field, oracle.text(value)) for field, value in kept.values.items()}
        for kept in world.kept.values()
    )


def _versions(dump: dict[str, Any]) -> set[tuple[str, str]]:
    """The values that a phone shows: the change that wrote each, and its field."""
    return {(by[2], field) for row in dump["record"] for field, by in row["versions"].items()}


def _forgotten(world: World, log: list[dict], dumps: dict[str, Any]) -> list[str]:
    """What a phone shows, or a rescued one showed, is in the log, whole or restated."""
    logged = {(entry["id"], field) for entry in log for field in entry["set"]}
    must = world.rescued_values.union(*map(_versions, dumps.values()))
    return [f"shown on a phone and lost: {one}" for one in sorted(must - logged)]


def _is_of(entry: dict, kept: Any) -> bool:
    same = (entry["table"], entry["key"]) == (kept.table, kept.key)
    return same and {f: oracle.text(v) for f, v in entry["set"].items()} == {
        f: oracle.text(v) for f, v in kept.values.items()
    }


def _order(log: list[dict], seen: dict) -> list[str]:
    return [f"{new} lost to {old}, which its author had seen" for old, new in
            oracle.out_of_order(log, seen)]  # fmt: skip


def _future(world: World, log: list[dict]) -> list[str]:
    """No clock makes an edit win for longer than the minutes that clocks may differ."""
    latest = max(world.clock.ms, world.clock.latest_ms) + FUTURE_MS
    late = [entry for entry in log if int(entry["stamp"][:12], 16) > latest]
    return [f"wins for ever: {entry}" for entry in late]


Told = dict[tuple[str, str], dict[str, tuple[str, tuple[str, str, str]]]]


def _records(world: World, log: list[dict], dumps: dict[str, Any]) -> list[str]:
    """Server and phones hold what the log comes to, values and versions."""
    right: Told = {}
    for (table, key, field), entry in oracle.winners(log).items():
        told = oracle.text(entry["set"][field]), oracle.rank(entry)
        right.setdefault((table, key), {})[field] = told
    states = world.server.states(world.boat, set(right))
    server: Told = {
        name: {
            field: (oracle.text(value), _version(state.versions[field]))
            for field, value in state.values.items()
        }
        for name, state in states.items()
    }
    wrong = _differences("server", right, server)
    for name, dump in dumps.items():
        phone: Told = {
            (row["table"], row["key"]): {
                field: (oracle.text(value), tuple(row["versions"][field]))
                for field, value in row["values"].items()
            }
            for row in dump["record"]
        }
        wrong += _differences(f"phone {name}", right, phone)
        wrong += _in_memory(name, right, dump)
    return wrong


def _version(version: Any) -> tuple[str, str, str]:
    return version.stamp, version.device, version.change


def _differences(who: str, right: Told, has: Told) -> list[str]:
    return [
        f"{who} has {name} = {has.get(name)}, should be {right.get(name)}"
        for name in sorted(right.keys() | has.keys())
        if right.get(name) != has.get(name)
    ]


def _in_memory(phone: str, right: Told, dump: dict[str, Any]) -> list[str]:
    """The screens of a phone read from memory; it holds what isn't in the bin, and no more."""
    out = {
        f"{table}/{key}"
        for (table, key), fields in right.items()
        if table in ("item", "tag", "note", "place") and not _binned(fields)
    }
    has = set(dump["inMemory"])
    return [] if has == out else [f"phone {phone} shows {sorted(has)}, should be {sorted(out)}"]


def _binned(fields: dict[str, tuple[str, tuple[str, str, str]]]) -> bool:
    value, rank = fields.get("binned", ("false", ("", "", "")))
    return value == "true" and all(other <= rank for _, other in fields.values())


def _any_order(world: World, log: list[dict], phones: list[SimPhone]) -> list[str]:
    """The phone's own merge comes to the same record whatever the order and repetition."""
    if not phones or not log:
        return []
    sizes: dict[tuple[str, str], list[dict]] = {}
    for entry in log:
        sizes.setdefault((entry["table"], entry["key"]), []).append(entry)
    name, changes = max(sizes.items(), key=lambda one: len(one[1]))
    mixed = [*changes, *changes[:2]]
    Random(world.schedule.seed).shuffle(mixed)
    state = world.result(world.do(phones[0], "fold", {"changes": mixed}))
    right = {
        field: [oracle.text(entry["set"][field]), *oracle.rank(entry)]
        for (table, key, field), entry in oracle.winners(map(oracle.merging, changes)).items()
    }
    got = {
        field: [oracle.text(value), *state["versions"][field]]
        for field, value in state["values"].items()
    }
    return [] if got == right else [f"merging {name} in another order gives {got}, not {right}"]


def _clashes(world: World, log: list[dict], seen: dict) -> list[str]:
    rows = world.server.clash_rows(world.boat)
    listed: dict[tuple, list[dict]] = {}
    for row in rows:
        pair = frozenset({row[side]["version"]["change"] for side in ("kept", "lost")})
        name = (row["table_name"], row["key"], row["field"])
        listed.setdefault((name, pair), []).append(row)
        listed.setdefault((name, row["cursor"]), []).append(row)
    wanted = oracle.unseen_overwrites(log, seen)
    world.counts.clashes += len(wanted)
    wrong = []
    for one in wanted:
        found = listed.get((one.field, one.changes), [])
        if not found:
            wrong.append(f"overwritten unseen, not listed: {one}")
        elif not oracle.is_settled(one, log, seen) and all(
            row["settled_cursor"] is not None for row in found
        ):
            wrong.append(f"settled by nobody who had seen it: {one}")
        elif {oracle.text(row[side]["value"]) for row in found for side in ("kept", "lost")} != {
            oracle.text(entry["set"][one.field[2]]) for entry in log if entry["id"] in one.changes
        }:
            wrong.append(f"listed with other values than were written: {one} {found}")
    for one in oracle.unseen_binnings(log, seen):
        if (one.field, one.cursor) not in listed:
            wrong.append(f"binned beside unseen work, not listed: {one}")
    if world.counts.restores == 0:
        right = {(one.field, one.changes) for one in wanted}
        wrong += [
            f"listed, though nothing was overwritten unseen: {row}"
            for name, found in listed.items()
            if isinstance(name[1], frozenset) and name[0][2] != "binned" and name not in right
            for row in found
        ]
    return wrong


def _photos(world: World, dumps: dict[str, Any]) -> list[str]:
    wrong = []
    held = {sha256 for dump in dumps.values() for sha256 in dump["photo"]}
    must = world.link.photos | (world.photos_before_restore & held) | world.rescued_photos
    for handset, sha256 in world.kept_photos:
        if not handset.overboard and sha256 not in world.photos_before_restore:
            must.add(sha256)
    for sha256 in sorted(must):
        status, body = world.owner.call("GET", f"/api/photos/{sha256}/original")
        whole = status == 200 and hashlib.sha256(body).hexdigest() == sha256
        if not whole:
            wrong.append(f"photograph {sha256} was kept and is not on the server")
        status, _ = world.owner.call("GET", f"/api/photos/{sha256}/thumbnail")
        if status != 200 or world.server.has_preview(sha256):
            wrong.append(f"photograph {sha256} is not shown by the server's own thumbnail")
    world.counts.photos += len(must)
    return wrong
