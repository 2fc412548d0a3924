"""With no signal: orders and hours that can't be are refused in words, and what was typed stays."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable

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
    phone.online()
    phone.wait_until_sent()


def made(phone: Phone, name: str) -> str:
    """A compartment, by its key."""
    phone.open("/compartments")
    phone.page.get_by_label("Add a compartment").fill(name)
    phone.button(re.compile("^Add$")).click()
    phone.page.get_by_role("link", name=re.compile(name)).wait_for()
    return str(phone.stored_records("compartment")[0]["key"])


def order(page: Page, side: str, other: str) -> None:
    page.get_by_role("button", name=re.compile(f"^{side}$")).click()
    page.get_by_role("dialog").get_by_role("button", name=re.compile(other)).click()
