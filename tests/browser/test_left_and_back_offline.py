"""With no signal: what comes out opens the next at once, and what is back is ticked for good."""

from __future__ import annotations

import re
from collections.abc import Callable

from playwright.sync_api import expect

from browser.phone import Phone, Shed


def test_taking_out_shows_at_once_what_it_opens_and_a_tick_puts_it_back(
    shed: Shed, open_phone: Callable[..., Phone]
) -> None:
    phone = open_phone("M", shed).pair()
    phone.begin_boat("Corncrake")
    phone.wait_until_sent()
    phone.ready_for_offline()
    phone.offline()
    page = phone.page
    phone.open("/walk-round")
    page.get_by_role("button", name=re.compile("Small day boat")).click()
    phone.page.get_by_label("List what is usual there too").click()
    phone.button(re.compile("^Make 10 compartments$")).click()
    page.get_by_role("link", name=re.compile("^Cuddy")).wait_for()
    items = {row["values"]["kind"]: row["key"] for row in phone.stored_records("item")}

    phone.open("/left")
    under = page.locator("#group-" + _place(phone, "Cuddy"))
    under.locator("summary").click()
    boards = under.locator(".row, li").filter(has_text=re.compile("bunk", re.I)).first
    expect(boards).to_contain_text(re.compile("take out first: .*cushion", re.I))

    phone.open(f"/?item={items['cushion']}")
    before = len(phone.stored("photo_outbox"))
    phone.button("Photograph and keep").click()
    phone.until(lambda: len(phone.stored("photo_outbox")) > before, "it was not kept")
    phone.open("/left")
    under.locator("summary").click()
    expect(boards).not_to_contain_text(re.compile("take out first", re.I))
    expect(boards).to_contain_text(re.compile("ready", re.I))
    phone.online()
    phone.wait_until_sent()

    phone.open("/back")
    group = page.locator("details").filter(has_text="Cuddy")
    group.locator("summary").click()
    tick = page.get_by_role("button", name=re.compile("^Back in place: .*cushion", re.I))
    expect(tick).to_be_visible()
    phone.offline()
    tick.click()
    done = page.get_by_role("button", name=re.compile("^Not back: .*cushion", re.I))
    expect(done).to_have_attribute("aria-pressed", "true")
    phone.open("/back")
    group.locator("summary").click()
    expect(done).to_be_visible()
    values = {row["key"]: row["values"] for row in phone.stored_records("item")}
    assert values[items["cushion"]]["whereabouts"] == "aboard"
    assert values[items["cushion"]]["back_at"]
    phone.online()
    phone.wait_until_sent()


def _place(phone: Phone, name: str) -> str:
    rows = phone.stored_records("compartment")
    return next(str(row["key"]) for row in rows if row["values"]["name"] == name)
