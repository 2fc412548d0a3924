"""Weighing in the shed with no signal: kept first, judged at once, put right without a loss."""

from __future__ import annotations

from collections.abc import Callable

from playwright.sync_api import expect

from browser.phone import Phone, Shed

FULL, EMPTY = "Scale shows, full", "Empty: crate, sling"


def test_a_crate_is_weighed_offline_and_shared_out_by_the_server(
    shed: Shed, open_phone: Callable[..., Phone]
) -> None:
    phone = open_phone("M", shed).pair()
    phone.begin_boat("Corncrake")
    keys = keep_crate(phone)
    phone.wait_until_sent()
    phone.ready_for_offline()
    phone.offline()
    page = phone.page

    phone.open(f"/places/{keys['crate']}")
    page.get_by_role("link", name="Weigh it with what is in it").click()
    expect(page.get_by_text("2 items on the scale")).to_be_visible()
    page.get_by_label(FULL).fill("1,5")
    page.get_by_label(EMPTY).fill("2")
    phone.button("Keep this weighing").click()
    expect(page.get_by_role("alert")).to_contain_text("less than 2 kg empty")
    expect(page.get_by_label(FULL)).to_have_value("1,5")
    (kept,) = phone.stored_records("weighing")
    assert (kept["values"]["gross_kg"], kept["values"]["tare_kg"]) == (1.5, 2)

    page.get_by_label(FULL).fill("14.5")
    expect(page.locator(".weigh-figure")).to_have_text("12.5")
    phone.button("Keep this weighing").click()
    expect(page.get_by_role("status").filter(has_text="Kept on this phone")).to_be_visible()
    (kept,) = phone.stored_records("weighing")
    assert kept["values"]["gross_kg"] == 14.5
    assert len(phone.stored_records("weighed")) == 2

    phone.open(f"/weigh?of=item/{keys['one']}")
    page.get_by_label(FULL).fill("ten and a bit")
    phone.button("Keep this weighing").click()
    expect(page.get_by_role("alert").last).to_contain_text("Kept as you typed it")
    notes = [row["values"].get("note") or "" for row in phone.stored_records("weighing")]
    assert any("ten and a bit" in note for note in notes)

    # The crate's empty mass is remembered for the next time.
    phone.open(f"/weigh?of=place/{keys['crate']}")
    expect(page.get_by_label(EMPTY)).to_have_value("2")

    phone.online()
    phone.wait_until_sent()
    phone.open("/masses")
    page.get_by_role("button", name="Make it anew").click()
    expect(page.locator(".totals").first).to_contain_text("13")
    expect(page.locator(".totals").first).to_contain_text("100")


def keep_crate(phone: Phone) -> dict[str, str]:
    """A crate with two winches, made on the screens."""
    page = phone.page
    phone.open("/boat")
    keys = {}
    for name, field in (("one", "Port winch"), ("two", "Halyard winch")):
        phone.open("/boat")
        phone.button("List an item that is still aboard").click()
        page.get_by_label("Name").first.fill(field)
        page.get_by_label("Name").first.blur()
        keys[name] = page.url.split("/item/")[1].split("/")[0]
        phone.open(f"/item/{keys[name]}/put-away")
        phone.button("Choose a place").click()
        page.get_by_label("Search or name a new one").fill("Crate 7")
        row = page.locator(".pick-row").first
        row.click()
        page.wait_for_url(f"**/item/{keys[name]}")
    place = next(row for row in phone.stored_records("place") if row["values"]["name"] == "Crate 7")
    keys["crate"] = place["key"]
    return keys
