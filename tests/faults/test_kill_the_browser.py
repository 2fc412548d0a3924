"""A phone dies in mid-work, again and again; the long run is faults/kill_the_browser.py."""

from __future__ import annotations

import random
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Playwright, expect

from browser.phone import CONTROLLED
from faults.kill_the_browser import Life, run, until
from faults.line import Line
from real_server import RealServer

KILLS = 5
PICTURE = Path(__file__).parents[2] / "fixtures" / "photographs" / "brushes-progressive.jpg"


def test_all_that_was_called_kept_survives_the_death_of_the_browser(
    playwright: Playwright, tmp_path: Path
) -> None:
    count = run(playwright, tmp_path, KILLS, random.Random(20_260_504))
    assert count.kills >= KILLS
    assert len(count.kept) >= KILLS


@pytest.fixture
def server(tmp_path: Path) -> Iterator[RealServer]:
    made = RealServer(tmp_path / "data")
    made.start()
    yield made
    made.kill()


def test_a_browser_that_died_with_its_pairing_sends_all_when_paired_again(
    playwright: Playwright, server: RealServer, tmp_path: Path
) -> None:
    """Chromium writes a cookie to the disk up to half a minute after it was set."""
    profile = tmp_path / "profile"
    profile.mkdir()
    line = Line(server.port)
    life = Life(playwright, profile, f"{line.address}/pair#{server.new_code()}")
    life.page.get_by_label("Name of this phone").fill("M")
    life.page.get_by_role("button", name="Pair").click()
    life.page.get_by_label("Name of the boat").fill("Corncrake")
    life.page.get_by_role("button", name="Begin this boat").click()
    life.page.evaluate(CONTROLLED)
    line.be("dead")
    life.page.locator("input[type=file]").first.set_input_files(PICTURE)
    expect(life.page.get_by_role("region", name="Item just kept")).to_be_visible(timeout=90_000)
    life.kill()
    line.be("whole")

    life = Life(playwright, profile, "about:blank")
    try:
        # Where the cookie did reach the disk, this is what a lost one looks like.
        life.browser.contexts[0].clear_cookies()
        life.page.goto(line.address)
        expect(life.page.get_by_role("status").first).to_contain_text(
            "kept here only", timeout=90_000
        )
        life.page.goto(f"{line.address}/pair#{server.new_code()}")
        life.page.get_by_role("button", name="Pair").click()
        life.page.wait_for_url(f"{line.address}/")
        until(lambda: not life.stored("outbox"), "edits did not arrive")
        until(lambda: not life.stored("photo_outbox"), "the photograph did not arrive")
        (photo,) = life.stored("photo")
        assert server.photo(photo["sha256"])
    finally:
        life.kill()
        line.close()
