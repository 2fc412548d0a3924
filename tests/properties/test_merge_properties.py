"""Whatever the order, repetition or batching of changes, everybody ends with the same records."""

from __future__ import annotations

import json
import uuid
from collections.abc import Iterator

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shedtally.app import create_app
from shedtally.domain.sync import merge, stamp
from shedtally.domain.sync.change import Change, parse
from shedtally.domain.sync.clash import Clash, Side
from shedtally.domain.sync.packing import unpacked
from shedtally.rules.load import load
from shedtally.settings import Settings
from shedtally.storage.tables import db
from shedtally.storage.unit_of_work import reading, writing
from shedtally.usecases.receive_changes import receive_changes
from shedtally.usecases.send_changes import Mark, send_changes
from shedtally.usecases.send_snapshot import send_snapshot

NOW_MS = 1_777_919_400_000
DEVICES = [f"{n:08x}-0000-4000-8000-000000000000" for n in range(3)]
FIELDS = ["name", "note", "fate", "binned", "unknown"]
KEYS = ["a", "b"]

values = st.dictionaries(
    st.sampled_from(FIELDS), st.none() | st.booleans() | st.integers(-2, 2), min_size=1
)


def field_values(drawn: dict) -> dict:
    """Drawn values made fit for their fields."""
    fates = ["renew", "scrap"]
    made = {
        "name": lambda value: f"name {value}",
        "note": lambda value: None if value is None else f"note {value}",
        "fate": lambda value: None if value is None else fates[int(value) % 2],
        "binned": bool,
        "unknown": lambda value: value,
    }
    return {field: made[field](value) for field, value in drawn.items()}


@st.composite
def changes(draw: st.DrawFn, keys: list[str] = KEYS[:1]) -> list[Change]:
    """Changes by several devices, with stamps that often meet and some from the future."""
    made = []
    for number in range(draw(st.integers(1, 8))):
        device = draw(st.sampled_from(DEVICES))
        ms = NOW_MS + draw(st.sampled_from([-2, -1, -1, 0, 10**12]))
        sent = {
            "id": str(uuid.UUID(int=draw(st.integers(0, 3)) * 1000 + number)),
            "device": device,
            "seq": number + 1,
            "stamp": stamp.make(ms, draw(st.integers(0, 1))),
            "table": "item",
            "key": draw(st.sampled_from(keys)),
            "set": field_values(draw(values)),
            "base": 0,
        }
        made.append(parse(sent))
    return made


@given(changes(), st.randoms(use_true_random=False))
def test_any_order_and_repetition_gives_the_same_record(made: list[Change], chance) -> None:
    again = made + chance.choices(made, k=3)
    chance.shuffle(again)
    assert merge.replay(again) == merge.replay(made)


@given(changes(), st.integers(0, 8))
def test_record_may_be_merged_in_pieces(made: list[Change], cut: int) -> None:
    first = merge.replay(made[:cut])
    whole = first
    for change in made[cut:]:
        whole = merge.apply(whole, change)
    assert whole == merge.replay(made)


@given(changes())
def test_every_field_holds_the_value_of_its_greatest_version(made: list[Change]) -> None:
    state = merge.replay(made)
    for field in {field for change in made for field in change.values}:
        best = max(
            (change for change in made if field in change.values),
            key=lambda change: (change.stamp, change.device, change.id),
        )
        assert state.values[field] == best.values[field]
    assert state.values.keys() == state.versions.keys()


@given(changes())
def test_field_that_one_change_alone_wrote_is_never_lost(made: list[Change]) -> None:
    state = merge.replay(made)
    written = [field for change in made for field in change.values]
    for change in made:
        for field, value in change.values.items():
            if written.count(field) == 1:
                assert state.values[field] == value


@pytest.fixture(scope="module")
def app(tmp_path_factory) -> Iterator:
    made = create_app(Settings(tmp_path_factory.mktemp("data")), lambda: NOW_MS)
    with made.app_context():
        yield made
        db.engine.dispose()


def pushed(boat: str, batches: list[list[Change]]) -> None:
    for batch in batches:
        with writing() as uow:
            sent = [change.as_sent() for change in batch]
            receive_changes(
                uow, boat, sent, sent_by=DEVICES[0], schema=1, now_ms=NOW_MS, rules=load()
            )


def relabelled(made: list[Change], boat: str) -> list[Change]:
    """The same changes, in the same order of ids, as if made for this boat only."""
    return [
        parse(
            change.as_sent()
            | {"id": boat[:24] + change.id[24:], "device": boat[:28] + change.device[:8]}
        )
        for change in made
    ]


def new_boat() -> str:
    boat = str(uuid.uuid4())
    own = {
        "id": str(uuid.uuid4()), "device": str(uuid.uuid4()), "seq": 1, "stamp": stamp.FIRST,
        "table": "boat", "key": boat, "set": {"name": "Tern"}, "base": 0,
    }  # fmt: skip
    pushed(boat, [[parse(own)]])
    return boat


def server_states(boat: str) -> dict[str, merge.State]:
    with reading() as uow:
        found = uow.records(boat).states([("item", key) for key in KEYS])
    return {key: state for (_, key), state in found.items()}


def phone_states(boat: str, page: int) -> dict[str, merge.State]:
    """What a phone makes of everything it pulls, page by page."""
    states: dict[str, merge.State] = {}
    since, more = 0, True
    while more:
        with reading() as uow:
            got = send_changes(uow, boat, Mark(since), page)
        for entry in got.changes:
            if entry.change.table == "item":
                before = states.get(entry.change.key, merge.EMPTY)
                states[entry.change.key] = merge.apply(before, entry.change, entry.stamp)
        since, more = got.cursor, got.more
    return states


slow = settings(
    max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)


@slow
@given(changes(KEYS), st.integers(1, 4), st.integers(1, 5), st.randoms(use_true_random=False))
def test_server_and_phones_agree_however_the_changes_were_sent(app, made, size, page, chance):
    boat = new_boat()
    made = relabelled(made, boat)
    order = made + chance.choices(made, k=2)
    chance.shuffle(order)
    pushed(boat, [order[at : at + size] for at in range(0, len(order), size)])
    server, phone = server_states(boat), phone_states(boat, page)
    assert server == phone
    assert {key: merge.shown(state) for key, state in server.items()} == {
        key: merge.shown(state) for key, state in phone.items()
    }


@slow
@given(changes(KEYS), st.randoms(use_true_random=False))
def test_two_servers_that_got_believable_stamps_in_another_order_agree(app, made, chance) -> None:
    """Only stamps from the future depend on when they arrive; all others must not."""
    made = [one for one in made if not stamp.is_too_far_ahead(one.stamp, NOW_MS)]
    found = []
    for _ in range(2):
        boat = new_boat()
        order = relabelled(made, boat)
        chance.shuffle(order)
        pushed(boat, [order])
        found.append({key: _told(state) for key, state in server_states(boat).items()})
    assert found[0] == found[1]


def _told(state: merge.State) -> dict:
    """Each field with its value and who wrote it, without what differs from boat to boat."""
    return {
        field: (value, state.versions[field].stamp, state.versions[field].change[24:])
        for field, value in state.values.items()
    }


@slow
@given(changes(KEYS), st.integers(1, 4))
def test_no_value_vanishes_without_being_listed(app, made, size) -> None:
    """Every value sent stands, is in a clash, or was changed by somebody who had set it himself."""
    boat = new_boat()
    made = relabelled(made, boat)
    pushed(boat, [made[at : at + size] for at in range(0, len(made), size)])
    states = server_states(boat)
    with reading() as uow:
        listed = uow.clashes(boat).open()
    told = {(one.key, one.field, repr(side.value)) for one in listed for side in _sides(one)}
    for change in made:
        for field, value in change.values.items():
            state = states[change.key]
            author = state.versions[field].device
            knew = {
                repr(one.values[field])
                for one in made
                if one.device == author and one.key == change.key and field in one.values
            }
            assert repr(value) in knew or (change.key, field, repr(value)) in told


def _sides(clash: Clash) -> tuple[Side, Side]:
    return clash.kept, clash.lost


@slow
@given(changes(KEYS))
def test_cursors_have_no_gap_and_repeating_everything_adds_nothing(app, made) -> None:
    boat = new_boat()
    made = relabelled(made, boat)
    pushed(boat, [made, made, made[::-1]])
    with reading() as uow:
        got = send_changes(uow, boat, Mark(0), 100)
    assert [entry.cursor for entry in got.changes] == list(range(1, len(made) + 2))


@slow
@given(changes(KEYS), st.integers(1, 2), st.randoms(use_true_random=False))
def test_snapshot_and_the_pull_after_it_make_what_the_whole_log_makes(app, made, limit, chance):
    """Also where others write between its pages."""
    boat = new_boat()
    waiting = relabelled(made, boat)
    # First one change of each record, so that most of the others come after its page was read.
    known = [next((one for one in waiting if one.key == key), None) for key in KEYS]
    pushed(boat, [[one for one in known if one]])
    waiting = [one for one in waiting if one not in known]
    chance.shuffle(waiting)
    states: dict[str, merge.State] = {}
    first, after, more = 0, None, True
    while more:
        with reading() as uow:
            page = send_snapshot(uow, boat, after, limit)
        for table, key, values, by in page.records:
            if table == "item":
                read = json.loads(values)
                states[key] = merge.State(read, unpacked(json.loads(by), read))
        first = first or page.cursor
        after, more = page.records[-1][:2], page.more
        pushed(boat, [waiting[:1]])
        waiting = waiting[1:]
    pushed(boat, [waiting])
    with reading() as uow:
        later = send_changes(uow, boat, Mark(first), 1000).changes
    for entry in later:
        key = entry.change.key
        before = states.get(key, merge.EMPTY)
        if entry.change.table == "item":
            states[key] = merge.apply(before, entry.change, entry.stamp)
    assert states == phone_states(boat, 100)
