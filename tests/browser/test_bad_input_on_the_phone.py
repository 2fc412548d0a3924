"""What goes wrong in the shed is said plainly, and nothing that was kept is lost."""

from __future__ import annotations

import io
import struct
import zlib
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import Playwright, Route, expect

from browser.conftest import phones
from browser.phone import Phone, Shed

PHOTOGRAPHS = Path(__file__).parents[2] / "fixtures" / "photographs"
TURNED = PHOTOGRAPHS / "mountains-turned-with-position.jpg"


@pytest.fixture(scope="module")
def hold(
    playwright: Playwright, shed: Shed, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Callable[..., Phone]]:
    """The one phone of these tests, used on as phones are; ``again`` closes and opens it."""
    with phones(playwright, tmp_path_factory.mktemp("pocket")) as open_one:
        held = [open_one("M", shed).pair()]
        held[0].begin_boat("Corncrake")

        def hold_it(*, again: bool = False) -> Phone:
            if again:
                held[-1].context.close()
                held.append(open_one("M", shed))
            return held[-1]

        yield hold_it


@pytest.fixture
def phone(hold: Callable[..., Phone]) -> Phone:
    one = hold().open()
    one.reserve()
    one.wait_until_sent()
    return one


def enormous_png() -> bytes:
    """A PNG of 200 megapixels that is a few bytes long: 20,000 x 10,000, one row of data."""

    def chunk(name: bytes, body: bytes) -> bytes:
        return (
            struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))
        )

    header = struct.pack(">IIBBBBB", 20_000, 10_000, 8, 0, 0, 0, 0)
    row = zlib.compress(b"\0" * 20_001)
    signature = b"\x89PNG\r\n\x1a\n"
    return signature + chunk(b"IHDR", header) + chunk(b"IDAT", row) + chunk(b"IEND", b"")


BAD_FILES = {
    "a page renamed": ((PHOTOGRAPHS / "page-renamed.jpg").read_bytes(), "not a picture"),
    "cut off half-way": (TURNED.read_bytes()[: TURNED.stat().st_size // 2], "ends too early"),
    "empty": (b"", "empty"),
    "200 megapixels": (enormous_png(), "megapixels"),
}


@pytest.mark.parametrize("case", BAD_FILES)
def test_a_file_that_is_no_usable_picture_is_refused_in_words(phone: Phone, case: str) -> None:
    body, words = BAD_FILES[case]
    before = len(phone.items())
    code = phone.page.get_by_test_id("next-code").inner_text()
    phone.choose_file("IMG_1.jpg", body)
    expect(phone.page.get_by_role("alert")).to_contain_text(words)
    assert len(phone.items()) == before
    # What was set stays set, so that only the picture has to be taken again.
    expect(phone.page.get_by_test_id("next-code")).to_have_text(code)


@pytest.mark.parametrize(
    ("name", "upright"),
    [
        ("sunset-12-megapixels.jpg", (2048, 1365)),
        ("brushes-progressive.jpg", (1365, 1074)),
        ("mountains-turned-with-position.jpg", None),
        ("fig-photo.png", None),
    ],
)
def test_a_real_photograph_is_kept_upright_shrunk_and_without_position(
    phone: Phone, name: str, upright: tuple[int, int] | None
) -> None:
    path = PHOTOGRAPHS / name
    before = {row["sha256"] for row in phone.stored("photo")}
    phone.choose_file(name, path.read_bytes())
    phone.until(lambda: len(phone.stored("photo")) > len(before), "the picture was not kept")
    (digest,) = {row["sha256"] for row in phone.stored("photo")} - before
    phone.wait_until_sent()
    with Image.open(io.BytesIO(phone.download(f"/api/photos/{digest}"))) as kept:
        kept.load()
        assert dict(kept.getexif()) == {}
        assert kept.format == "JPEG"
        assert max(kept.size) <= 2048
        with Image.open(path) as original:
            turned = original.getexif().get(0x0112, 1) in (5, 6, 7, 8)
            ratio = original.height / original.width if turned else original.width / original.height
        assert kept.width / kept.height == pytest.approx(ratio, rel=0.01)
        if upright:
            assert kept.size == pytest.approx(upright, abs=1)


def test_a_mistyped_tag_and_one_in_use_are_told_apart(phone: Phone) -> None:
    used = phone.page.get_by_test_id("next-code").inner_text().replace("-", "")
    phone.take_out("Sound")
    phone.type_next_tag(used)
    expect(phone.page.get_by_role("alert")).to_contain_text("is already used")
    phone.button("Take another tag").click()

    wrong = used[:-1] + ("0" if used[-1] != "0" else "1")
    phone.page.get_by_test_id("next-code").click()
    phone.page.get_by_label("Type the code on the tag").fill(wrong)
    phone.button("Use it").click()
    expect(phone.page.get_by_role("dialog")).to_contain_text("one character is wrong")


def test_an_unreadable_size_is_explained_and_stays_on_the_screen(phone: Phone) -> None:
    phone.take_out("Sound")
    phone.page.get_by_role("link", name="Fill in").click()
    size = phone.page.get_by_label("Size", exact=True)
    size.fill("19 mmm")
    size.blur()
    expect(phone.page.get_by_role("main")).to_contain_text("mmm")
    expect(size).to_have_value("19 mmm")
    assert size.get_attribute("aria-invalid") == "true"
    size.fill("3/4 in")
    size.blur()
    phone.until(
        lambda: any(row["values"].get("size") == "3/4 in" for row in phone.items()),
        "the mended size was not kept",
    )


def test_a_full_phone_says_so_keeps_what_it_has_opens_again_and_sends_it(
    shed: Shed, hold: Callable[..., Phone], phone: Phone
) -> None:
    used = phone.page.evaluate("async () => (await navigator.storage.estimate()).usage")
    phone = hold(again=True)
    # Before the first write: Chromium remembers for half a minute how much room there was.
    session = phone.context.new_cdp_session(phone.page)
    room = {"origin": shed.address, "quotaSize": used + 500_000}
    session.send("Storage.overrideQuotaForOrigin", room)
    phone.open()
    phone.ready_for_offline()
    phone.offline()
    alert = phone.page.get_by_role("alert")
    kept = len(phone.items())
    for _ in range(60):
        before = kept
        phone.button("Photograph and keep").click()
        phone.until(lambda: len(phone.items()) > kept or alert.count() > 0, "no answer")  # noqa: B023
        kept = len(phone.items())
        if kept == before:
            break
    expect(alert).to_contain_text("no room left")
    digests = {row["sha256"] for row in phone.stored("photo")}
    assert digests == {row["digest"] for row in phone.stored("photo")}

    # Not a single write goes through now, and sending is what makes room.
    waiting = len(phone.stored("photo_outbox"))
    phone.page.reload()
    expect(phone.button("Photograph and keep")).to_be_visible()
    assert len(phone.items()) == kept
    assert len(phone.stored("photo_outbox")) == waiting > 0
    phone.online()
    phone.wait_until_sent()
    session.send("Storage.overrideQuotaForOrigin", {"origin": shed.address})


@pytest.mark.parametrize("answer", ["a page of a hotel", "nothing", "a broken server"])
def test_a_server_that_answers_nonsense_loses_nothing(phone: Phone, answer: str) -> None:
    def reply(route: Route) -> None:
        if answer == "nothing":
            route.abort()
        elif answer == "a page of a hotel":
            route.fulfill(status=200, content_type="text/html", body="<h1>Welcome, sign in</h1>")
        else:
            route.fulfill(status=500, body="\x00garbage")

    phone.context.route("**/api/**", reply)
    phone.take_out("Sound")
    phone.page.wait_for_timeout(1_500)
    assert len(phone.stored("outbox")) == 3
    assert len(phone.stored("photo_outbox")) == 1
    phone.page.goto(phone.shed.address + "/kept")
    expect(phone.page.get_by_role("main")).to_contain_text("1 photo")
    phone.context.unroute("**/api/**")
    phone.send_now()
    phone.wait_until_sent()


def test_no_request_ever_leaves_the_server_and_the_decoder_comes_once(
    shed: Shed, open_phone: Callable[..., Phone]
) -> None:
    phone = open_phone("fresh", shed)
    asked: list[str] = []
    phone.context.on("request", lambda request: asked.append(request.url))
    phone.pair()
    phone.ready_for_offline()
    phone.open("/find")
    phone.button("Scan a tag").click()
    phone.page.wait_for_timeout(1_500)
    phone.page.reload()
    phone.button("Scan a tag").click()
    phone.page.wait_for_timeout(1_500)
    assert [url for url in asked if not url.startswith((shed.address, "blob:", "data:"))] == []
    decoder = [url for url in asked if url.endswith(".wasm")]
    from_network = phone.page.evaluate(
        """() => performance.getEntriesByType("resource")
            .filter((one) => one.name.endsWith(".wasm") && one.transferSize > 1000).length"""
    )
    assert decoder or from_network == 0
    assert from_network == 0, "the decoder was fetched again"
