"""Before work begins, with no signal: compartments, items by taps, an order, a job, hours."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

from playwright.sync_api import expect

from browser.judge import judge
from browser.phone import Phone, Shed

PICTURE = Path(__file__).parents[2] / "fixtures" / "demo" / "photographs" / "cooker-1.jpg"


def test_a_boat_is_walked_round_and_its_work_ordered_offline(
    shed: Shed, open_phone: Callable[..., Phone]
) -> None:
    phone = open_phone("M", shed).pair()
    phone.begin_boat("Corncrake")
    phone.wait_until_sent()
    phone.ready_for_offline()
    phone.offline()
    page = phone.page

    phone.open("/walk-round")
    page.get_by_role("button", name=re.compile("Sailing cruiser")).click()
    struck = page.get_by_role("button", name=re.compile("^Side decks"))
    struck.click()
    expect(struck).to_have_attribute("aria-pressed", "false")
    phone.button(re.compile("^Make [0-9]+ compartments$")).click()
    page.get_by_role("link", name=re.compile("^Foredeck")).click()
    names = [row["values"]["name"] for row in phone.stored_records("compartment")]
    assert "Foredeck" in names
    assert "Side decks" not in names
    assert phone.stored_records("item") == []

    for kind in ("anchor windlass", "anchor", "cleat", "cleat"):
        button = page.locator(".walk-kind").filter(
            has_text=re.compile(f"^{kind}(usually|[0-9])", re.I)
        )
        button.click()
        expect(page.locator(".walk-last")).to_contain_text(re.compile(kind, re.I))
    listed = {r["values"]["kind"]: r for r in phone.stored_records("item")}
    assert sorted(listed) == ["anchor", "cleat", "windlass"]
    assert listed["cleat"]["values"]["count"] == 2
    phone.button("Undo").click()
    expect(page.get_by_text("2 listed")).to_have_count(0)

    windlass, anchor = listed["windlass"]["key"], listed["anchor"]["key"]
    phone.open(f"/item/{windlass}")
    phone.button("What must come first").click()
    page.get_by_role("dialog").get_by_role(
        "button", name=re.compile("^Anchor(?! windlass)", re.I)
    ).first.click()
    expect(page.get_by_text("kept on this phone").first).to_be_visible()
    phone.open(f"/item/{anchor}")
    phone.button("What must come first").click()
    page.get_by_role("dialog").get_by_role(
        "button", name=re.compile("^Anchor windlass", re.I)
    ).click()
    expect(page.get_by_role("alert")).to_contain_text(
        re.compile("anchor windlass before anchor before anchor windlass", re.I)
    )
    assert len(phone.stored_records("before")) == 1

    phone.open("/jobs/new?safe=fuel")
    phone.button("Write it down").click()
    phone.button("Done today").click()
    expect(page.get_by_text(re.compile("^Done "))).to_be_visible()
    phone.open("/jobs")
    page.get_by_label("Or another number").fill("25")
    phone.button("Keep these hours").click()
    expect(page.get_by_role("alert")).to_contain_text("24 hours")
    expect(page.get_by_label("Or another number")).to_have_value("25")
    page.get_by_label("Or another number").fill("4")
    phone.button("Keep these hours").click()
    expect(page.get_by_role("status").filter(has_text="4 h, 2 people")).to_be_visible()
    assert len(phone.stored_records("work")) == 1

    phone.online()
    phone.wait_until_sent()


def test_items_are_pinned_on_a_photograph_offline(
    shed: Shed, open_phone: Callable[..., Phone]
) -> None:
    """Shot, tapped, named by one tap; moved, removed and undone, by finger and by keys."""
    phone = open_phone("T", shed).pair().open("/new-boat")
    phone.begin_boat("Sedge")
    phone.wait_until_sent()
    phone.ready_for_offline()
    phone.offline()
    page = phone.page
    phone.open("/walk-round")
    page.get_by_role("button", name=re.compile("Small day boat")).click()
    listing = phone.page.get_by_label("List what is usual there too")
    listing.click()
    phone.button(re.compile("^Make 10 compartments$")).click()
    page.get_by_role("link", name=re.compile("^Cuddy")).click()
    assert {"item", "before"} <= {row["table"] for row in phone.stored("record")}
    (sedge,) = [
        row["values"]
        for row in phone.stored_records("boat")
        if row["values"].get("name") == "Sedge"
    ]
    assert sedge["survey"] == "day-boat"

    page.locator("input[type=file]").set_input_files(PICTURE)
    picture = phone.button(re.compile("^Photograph of Cuddy"))
    picture.click(position={"x": 60, "y": 90})
    sheet = page.get_by_role("dialog")
    expect(sheet.get_by_role("heading", name="Listed here, not pinned yet")).to_be_visible()
    sheet.get_by_role("button", name=re.compile("hatch", re.I)).first.click()
    expect(page.get_by_text("pinned, kept on this phone")).to_be_visible()
    picture.focus()
    page.keyboard.press("Enter")
    new = sheet.locator("h3", has_text="New: usually here").locator("xpath=following-sibling::*[1]")
    new.get_by_role("button", name=re.compile("window|port", re.I)).first.click()
    expect(page.locator(".pin")).to_have_count(2)

    pins = sorted(phone.stored_records("pin"), key=lambda row: row["key"])
    assert [pins[1]["values"][way] for way in "xy"] == [0.5, 0.5]
    wide = picture.bounding_box() or {}
    assert abs(pins[0]["values"]["x"] - 60 / wide["width"]) < 0.01
    page.get_by_role("button", name=re.compile("^Change pin 2")).click()
    phone.button("Right").click()
    expect(page.locator(".pin-marked")).to_have_attribute("style", re.compile("left: ?52%"))
    phone.button(re.compile("^Photograph: tap where the chosen")).click(
        position={"x": 200, "y": 150}
    )
    phone.until(
        lambda: any(row["values"]["y"] > 0.5 for row in phone.stored_records("pin")),
        "the pin did not move",
    )
    phone.button(re.compile("^Remove this pin")).click()
    expect(page.locator(".pin")).to_have_count(1)
    assert judge(page) == []

    page.locator(".pin-open a").click()
    expect(page.get_by_role("img", name=re.compile("hatch pinned: left, ", re.I))).to_be_visible()
    phone.online()
    phone.wait_until_sent()
