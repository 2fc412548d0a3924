"""The main job with the server dead, in the two engines that phones have besides Chromium's."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from pathlib import Path

import pytest

from engines.engine import Engine
from engines.firefox import Firefox
from engines.person import NOTE, Person, link
from engines.second_device import SecondDevice
from real_server import RealServer

PHOTOGRAPHS = Path(__file__).parents[2] / "fixtures" / "photographs"
ITEMS = {
    "Worn": PHOTOGRAPHS / "brushes-progressive.jpg",
    "Sound": PHOTOGRAPHS / "mountains-turned-with-position.jpg",
    "Failed": PHOTOGRAPHS / "fig-photo.png",
}


# Each transaction of the page goes on for longer than any test waits, as on a very slow phone.
NEVER_DONE = """
async () => {
  const begin = IDBDatabase.prototype.transaction;
  IDBDatabase.prototype.transaction = function (...how) {
    const tx = begin.apply(this, how);
    const store = tx.objectStore(tx.objectStoreNames[0]);
    const again = () => { store.count().onsuccess = again; };
    again();
    return tx;
  };
  dispatchEvent(new Event("online"));
  await new Promise((go) => setTimeout(go, 500));
}
"""
BOTH = pytest.mark.parametrize("engine", ["webkit", "firefox"], indirect=True)


def paired(engine: Engine, server: RealServer) -> Person:
    person = Person(engine, server)
    person.pair("M")
    person.begin_boat("Corncrake")
    person.ready_for_offline()
    return person


def take_all_out(person: Person) -> dict[str, str]:
    """The tag of each item, by the condition that it was given."""
    codes = {name: person.take_out(name, picture) for name, picture in ITEMS.items()}
    assert len(set(codes.values())) == 3
    photos = person.stored("photo")
    assert all(row["sha256"] == row["digest"] for row in photos)
    # The type that is kept must be the true one: engines may write another than asked for.
    assert {row["type"] for row in photos} == {"image/jpeg"}
    return codes


def assert_all_arrived(person: Person, server: RealServer) -> None:
    """The server's disk and a second device have what the phone has, byte for byte."""
    second = SecondDevice(server)
    digests = [row["sha256"] for row in person.stored("photo")]
    assert len(digests) == 3
    for digest in digests:
        assert hashlib.sha256(server.photo(digest)).hexdigest() == digest
        assert hashlib.sha256(second.photo(digest)).hexdigest() == digest
    rows = person.stored("record")
    mine = {(row["table"], row["key"]): row["values"] for row in rows}
    assert second.records(rows[0]["boat"]) == mine
    conditions = {row["values"]["condition"] for row in rows if row["table"] == "item"}
    assert conditions == {"worn", "sound", "failed"}


@BOTH
def test_three_items_taken_out_with_the_server_dead_reach_it_whole(
    engine: Engine, server: RealServer
) -> None:
    person = paired(engine, server)
    server.kill()
    codes = take_all_out(person)
    engine.reload()
    for condition in ("Worn", "Failed"):
        assert condition in person.find(codes[condition])
    assert len(person.stored("photo_outbox")) == 3

    server.start()
    person.send_now()
    person.until(person.is_sent, "some work is still on this phone only")
    assert_all_arrived(person, server)


def test_firefox_killed_and_opened_again_offline_has_everything_and_sends_it(
    open_firefox: Callable[[], Firefox], server: RealServer
) -> None:
    engine = open_firefox()
    person = paired(engine, server)
    server.kill()
    codes = take_all_out(person)
    engine.kill()

    person = Person(open_firefox(), server)
    person.open()
    assert "Sound" in person.find(codes["Sound"])
    assert len(person.items()) == 3
    server.start()
    person.send_now()
    person.until(person.is_sent, "some work is still on this phone only")
    assert_all_arrived(person, server)


@BOTH
def test_what_was_typed_is_kept_though_the_field_was_never_left(
    engine: Engine, server: RealServer
) -> None:
    """No blur comes before the tap: the window of the Firefox here is never in front."""
    person = paired(engine, server)
    person.take_out("Sound", ITEMS["Sound"])
    person.press(link("Fill in"))
    person.type(NOTE, "seized, soak it first")
    person.press(link("Find"))
    person.until(
        lambda: person.items()[0]["values"].get("note") == "seized, soak it first",
        "what was typed is gone",
    )


@BOTH
def test_page_left_while_it_used_the_storage_locks_nothing_for_the_next(
    engine: Engine, server: RealServer
) -> None:
    """WebKit lets a page sleep with its transactions open, and the next one waited for ever."""
    person = paired(engine, server)
    # From one address to another: the same one again would be a reload, which no page survives.
    person.open("/kept")
    engine.ask(NEVER_DONE)
    person.open()
    person.take_out("Sound", ITEMS["Sound"])
    person.send_now()
    person.until(person.is_sent, "some work is still on this phone only")
    assert len(person.items()) == 1
