"""From an empty bag to the receipt with no signal: fill, stop, weigh, close, hand over, correct."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

from PIL import Image
from playwright.sync_api import expect

from browser.camera import cut_out, film, print_pages
from browser.judge import judge
from browser.phone import Phone, Shed

SITE = "Council waste point"
KINDS = {
    "sound": "Sole board",
    "painted": "Painted timber offcut",
    "rags": "Rags with linseed or other drying oil",
}


def test_a_container_is_filled_weighed_and_handed_over_offline(
    shed: Shed, open_phone: Callable[..., Phone]
) -> None:
    phone = open_phone("M", shed).pair()
    phone.begin_boat("Corncrake")
    codes = phone.reserve()
    phone.wait_until_sent()
    phone.ready_for_offline()
    phone.offline()
    for code, kind in zip(codes, KINDS.values(), strict=False):
        take_out(phone, code, kind)

    box = make_container(phone, codes[5])
    put_in(phone, codes[0])
    told(phone, "is in. Kept on this phone.")
    stopped_for_good(phone, codes[2])
    mixed_with_a_reason(phone, codes[1])
    weigh_and_close(phone, box)
    handover = hand_over(phone)
    assert lies_in(phone) == {KINDS["sound"]: box, KINDS["painted"]: box, KINDS["rags"]: None}

    phone.online()
    phone.wait_until_sent()
    digest = frozen_digest(phone, handover)
    correct(phone)
    phone.wait_until_sent()
    assert frozen_digest(phone, handover) == digest
    expect(phone.page.get_by_text("Mixed. ").first).to_be_visible()
    assert judge(phone.page) == []
    sheet = phone.download(f"/api/boats/{phone.boat}/handovers/{handover}/sheet.pdf")
    assert sheet.startswith(b"%PDF")


def test_a_container_and_what_goes_into_it_are_found_by_the_camera_offline(
    shed: Shed, open_phone: Callable[..., Phone], tmp_path: Path
) -> None:
    seen = film(Image.new("RGB", (400, 400), "white"), tmp_path / "seen.mjpeg")
    phone = open_phone("M", shed, film=seen).pair()
    if not phone.has_boat():
        phone.begin_boat("Corncrake")
    codes = phone.reserve()
    phone.wait_until_sent()
    sheet = phone.download(f"/api/boats/{phone.boat}/tags.pdf?sheet=a4&codes={','.join(codes[:4])}")
    paper = print_pages(sheet, tmp_path / "sheet")
    phone.ready_for_offline()
    phone.offline()
    take_out(phone, codes[0], KINDS["sound"])
    box = make_container(phone, codes[1])

    look_at(cut_out(paper, codes[1]), seen)
    page = phone.open("/find").page
    phone.button("Scan a tag").click()
    page.wait_for_url(f"**/containers/{box}")
    look_at(cut_out(paper, codes[0]), seen)
    phone.button("Scan things into it").click()
    told(phone, f"{KINDS['sound']} is in. Kept on this phone.")
    (inside,) = [row["values"] for row in phone.items() if row["values"].get("container") == box]
    assert inside["fate"] == "waste"


def look_at(tag: Image.Image, seen: Path) -> None:
    """What the camera sees from its next start on; one that runs has the old film open."""
    film(tag, seen.with_suffix(".new")).replace(seen)


def take_out(phone: Phone, code: str, kind: str) -> None:
    """Photographed with its tag, then named."""
    phone.open("/")
    known = {row["key"] for row in phone.items()}
    phone.type_next_tag(code)
    phone.take_out("Sound")
    (key,) = {row["key"] for row in phone.items()} - known
    phone.open(f"/item/{key}/edit")
    page = phone.page
    page.get_by_label("Kind", exact=True).fill(kind)
    page.get_by_role("option", name=re.compile(f"^{kind}")).first.click()
    phone.until(
        lambda: any(row["key"] == key and row["values"].get("kind") for row in phone.items()),
        "no kind was kept",
    )


def make_container(phone: Phone, code: str) -> str:
    """A bag for clean timber with a tag on it; its key."""
    page = phone.open("/containers/new").page
    known = {row["key"] for row in phone.stored_records("container")}
    page.get_by_label("For which waste").select_option(label="Clean timber and plywood")
    page.get_by_label("Sort of container").select_option("bag")
    phone.button("Make this container").click()
    page.get_by_label("Put a tag on it: type the code").fill(code)
    phone.button("Put on").click()
    (key,) = {row["key"] for row in phone.stored_records("container")} - known
    phone.until(
        lambda: any(row["values"].get("on") == f"container/{key}" for row in
                    phone.stored_records("tag")),
        "the tag was not kept",
    )  # fmt: skip
    return str(key)


def put_in(phone: Phone, code: str) -> None:
    phone.page.get_by_label("Or type an item's code").fill(code)
    phone.button("Put in").first.click()


def told(phone: Phone, words: str) -> None:
    expect(phone.page.get_by_role("status").filter(has_text=words)).to_be_visible()


def stopped_for_good(phone: Phone, code: str) -> None:
    """Rags with drying oil: stopped with the reason, with no way round, and nothing written."""
    put_in(phone, code)
    page = phone.page
    stop = page.get_by_role("alert").filter(has_text="Stopped.")
    expect(stop).to_contain_text("Nothing lifts this.")
    expect(stop).to_contain_text("Source:")
    expect(page.get_by_text("Into water: a metal can, filled up.")).to_be_visible()
    expect(phone.button("Put it in all the same")).to_have_count(0)
    assert judge(page) == []
    phone.button("Leave it out").click()
    told(phone, "stays where it is")
    assert phone.stored_records("mixing") == []


def mixed_with_a_reason(phone: Phone, code: str) -> None:
    """Painted timber may join, if all of it then goes as hazardous: only with a name and a why."""
    put_in(phone, code)
    page = phone.page
    expect(page.get_by_role("alert")).to_contain_text(
        "Allowed only if: all that is in the container"
    )
    phone.button("Put it in all the same").click()
    phone.button("Record it as mixed").click()
    expect(page.get_by_role("alert").last).to_contain_text("It takes a name and a reason")
    assert phone.stored_records("mixing") == []
    page.get_by_label("Who decides").fill("M")
    page.get_by_label("Why it goes in all the same").fill("glued to the sound board")
    assert judge(page) == []
    phone.button("Record it as mixed").click()
    expect(page.get_by_text("was put in against the rules")).to_be_visible()
    (mixing,) = phone.stored_records("mixing")
    assert (mixing["values"]["who"], mixing["values"]["why"]) == ("M", "glued to the sound board")


def weigh_and_close(phone: Phone, box: str) -> None:
    page = phone.page
    page.get_by_role("link", name="Weigh it").click()
    page.get_by_label("Scale shows, full").fill("14.5")
    page.get_by_label(re.compile("^Empty")).fill("0.5")
    phone.button("Keep this weighing").click()
    expect(page.get_by_role("status").filter(has_text="Kept on this phone")).to_be_visible()
    phone.open(f"/containers/{box}")
    phone.button("Close it").click()
    expect(page.get_by_text("nothing goes in until it is opened again")).to_be_visible()
    expect(page.get_by_label("Or type an item's code")).to_have_count(0)


def hand_over(phone: Phone) -> str:
    """All papers, a photograph of the receipt; the key of the handover."""
    page = phone.page
    page.get_by_role("link", name="Hand it over").click()
    expect(page.get_by_role("checkbox").first).to_be_checked()
    page.get_by_label("Site or firm that takes it").fill(SITE)
    page.get_by_label("Who carries it").fill("own car")
    page.get_by_label("Number of the document").fill("slip 26-1")
    assert judge(page) == []
    phone.button("Hand over").click()
    expect(page.get_by_role("heading", name=SITE)).to_be_visible()
    expect(
        page.get_by_text("The server freezes the list when this phone reaches it")
    ).to_be_visible()
    before = len(phone.stored_records("photo"))
    phone.choose_file("receipt.png", page.screenshot())
    phone.until(lambda: len(phone.stored_records("photo")) > before, "the receipt was not kept")
    (handover,) = phone.stored_records("handover")
    assert handover["values"]["sealed_at"]
    return str(handover["key"])


def lies_in(phone: Phone) -> dict[str, str | None]:
    """The container of each item, by its kind's name."""
    ids = {"sole-board": "sound", "ply-offcut-painted": "painted"}
    return {
        KINDS[ids.get(row["values"]["kind"], "rags")]: row["values"].get("container")
        for row in phone.items()
    }


def frozen_digest(phone: Phone, handover: str) -> str:
    """What the screen shows once the server has frozen the list."""
    phone.open("/waste")
    phone.button("Make it anew").click()
    phone.open(f"/handovers/{handover}")
    digest = phone.page.locator(".digest")
    expect(digest).to_be_visible(timeout=60_000)
    expect(phone.page.get_by_text("14 kg in all")).to_be_visible()
    # What left can't be undone, only corrected.
    expect(phone.page.get_by_text("Handed over, list frozen")).to_be_visible()
    expect(phone.button(re.compile("^Undo this: .*list frozen"))).to_have_count(0)
    return digest.inner_text()


def correct(phone: Phone) -> None:
    page = phone.page
    phone.button("Write a correction").click()
    page.get_by_label("What was wrong, and what is right").fill("Their scale said 13.8 kg.")
    phone.button("Keep this correction").click()
    expect(page.get_by_role("alert")).to_contain_text("Write who says so.")
    page.get_by_label("Who says so").fill("T")
    page.get_by_label("The right mass, kg, if it is about one").fill("13,8")
    phone.button("Keep this correction").click()
    expect(page.get_by_text("Their scale said 13.8 kg.").first).to_be_visible()
