"""Two phones that had not seen each other's work: every disagreement is shown and settled."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Playwright, expect

from browser.conftest import phones
from browser.judge import judge
from browser.phone import Phone, Shed

Pair = tuple[Phone, Phone]


@pytest.fixture(scope="module")
def pair(
    playwright: Playwright, shed: Shed, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Pair]:
    """The phones "M" and "T", paired, on the same boat, ready for use with no signal."""
    with phones(playwright, tmp_path_factory.mktemp("phones")) as open_one:
        m = open_one("M", shed).pair()
        m.begin_boat("Corncrake")
        m.reserve()
        m.wait_until_sent()
        t = open_one("T", shed).pair()
        t.reserve()
        for phone in (m, t):
            phone.ready_for_offline()
        yield m, t


def exchange(*phones: Phone) -> None:
    """Bring all phones on line, and let each send and then receive what the others sent."""
    for phone in phones:
        phone.online()
    # Each sends before it receives, so the last one needs no second turn.
    for phone in (*phones, *phones[:-1]):
        before = phone.synced_at()
        phone.open("/kept")
        phone.until(
            lambda phone=phone, before=before: phone.synced_at() > before,  # type: ignore[misc]
            "sending and receiving did not come to an end",
        )


def common_item(first: Phone, *others: Phone) -> str:
    """A new item that all these phones have; its key."""
    known = {row["key"] for row in first.items()}
    first.open("/").take_out("Worn")
    (key,) = {row["key"] for row in first.items()} - known
    exchange(first, *others)
    for phone in others:
        assert key in {row["key"] for row in phone.items()}
    return str(key)


def part(*phones: Phone) -> None:
    """Into the shed: no phone hears of another."""
    for phone in phones:
        phone.offline()


def set_condition(phone: Phone, item: str, word: str) -> None:
    phone.open(f"/item/{item}/edit").page.get_by_role("radio", name=word).click()
    expect(phone.page.get_by_text("Kept on this phone")).to_be_visible()


def condition(phone: Phone, item: str) -> str:
    (found,) = (row["values"]["condition"] for row in phone.items() if row["key"] == item)
    return str(found)


def clashes(phone: Phone) -> list[dict[str, object]]:
    return list(
        phone.page.evaluate("b => fetch(`/api/boats/${b}/clashes`).then(a => a.json())", phone.boat)
    )


def test_a_phone_says_what_is_here_only_on_the_server_and_on_a_second_phone(pair: Pair) -> None:
    m, t = pair
    exchange(m)
    where = m.page.locator("dl", has=m.page.get_by_text("Second phone", exact=True))
    expect(where).to_contain_text("every edit, on T")
    expect(m.page.get_by_role("status").first).to_have_text("All on the server and a second phone")
    part(m, t)
    m.open("/").take_out("Worn")
    m.open("/kept")
    expect(where).to_contain_text("not all yet")
    expect(where).to_contain_text(re.compile("Here only.*1 photo"))
    exchange(m)
    expect(m.page.get_by_role("status").first).to_have_text("All on the server")
    expect(where).to_contain_text("not all yet; T has most")


def test_a_clash_shows_on_both_phones_and_one_tap_settles_it_for_both(pair: Pair) -> None:
    m, t = pair
    item = common_item(m, t)
    part(m, t)
    set_condition(m, item, "Sound")
    set_condition(t, item, "Failed")
    exchange(m, t)
    assert condition(m, item) == condition(t, item) == "failed"
    for phone in (m, t):
        phone.open("/boat").page.get_by_role("link", name="1 clash to settle").click()
        shown = phone.page.get_by_role("main")
        expect(shown).to_contain_text("Condition")
        expect(shown.get_by_role("button", name=re.compile("Sound"))).to_be_visible()
        expect(shown.get_by_role("button", name=re.compile("Failed"))).to_be_visible()
    expect(t.button(re.compile("Sound"))).to_contain_text("M, ")
    expect(t.button(re.compile("Failed"))).to_contain_text("This phone, ")

    t.button(re.compile("Sound")).click()
    expect(t.page.get_by_text("Nothing to settle")).to_be_visible()
    exchange(t, m)
    assert condition(m, item) == condition(t, item) == "sound"
    assert clashes(m) == []
    expect(m.open("/clashes").page.get_by_text("Nothing to settle")).to_be_visible()


def test_one_tag_on_two_items_goes_to_the_chosen_one_and_the_other_gets_the_next(
    pair: Pair,
) -> None:
    m, t = pair
    exchange(m, t)
    code = m.reserve()[0]
    known = {row["key"] for row in m.items()}
    part(m, t)
    m.open("/").take_out("Worn")
    t.open("/").type_next_tag(code)
    t.take_out("Sound")
    exchange(m, t)
    (mine,) = {row["key"] for row in m.items() if row["values"].get("condition") == "worn"} - known
    (theirs,) = {row["key"] for row in m.items()} - known - {mine}

    m.open("/clashes")
    hangs = m.button(re.compile("hangs on this"))
    expect(hangs).to_have_count(2)
    assert judge(m.page) == []
    expect(m.page.get_by_role("main")).to_contain_text(f"{code[:3]}-{code[3:]}")
    # T was later, so T's item has the tag for now and stands first; M looks, and it is on M's own.
    hangs.nth(1).click()
    m.button(re.compile("Give it the next tag")).click()
    exchange(m, t)
    for phone in (m, t):
        tags = {row["values"]["on"]: row["key"] for row in phone.stored_records("tag")}
        assert tags[f"item/{mine}"] == code
        assert tags[f"item/{theirs}"] != code
    assert clashes(t) == []


def test_an_item_binned_here_and_worked_on_there_is_kept_or_binned_by_one_tap(pair: Pair) -> None:
    m, t = pair
    item = common_item(m, t)
    part(m, t)
    set_condition(t, item, "Failed")
    m.open(f"/item/{item}/edit").button("Put in the bin").click()
    expect(m.button(re.compile("^Take back out")).first).to_be_visible()
    exchange(m, t)
    t.open("/clashes")
    expect(t.button(re.compile("Put in the bin"))).to_contain_text("M, ")
    keep = t.button(re.compile("Keep it"))
    assert judge(t.page) == []
    expect(keep).to_contain_text("Condition: failed")
    keep.click()
    exchange(t, m)
    for phone in (m, t):
        phone.open(f"/item/{item}")
        expect(phone.page.get_by_role("heading", name="History")).to_be_visible()
    assert clashes(m) == []


def test_any_change_can_be_undone_and_the_undoing_too(pair: Pair) -> None:
    m, _ = pair
    item = common_item(m)
    set_condition(m, item, "Failed")
    m.open(f"/item/{item}").button("Undo this: Condition: failed").click()
    m.until(lambda: condition(m, item) == "worn", "the change was not undone")
    m.button("Undo this: Condition: worn").first.click()
    m.until(lambda: condition(m, item) == "failed", "the undoing was not undone")


def test_what_is_in_the_bin_is_seen_and_taken_back_out_by_one_tap(pair: Pair) -> None:
    m, t = pair
    item = common_item(m, t)
    m.open(f"/item/{item}/edit").button("Put in the bin").click()
    expect(m.button(re.compile("^Take back out")).first).to_be_visible()
    exchange(m, t)
    t.open("/boat").page.get_by_role("link", name="The bin").click()
    assert judge(t.page) == []
    row = t.page.get_by_role("listitem").filter(has_text=", M").first
    row.get_by_role("button", name=re.compile("Take back out")).click()
    expect(t.page.get_by_role("status").filter(has_text="is out of the bin")).to_be_visible()
    exchange(t, m)
    m.open(f"/item/{item}")
    expect(m.page.get_by_role("link", name="Fill in", exact=True)).to_be_visible()


def test_a_shut_out_phone_keeps_its_work_and_an_owner_brings_it_in_by_a_file(
    pair: Pair, tmp_path: Path
) -> None:
    m, t = pair
    exchange(m, t)
    known = {row["key"] for row in m.items()}
    m.open("/devices").button("Shut out T").click()
    m.button("Shut T out").click()
    expect(m.page.get_by_role("heading", name="Shut out", exact=True)).to_be_visible()
    t.offline()
    t.open("/").take_out("Serviceable")
    (item,) = {row["key"] for row in t.items()} - known
    t.online()
    t.open("/kept")
    expect(t.page.get_by_role("alert")).to_contain_text("no longer knows this phone")
    assert judge(t.page) == []
    assert item in {row["key"] for row in t.items()}
    with t.page.expect_download() as given:
        t.button("Save this phone's work as a file").click()
    file = tmp_path / given.value.suggested_filename
    given.value.save_as(file)
    assert file.suffix == ".zip"

    m.open("/devices").page.get_by_label("Rescue file of a phone").set_input_files(file)
    brought = m.page.get_by_role("status").filter(has_text="New on the server")
    expect(brought).to_be_visible()
    m.until(lambda: item in {row["key"] for row in m.items()}, "the rescued item did not arrive")
    (photo,) = (
        row["values"]["sha256"]
        for row in m.stored_records("photo")
        if row["values"]["of"] == f"item/{item}"
    )
    assert m.digest_of(f"/api/photos/{photo}")["digest"] == photo
