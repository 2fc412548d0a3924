"""Sounding a tank and filling a can with no signal: kept as typed first, judged at once."""

from __future__ import annotations

from collections.abc import Callable

from playwright.sync_api import expect

from browser.phone import Phone, Shed


def test_a_sounding_and_a_can_are_kept_offline_whatever_was_typed(
    shed: Shed, open_phone: Callable[..., Phone]
) -> None:
    phone = open_phone("M", shed).pair()
    phone.begin_boat("Corncrake")
    page = phone.page
    phone.open("/boat")
    phone.button("List an item that is still aboard").click()
    page.get_by_label("Name").first.fill("Diesel tank")
    page.get_by_label("Name").first.blur()
    key = page.url.split("/item/")[1].split("/")[0]
    phone.wait_until_sent()
    phone.ready_for_offline()
    phone.offline()

    phone.open(f"/item/{key}/tank")
    page.get_by_role("radio", name="Box").check()
    for label, size in (
        ("L, length, mm", "1000"),
        ("B, width, mm", "600"),
        ("H, height, mm", "400"),
    ):
        page.get_by_label(label).fill(size)
        page.get_by_label(label).blur()

    # A tap while a number that can't be read is still being typed: it is heard, and says why.
    level = page.get_by_label("Level, mm").first
    level.fill("three fingers")
    phone.button("Keep the sounding").tap()
    expect(page.get_by_role("alert").last).to_contain_text("Kept as you typed it")
    (kept,) = phone.stored_records("sounding")
    assert "three fingers" in kept["values"]["note"]

    level.fill("900")
    phone.button("Keep the sounding").tap()
    expect(page.get_by_role("alert").last).to_contain_text("0 to 400 mm")
    expect(level).to_have_value("900")
    (kept,) = phone.stored_records("sounding")
    assert kept["values"]["level_mm"] == 900

    level.fill("150")
    phone.button("Keep the sounding").tap()
    expect(page.get_by_text("Kept on this phone").first).to_be_visible()
    (kept,) = phone.stored_records("sounding")
    assert kept["values"]["level_mm"] == 150

    page.get_by_label("Litres in the can").fill("12,5")
    phone.button("Keep this can").tap()
    expect(page.get_by_text("12.5 L kept on this phone")).to_be_visible()
    (can,) = [row for row in phone.items() if row["values"].get("drawn_from") == key]
    assert can["values"]["volume_l"] == 12.5

    phone.online()
    phone.wait_until_sent()
