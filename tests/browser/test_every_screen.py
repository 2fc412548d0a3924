"""Every screen on the demo boat: whole at two widths, in light and dark, and usable by everyone.

What only appears when something went wrong is judged where a test brings it about.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import BrowserContext, Page, Playwright, expect

from browser.judge import judge
from browser.phone import PATIENCE_MS
from processes import CHROMIUM_ARGUMENTS, chromium, free_port, start_command

SCREENS = (
    "/", "/find", "/left", "/waste", "/waste/months", "/renewals", "/masses", "/scrap", "/weigh",
    "/renewals/order", "/renewals/leftovers", "A LINE", "A SPEC", "A NEW PART",
    "/piping", "/wiring",
    "/work", "/work/sitting", "/back", "/jobs", "/jobs/new", "/jobs/new?safe=fuel",
    "/orders", "/walk-round",
    "/boat", "/compartments", "/places", "/tags",
    "/kept", "/clashes", "/bin", "/storage", "/devices", "/new-boat", "/pair", "/t/23456",
    "/containers", "/containers/new", "/containers/new?stream=rag-drying", "A BOX",
    "/handovers", "/handovers/new", "A HANDOVER",
    "AN ITEM", "AN ITEM/edit", "AN ITEM/put-away", "AN ITEM/tank", "/tanks", "/weigh?of=A CRATE",
    "A PHOTOGRAPH",
    "/lifts", "A LIFT", "/trim", "/circuits", "A WIRE",
)  # fmt: skip

# Screens of renewing, by the start of a line of the order from which they are opened.
RENEWING = {
    "A LINE": "^Raw-water hose, 25 mm",
    "A SPEC": "^Raw-water hose, 25 mm",
    "A NEW PART": "^Fuel filter and water separator",
}

# What can be tapped must be in sight: a frame that hides what is too wide hides it from the width
# of the document too, and nobody pushes a whole screen sideways. What scrolls sideways in a frame
# of its own can be brought into sight.
BEYOND_THE_EDGE = """() =>
  [...document.querySelectorAll("a, button, input, select, textarea, summary")]
    .filter((one) => {
      const { left, right, width } = one.getBoundingClientRect();
      if (width < 2 || (left >= -1 && right <= innerWidth + 1)) return false;
      for (let frame = one.parentElement; frame && !frame.querySelector("main");
           frame = frame.parentElement)
        if (frame.tagName !== "MAIN" && frame.scrollWidth > frame.clientWidth + 1 &&
            ["auto", "scroll"].includes(getComputedStyle(frame).overflowX)) return false;
      return true;
    })
    .map((one) => one.textContent.trim().slice(0, 40))
"""

# A choice of words in rows has no cell without a word: it would look like one to be chosen.
EMPTY_CELLS = """() =>
  [...document.querySelectorAll(".choice-wrap")]
    .filter((grid) => {
      const size = (one) => one.getBoundingClientRect().width * one.getBoundingClientRect().height;
      const filled = [...grid.children].reduce((sum, cell) => sum + size(cell), 0);
      return size(grid) > 0 && filled < 0.9 * size(grid);
    })
    .map((grid) => grid.textContent)
"""


# A name is known by its whole words, and a tag is found by its whole code: neither is broken to
# make room for something beside it. Nothing is as wide as a digest.
BROKEN = r"""() => {
  const texts = document.createTreeWalker(document.querySelector("main"), NodeFilter.SHOW_TEXT);
  const found = [];
  while (texts.nextNode()) {
    const text = texts.currentNode;
    if (text.parentElement.closest("svg, select, textarea")) continue;
    for (const word of text.textContent.matchAll(/[0-9A-Z]{3}-[0-9A-Z]{3}\b|[\p{L}\d]+/gu)) {
      if (word[0].length > 40) continue;
      const range = document.createRange();
      range.setStart(text, word.index);
      range.setEnd(text, word.index + word[0].length);
      const lines = [...range.getClientRects()].filter((box) => box.width > 0);
      if (new Set(lines.map((box) => Math.round(box.top))).size > 1) found.push(word[0]);
    }
  }
  return found;
}
"""


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address that lets one browser in to the demo boat."""
    port = free_port()
    data = tmp_path_factory.mktemp("demo") / "data"
    words = ("demo", "--no-browser", "--port", str(port), "--data", str(data))
    running = start_command(*words, data=data, port=port)
    found = re.search(r"http://\S+/pair#\S+", running.wait_for("Stop it with Ctrl-C"))
    assert found
    yield found[0]
    running.stop()


@pytest.fixture(scope="module")
def context(
    playwright: Playwright, demo: str, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[BrowserContext]:
    """One paired phone that has received the whole boat."""
    phone = playwright.chromium.launch_persistent_context(
        str(tmp_path_factory.mktemp("profile")),
        executable_path=chromium(),
        args=[
            *CHROMIUM_ARGUMENTS,
            "--use-fake-ui-for-media-stream",
            "--use-fake-device-for-media-stream",
        ],
        env=dict(os.environ),
        viewport={"width": 390, "height": 844},
        is_mobile=True,
        has_touch=True,
        permissions=["camera"],
    )
    phone.set_default_timeout(PATIENCE_MS)
    page = phone.pages[0]
    page.goto(demo)
    page.get_by_label("Name of this phone").fill("Judge")
    page.get_by_role("button", name="Pair").click()
    page.wait_for_url(re.compile(r"/$"))
    expect(page.get_by_role("status")).to_have_text("All on the server", timeout=120_000)
    yield phone
    phone.close()


def open_renewing(page: Page, address: str, screen: str) -> None:
    page.goto(f"{address}/renewals/order")
    page.get_by_role("link", name=re.compile(RENEWING[screen])).click()
    if screen == "A LINE":
        page.get_by_role("heading", name="How it is cut").wait_for()
    elif screen == "A SPEC":
        page.get_by_role("link", name="Say what to buy").click()
        page.get_by_role("heading", name="Assumed where nothing is fixed").wait_for()
    else:
        page.get_by_role("link", name=re.compile("^New part for")).first.click()
        expect(page.get_by_test_id("new-part-code")).to_be_visible()


def visit(page: Page, demo: str, screen: str) -> None:
    address = demo.split("/pair#", maxsplit=1)[0]
    if screen.startswith("AN ITEM"):
        page.goto(f"{address}/find")
        path = page.locator("a[href^='/item/']").first.get_attribute("href")
        page.goto(address + screen.replace("AN ITEM", path or ""))
    elif screen == "A PHOTOGRAPH":
        page.goto(f"{address}/walk-round")
        page.get_by_role("link", name=re.compile("^Galley")).click()
        page.get_by_role("link", name=re.compile("^Photograph 1, ")).click()
        expect(page.get_by_role("heading", name="On this photograph")).to_be_visible()
    elif screen == "A LIFT":
        page.goto(f"{address}/lifts")
        page.get_by_role("link", name=re.compile("Engine back in")).click()
    elif screen in RENEWING:
        open_renewing(page, address, screen)
    elif screen == "A WIRE":
        page.goto(f"{address}/circuits")
        page.get_by_role("link", name=re.compile("Cable to the bilge pump")).click()
        expect(page.get_by_text("The old AWG 14 is thinner")).to_be_visible()
    elif screen == "A BOX":
        page.goto(f"{address}/containers")
        page.get_by_role("link", name=re.compile("Bulk bag, timber offcuts")).click()
    elif screen == "A HANDOVER":
        page.goto(f"{address}/handovers")
        page.get_by_role("link", name=re.compile("weigh slip 26-1183")).click()
    elif screen.endswith("A CRATE"):
        page.goto(f"{address}/weigh")
        page.get_by_role("button", name=re.compile("Crate 3")).click()
        page.get_by_label("Scale shows, full").fill("1.2")
        page.get_by_text("on the scale", exact=False).first.click()
    else:
        page.goto(address + screen)
    expect(page.get_by_role("main")).to_be_visible()


@pytest.mark.parametrize("screen", SCREENS)
def test_a_screen_is_whole_and_accessible(context: BrowserContext, demo: str, screen: str) -> None:
    """One visit a screen: what turns or darkens the phone does so while the screen is open."""
    page = context.pages[0]
    page.set_viewport_size({"width": 390, "height": 844})
    # Colours that are still on their way to the dark are no fault.
    page.emulate_media(color_scheme="light", reduced_motion="reduce")
    visit(page, demo, screen)
    for width in (390, 320):
        page.set_viewport_size({"width": width, "height": 844})
        wide = page.evaluate("document.documentElement.scrollWidth")
        assert wide <= width, f"{screen} scrolls sideways at {width} px"
        assert page.evaluate(BEYOND_THE_EDGE) == [], f"{screen} at {width} px"
        assert page.evaluate(EMPTY_CELLS) == [], f"{screen} at {width} px"
        assert page.evaluate(BROKEN) == [], f"{screen} at {width} px"
    assert judge(page) == []
    page.emulate_media(color_scheme="dark", reduced_motion="reduce")
    assert judge(page) == [], f"{screen} in the dark"


@pytest.mark.parametrize("sort", ["wiring", "piping"])
def test_a_drawing_of_runs_keeps_letters_to_read_and_scrolls_in_its_frame(
    context: BrowserContext, demo: str, sort: str
) -> None:
    page = context.pages[0]
    page.set_viewport_size({"width": 390, "height": 844})
    visit(page, demo, f"/{sort}")
    frames = page.get_by_role("region", name=re.compile("drawing 1: "))
    expect(frames.first).to_be_visible()
    letters, inside, room = page.evaluate(
        """() => {
            const frames = [...document.querySelectorAll(".schedule-scroll")];
            const drawn = [...document.querySelectorAll(".schedule-drawing text")].map((text) =>
                parseFloat(getComputedStyle(text).fontSize) * text.getScreenCTM().a);
            const widest = frames.sort((a, b) => b.scrollWidth - a.scrollWidth)[0];
            widest.focus();
            widest.scrollLeft = 10000;
            return [Math.min(...drawn), widest.scrollLeft, widest.scrollWidth - widest.clientWidth];
        }"""
    )
    assert letters >= 12 - 0.01
    assert inside == pytest.approx(room, abs=1)
    assert room > 100
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
