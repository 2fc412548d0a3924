"""The line between a phone and its server breaks in the middle of things; nothing is lost by it."""

from __future__ import annotations

import hashlib
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Playwright, expect

from faults.kill_the_browser import Life, begin, until
from faults.line import Line
from real_server import RealServer

PHOTOGRAPHS = Path(__file__).parents[2] / "fixtures" / "photographs"
MOUNTAINS = PHOTOGRAPHS / "mountains-turned-with-position.jpg"
BRUSHES = PHOTOGRAPHS / "brushes-progressive.jpg"


@pytest.fixture
def server(tmp_path: Path) -> Iterator[RealServer]:
    made = RealServer(tmp_path / "data")
    made.start()
    yield made
    made.kill()


@pytest.fixture
def line(server: RealServer) -> Iterator[Line]:
    made = Line(server.port)
    yield made
    made.close()


@pytest.fixture
def phone(playwright: Playwright, server: RealServer, line: Line, tmp_path: Path) -> Iterator[Life]:
    profile = tmp_path / "profile"
    begin(playwright, profile, line.address, server.new_code())
    life = Life(playwright, profile, line.address)
    yield life
    life.kill()


def take_out(phone: Life, picture: Path) -> None:
    before = len(phone.stored("photo"))
    phone.page.locator("input[type=file]").first.set_input_files(picture)
    until(lambda: len(phone.stored("photo")) > before, "the picture was not kept")


def send_now(phone: Life, line: Line) -> None:
    phone.page.goto(f"{line.address}/kept")
    phone.page.get_by_role("button", name="Send and receive now").click()


def test_an_upload_cut_at_every_tenth_is_sent_again_and_never_seen_by_half(
    phone: Life, server: RealServer, line: Line
) -> None:
    line.be("dead")
    take_out(phone, MOUNTAINS)
    line.cut_at = 0.0
    line.be("whole")
    for tenth in range(10):
        before = line.cuts
        line.cut_at = tenth / 10
        send_now(phone, line)
        until(lambda: line.cuts > before, f"no upload came to be cut at {tenth} tenths")  # noqa: B023
        (row,) = phone.stored("photo_outbox")
        assert "refused" not in row
        assert server.files() == []
    line.cut_at = None
    send_now(phone, line)
    until(lambda: not phone.stored("photo_outbox"), "the photograph never arrived")
    (photo,) = phone.stored("photo")
    (file,) = server.files()
    assert file.name == hashlib.sha256(file.read_bytes()).hexdigest() == photo["digest"]


def seconds_of_work(phone: Life, picture: Path) -> float:
    began = time.monotonic()
    phone.page.reload()
    take_out(phone, picture)
    phone.page.get_by_role("link", name="Find").click()
    expect(phone.page.get_by_role("searchbox")).to_be_visible()
    return time.monotonic() - began


def test_a_line_that_accepts_and_never_answers_leaves_the_app_usable(
    phone: Life, server: RealServer, line: Line
) -> None:
    line.be("dead")
    with_no_line = seconds_of_work(phone, MOUNTAINS)
    phone.page.go_back()
    line.be("stalled")
    waited = seconds_of_work(phone, BRUSHES)
    assert waited < 3 * with_no_line, "the screen waited for the line"
    expect(phone.page.get_by_role("status")).to_contain_text("kept here only", timeout=30_000)
    assert server.files() == []

    line.be("whole")
    send_now(phone, line)
    until(lambda: not phone.stored("photo_outbox"), "the photographs never arrived")
    assert not phone.stored("outbox")
    assert {file.name for file in server.files()} == {
        row["digest"] for row in phone.stored("photo")
    }
