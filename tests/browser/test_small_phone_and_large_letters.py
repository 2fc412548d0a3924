"""What a tired owner meets: the smallest phone, letters at twice their size, and own slips."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

from playwright.sync_api import Locator, expect

from browser.camera import cut_out, film, print_pages
from browser.judge import judge
from browser.phone import Phone, Shed

STARBOARD = "Under the fore berth, starboard"

# Whole letters in a box that hides what is too much for it.
WHOLE = (
    "(one) => one.scrollWidth <= one.clientWidth + 1 && one.scrollHeight <= one.clientHeight + 1"
)


def in_sight(phone: Phone, what: Locator) -> bool:
    """Whether all of it is on the screen, not under the bar at the bottom, and not cut off."""
    box = what.bounding_box() or {}
    size = phone.page.viewport_size or {}
    bar = phone.page.locator(".destinations").bounding_box() or {}
    lows = [bar["y"]]
    if what.locator("xpath=ancestor::*[@class='view']").count():
        view = phone.page.locator(".view").bounding_box() or {}
        lows.append(view["y"] + view["height"])
    across = box["x"] >= -1 and box["x"] + box["width"] <= size["width"] + 1
    return bool(across and box["y"] >= -1 and box["y"] + box["height"] <= min(lows) + 1)


def choose_compartment(phone: Phone, name: str) -> None:
    phone.page.get_by_role("button", name=re.compile("^Where it sits")).click()
    sheet = phone.page.get_by_role("dialog")
    sheet.get_by_label("Search or name a new one").fill(name)
    sheet.get_by_role("button", name=re.compile(f"^Add compartment .{name}")).click()
    expect(sheet).to_have_count(0)


def test_nothing_of_taking_out_is_cut_off_on_the_smallest_phone(
    shed: Shed, open_phone: Callable[..., Phone]
) -> None:
    phone = open_phone("M", shed).pair().open("/new-boat")
    phone.begin_boat("Teal")
    phone.wait_until_sent()
    phone.reserve()
    phone.page.set_viewport_size({"width": 320, "height": 640})
    choose_compartment(phone, STARBOARD)
    name = phone.page.locator(".where-name")
    expect(name).to_have_text(STARBOARD)
    assert name.evaluate(WHOLE)
    phone.photograph()
    for button in ("Undo", "Photograph and keep"):
        assert in_sight(phone, phone.button(button)), button
    assert in_sight(phone, phone.page.get_by_role("link", name="Fill in"))
    phone.button("Undo").click()
    expect(phone.page.get_by_role("region", name="Item just kept")).to_have_count(0)


def test_with_letters_at_twice_their_size_every_condition_can_be_tapped(
    shed: Shed, open_phone: Callable[..., Phone]
) -> None:
    phone = open_phone("T", shed).pair().open("/new-boat")
    phone.begin_boat("Teal")
    phone.reserve()
    phone.page.evaluate("document.documentElement.style.fontSize = '225%'")
    for word in ("Sound", "Serviceable", "Worn", "Failed"):
        assert in_sight(phone, phone.page.get_by_role("radio", name=word)), word
    code = phone.page.get_by_test_id("next-code")
    assert code.evaluate(f"(one) => ({WHOLE})(one.parentElement)")
    assert in_sight(phone, code)


def test_a_length_that_cannot_be_read_is_not_lost_when_the_boat_begins(
    shed: Shed, open_phone: Callable[..., Phone]
) -> None:
    phone = open_phone("N", shed).pair().open("/new-boat")
    page = phone.page
    page.get_by_label("Name of the boat").fill("Pochard")
    page.get_by_label("Length").fill("about ten")
    page.get_by_label("Length").press("Tab")
    expect(page.get_by_role("alert").filter(has_text="no number in about ten")).to_be_visible()
    phone.button("Begin this boat").click()
    expect(page.get_by_role("alert").filter(has_text="Nothing was kept yet")).to_contain_text(
        "Length"
    )
    expect(page.get_by_label("Length")).to_have_value("about ten")
    page.get_by_label("Length").fill("10")
    phone.button("Begin this boat").click()
    expect(phone.button("Photograph and keep")).to_be_visible()
    (boat,) = [
        row["values"]
        for row in phone.stored_records("boat")
        if row["values"].get("name") == "Pochard"
    ]
    assert boat["length_m"] == 10
    phone.open("/new-boat")
    phone.button("Back").click()
    expect(page.get_by_role("heading", level=1, name="Pochard")).to_be_visible()


def test_a_crate_gets_its_tag_by_the_camera_and_can_be_binned_while_empty(
    shed: Shed, open_phone: Callable[..., Phone], tmp_path: Path
) -> None:
    phone = open_phone("K", shed).pair().open("/new-boat")
    phone.begin_boat("Smew")
    phone.wait_until_sent()
    codes = phone.reserve()
    sheet = phone.download(f"/api/boats/{phone.boat}/tags.pdf?sheet=a4&codes={','.join(codes[:4])}")
    phone.context.close()
    paper = cut_out(print_pages(sheet, tmp_path / "sheet"), codes[3])
    phone = open_phone("K", shed, film=film(paper, tmp_path / "tag.mjpeg")).open("/places")
    phone.ready_for_offline()
    phone.offline()
    page = phone.page
    for name in ("Rack", "Crate"):
        page.get_by_label("Add a shelf or crate").fill(name)
        phone.button("Add").click()
        expect(page.get_by_role("link", name=re.compile(f"^{name}"))).to_be_visible()
    page.get_by_role("link", name=re.compile("^Crate")).click()
    phone.button("Scan its tag").click()
    expect(page.get_by_role("status").filter(has_text="is on it")).to_be_visible()
    phone.button(re.compile("^Stands in")).click()
    page.get_by_role("dialog").get_by_role("button", name="Rack").click()
    assert judge(page) == []

    phone.open("/places").page.get_by_role("link", name=re.compile("^Rack")).click()
    expect(page.get_by_text("It can be put in the bin once")).to_be_visible()
    page.get_by_role("link", name=re.compile("^Crate")).click()
    phone.button("Put this shelf or crate in the bin").click()
    expect(page.get_by_role("heading", level=1, name="Shelves and crates")).to_be_visible()
    expect(page.get_by_role("link", name=re.compile("^Crate"))).to_have_count(0)
    phone.open("/bin").button("Take back out: Crate").click()
    expect(page.get_by_role("status").filter(has_text="out of the bin")).to_be_visible()


def test_handing_over_nothing_says_so_above_the_button(
    shed: Shed, open_phone: Callable[..., Phone]
) -> None:
    phone = open_phone("H", shed).pair().open("/new-boat")
    phone.begin_boat("Wigeon")
    phone.open("/handovers/new")
    phone.button("Hand over").click()
    alert = phone.page.get_by_role("alert").filter(has_text="Nothing is ticked")
    expect(alert).to_be_in_viewport(ratio=1)
    assert in_sight(phone, alert)
