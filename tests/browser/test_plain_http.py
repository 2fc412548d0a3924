"""Over plain HTTP: the app looks things up, takes pictures from files, and says what it is not."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from playwright.sync_api import expect

from browser.phone import Phone, Shed

PICTURE = Path(__file__).parents[2] / "fixtures" / "photographs" / "fig-photo.png"


def test_the_plain_address_warns_and_still_takes_a_picture_from_a_file(
    shed: Shed, open_phone: Callable[..., Phone]
) -> None:
    plain = replace(shed, address=shed.plain_address)
    phone = open_phone("plain", plain).pair()
    phone.begin_boat("Corncrake", camera=False)
    assert phone.page.evaluate("[isSecureContext, 'serviceWorker' in navigator]") == [False, False]
    banner = phone.page.get_by_role("complementary", name="Not safe offline")
    expect(banner).to_be_visible()
    expect(banner.get_by_role("link")).to_have_attribute("href", "/setup")

    phone.page.get_by_role("radio", name="Sound").tap()
    phone.choose_file("fig.png", PICTURE.read_bytes())
    phone.until(lambda: len(phone.items()) == 1, "the picture from a file was not kept")
    phone.wait_until_sent()
    (digest,) = [row["sha256"] for row in phone.stored("photo")]
    assert phone.download(f"/api/photos/{digest}")[:2] == b"\xff\xd8"
