"""The main job from end to end, with the camera looking at a tag that this server printed."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
import zxingcpp
from PIL import Image
from playwright.sync_api import expect

from browser.camera import cut_out, film, print_pages
from browser.phone import Phone, Shed


@pytest.fixture
def tag(shed: Shed, open_phone: Callable[..., Phone], tmp_path: Path) -> tuple[str, Image.Image]:
    """Pair the phone "M", begin a boat, print its next tags, and cut one out of the paper."""
    phone = open_phone("M", shed).pair()
    if not phone.has_boat():
        phone.begin_boat("Corncrake")
    phone.wait_until_sent()
    codes = phone.reserve()
    sheet = phone.download(f"/api/boats/{phone.boat}/tags.pdf?sheet=a4&codes={','.join(codes[:4])}")
    phone.context.close()
    return codes[2], cut_out(print_pages(sheet, tmp_path / "sheet"), codes[2])


def test_three_items_taken_out_offline_reach_the_server_and_a_second_phone(
    shed: Shed, open_phone: Callable[..., Phone], tmp_path: Path, tag: tuple[str, Image.Image]
) -> None:
    code, paper = tag
    phone = open_phone("M", shed, film=film(paper, tmp_path / "tag.mjpeg")).open()
    phone.ready_for_offline()
    phone.offline()
    phone.scan_next_tag(code)
    phone.take_out("Worn")
    phone.take_out("Sound")
    phone.take_out("Failed")
    assert len(phone.items()) == 3
    on_phone = {row["sha256"]: row["digest"] for row in phone.stored("photo")}
    assert all(named == found for named, found in on_phone.items())

    phone.page.reload()
    phone.page.get_by_role("link", name="Find").click()
    phone.button("Scan a tag").click()
    phone.page.wait_for_url("**/item/*")
    expect(phone.page.get_by_role("main")).to_contain_text(f"{code[:3]}-{code[3:]}")
    expect(phone.page.get_by_role("main")).to_contain_text("worn")

    phone.online()
    phone.wait_until_sent()
    second = open_phone("T", shed).pair()
    second.until(lambda: len(second.items()) == 3, "the second phone has not all items")
    for digest in on_phone:
        assert phone.digest_of(f"/api/photos/{digest}") == second.digest_of(f"/api/photos/{digest}")
        assert second.digest_of(f"/api/photos/{digest}")["digest"] == digest
    values = {row["key"]: row["values"] for row in second.items()}
    assert values == {row["key"]: row["values"] for row in phone.items()}
    assert {one["condition"] for one in values.values()} == {"worn", "sound", "failed"}


def test_the_link_on_a_tag_opens_its_item_offline(
    shed: Shed, open_phone: Callable[..., Phone], tmp_path: Path, tag: tuple[str, Image.Image]
) -> None:
    code, paper = tag
    # What the phone's own camera app would read, by a decoder that shares no code with ours.
    link = zxingcpp.read_barcodes(paper)[0].text
    assert link == f"{shed.address}/T/{code}".upper()
    phone = open_phone("M", shed).open()
    phone.ready_for_offline()
    phone.offline()

    phone.page.goto(link)
    expect(phone.page.get_by_role("main")).to_contain_text("On nothing that this phone knows")
    phone.page.get_by_role("link", name="Use it on the next item").click()
    phone.take_out("Serviceable")
    phone.take_out("Sound")
    phone.take_out("Sound")

    phone.page.goto(link)
    phone.page.wait_for_url("**/item/*")
    expect(phone.page.get_by_role("main")).to_contain_text("serviceable")
    expect(phone.page.get_by_role("main")).to_contain_text(f"{code[:3]}-{code[3:]}")
    phone.online()
    phone.wait_until_sent()


def test_taking_out_needs_at_most_five_taps_and_no_typing(
    shed: Shed, open_phone: Callable[..., Phone], tag: tuple[str, Image.Image]
) -> None:
    phone = open_phone("M", shed).open()
    phone.ready_for_offline()
    phone.offline()
    phone.page.evaluate(
        """() => {
          window.taps = 0; window.keys = 0;
          addEventListener("pointerdown", () => { window.taps += 1; }, true);
          addEventListener("keydown", () => { window.keys += 1; }, true);
        }"""
    )
    phone.take_out("Worn")
    assert phone.page.evaluate("[window.taps, window.keys]") == [2, 0]


def test_a_browser_that_was_never_paired_is_told_to_scan_inside_the_app(
    shed: Shed, open_phone: Callable[..., Phone], tag: tuple[str, Image.Image]
) -> None:
    code, _ = tag
    stranger = open_phone("stranger", shed).open(f"/T/{code}")
    main = stranger.page.get_by_role("main")
    expect(main).to_contain_text("scan the tag inside the app")
    assert stranger.items() == []
