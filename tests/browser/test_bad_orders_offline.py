"""With no signal: orders and hours that can't be are refused in words, and what was typed stays."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable
from typing import Any

from playwright.sync_api import Page, expect

from browser.phone import Phone, Shed


def test_rings_and_hours_to_come_are_refused_and_a_reason_is_kept(
    shed: Shed, open_phone: Callable[..., Phone]
) -> None:
    phone = open_phone("M", shed).pair()
    phone.begin_boat("Corncrake")
    phone.wait_until_sent()
    phone.ready_for_offline()
    phone.offline()
    page = phone.page
    bilge = made(phone, "Bilge")
    phone.open(f"/compartments/{bilge}")
    page.get_by_label("List an item that is still here").fill("Water tank")
    phone.button(re.compile("^Add$")).last.click()
    page.get_by_role("link", name=re.compile("Water tank")).wait_for()
    phone.open("/jobs/new")
    phone.button("Scrape").click()
    page.get_by_role("heading", name="Scrape").wait_for()
    scrape = page.url.rsplit("/", maxsplit=1)[-1]

    # Scrape before the way into the bilge is right; then the tank in it can't come before.
    order(page, "What waits for it", "^Bilge")
    expect(page.get_by_role("status").filter(has_text="kept on this phone")).to_be_visible()
    # Said the same way round as on the button: Bilge waits, and nothing must come first.
    expect(page.get_by_role("heading", name="Waits for it")).to_be_visible()
    expect(page.get_by_role("heading", name="Must come first")).to_have_count(0)
    page.get_by_role("button", name=re.compile("^What must come first$")).click()
    page.get_by_role("dialog").get_by_role("button", name=re.compile("Water tank")).click()
    refused = page.get_by_role("dialog").get_by_role("alert")
    expect(refused).to_contain_text("would close a ring")
    expect(refused).to_contain_text("way into Bilge before Water tank")
    assert len(phone.stored_records("before")) == 1
    page.get_by_role("button", name="Close").click()

    page.get_by_role("button", name=re.compile("^Why: Scrape before Bilge")).click()
    page.get_by_label("Why this order stands").fill("Old paint falls into it")
    page.get_by_label("Why this order stands").press("Tab")
    expect(page.get_by_role("link", name=re.compile("Old paint falls into it"))).to_be_visible()

    phone.open("/jobs")
    page.get_by_text("Another day, a job, a place").click()
    ahead = (dt.date.today() + dt.timedelta(days=3)).isoformat()  # noqa: DTZ011
    page.get_by_label("Day", exact=True).fill(ahead)
    page.get_by_label("Job", exact=True).select_option(scrape)
    phone.button("Keep these hours").click()
    expect(page.get_by_role("alert")).to_contain_text("still to come")
    expect(page.get_by_label("Day", exact=True)).to_have_value(ahead)
    page.get_by_label("Day", exact=True).fill("2026-01-05")
    phone.button("Keep these hours").click()
    expect(page.get_by_role("status").filter(has_text="kept on this phone")).to_be_visible()
    (work,) = phone.stored_records("work")
    assert work["values"]["on"] == "2026-01-05"
    assert work["values"]["job"] == scrape
    older_hours_and_a_mistaken_job(phone, scrape)
    phone.online()
    phone.wait_until_sent()


def older_hours_and_a_mistaken_job(phone: Phone, job: str) -> None:
    """What is older than the last eight entries, and the way to be rid of a job, are in reach."""
    page = phone.page
    for _ in range(8):
        phone.button("Keep these hours").click()
    phone.until(lambda: len(phone.stored_records("work")) == 9, "hours were not kept")
    page.get_by_text("1 earlier", exact=True).click()
    expect(page.get_by_role("button", name=re.compile("^Into the bin: "))).to_have_count(9)

    # A job begun by mistake goes, and its order is put aside as one that holds nothing back.
    phone.open("/orders")
    expect(page.get_by_role("link", name=re.compile("^Scrape"))).to_be_visible()
    phone.open(f"/jobs/{job}").button("Put in the bin").click()
    expect(page.get_by_text("No job is open.")).to_be_visible()
    phone.open("/orders")
    expect(page.get_by_text("1 order holds nothing back any more")).to_be_visible()


def test_what_would_lie_under_its_own_child_and_orders_on_what_has_gone_are_refused_in_words(
    shed: Shed, open_phone: Callable[..., Phone]
) -> None:
    phone = open_phone("T", shed).pair()
    phone.begin_boat("Second boat") if not phone.has_boat() else None
    phone.wait_until_sent()
    phone.ready_for_offline()
    phone.offline()
    page = phone.page
    cabin = made(phone, "After cabin")
    locker = made(phone, "Lamp locker")
    phone.open(f"/compartments/{locker}")
    page.get_by_role("button", name=re.compile("Move")).click()
    page.get_by_role("dialog").get_by_role("button", name=re.compile("^After cabin")).click()
    expect(page.get_by_role("button", name=re.compile("After cabin.*Move"))).to_be_visible()

    phone.open(f"/compartments/{cabin}")
    page.get_by_role("button", name=re.compile("Move")).click()
    dialog = page.get_by_role("dialog")
    expect(dialog.get_by_role("button", name=re.compile("Lamp locker"))).to_have_count(0)
    dialog.get_by_role("searchbox").fill("lamp")
    expect(dialog.get_by_role("status")).to_have_text(
        "After cabin can't lie in Lamp locker, which lies in it. It stays where it was."
    )
    dialog.get_by_role("searchbox").fill("no such place")
    expect(dialog).to_contain_text("Nothing is called that.")
    page.get_by_role("button", name="Close").click()
    within = {
        row["key"]: row["values"].get("within") for row in phone.stored_records("compartment")
    }
    assert within[cabin] is None
    assert within[locker] == cabin

    # Two lamps, the first before the second; then the first is sold.
    phone.open(f"/compartments/{cabin}")
    for name in ("Brass lamp", "Oil lamp", "Wall bracket"):
        page.get_by_label("List an item that is still here").fill(name)
        phone.button(re.compile("^Add$")).last.click()
        page.get_by_role("link", name=re.compile(name)).wait_for()
    keys = {row["values"].get("name"): row["key"] for row in phone.items()}
    phone.open(f"/item/{keys['Brass lamp']}")
    order(page, "What waits for it", "Oil lamp")
    expect(page.get_by_role("status").filter(has_text="kept on this phone")).to_be_visible()
    phone.open(f"/item/{keys['Brass lamp']}/edit")
    page.get_by_role("radio", name=re.compile("^Gone")).tap()
    phone.until(
        lambda: any(row["values"].get("whereabouts") == "gone" for row in phone.items()),
        "the item was not kept as gone",
    )
    phone.open(f"/item/{keys['Oil lamp']}")
    expect(page.get_by_text("this order holds nothing back")).to_be_visible()

    phone.open(f"/item/{keys['Brass lamp']}")
    page.get_by_role("button", name=re.compile("^What waits for it$")).click()
    dialog.get_by_role("button", name=re.compile("Wall bracket")).click()
    expect(dialog.get_by_role("alert")).to_contain_text(
        "Brass lamp has gone, or is in the bin: an order on it would hold nothing back."
    )
    assert len([row for row in phone.stored_records("before") if _names(row, keys)]) == 1
    phone.online()
    phone.wait_until_sent()


def _names(row: dict[str, Any], keys: dict[str, str]) -> bool:
    """Whether an order is on one of the items."""
    named = {f"item/{key}" for key in keys.values()}
    return row["values"].get("first") in named or row["values"].get("then") in named


def made(phone: Phone, name: str) -> str:
    """A compartment, by its key."""
    phone.open("/compartments")
    phone.page.get_by_label("Add a compartment").fill(name)
    phone.button(re.compile("^Add$")).click()
    phone.page.get_by_role("link", name=re.compile(name)).wait_for()
    rows = phone.stored_records("compartment")
    return str(next(row["key"] for row in rows if row["values"].get("name") == name))


def order(page: Page, side: str, other: str) -> None:
    page.get_by_role("button", name=re.compile(f"^{side}$")).click()
    page.get_by_role("dialog").get_by_role("button", name=re.compile(other)).click()
