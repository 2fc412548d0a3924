"""The set-up page in a real browser: with the authority trusted, without, and past a warning."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Error, Page, Playwright, expect

from processes import (
    CHROMIUM_ARGUMENTS,
    Running,
    chromium,
    free_port,
    home_that_trusts,
    start_command,
)

NAME = "shed.local"
CHECKS = ("secure", "worker", "camera", "keeps")


@pytest.fixture(scope="module")
def shed(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    data, port, plain_port = tmp_path_factory.mktemp("shed"), free_port(), free_port()
    ports = ("--port", str(port), "--plain-port", str(plain_port))
    words = ("serve", "--data", str(data), "--name", NAME, *ports)
    running = start_command(*words, data=data, port=port, plain_port=plain_port)
    running.wait_for("Pair with the code")
    yield running
    running.stop()


def launch(playwright: Playwright, home: Path) -> Browser:
    return playwright.chromium.launch(
        executable_path=chromium(),
        args=[*CHROMIUM_ARGUMENTS, f"--host-resolver-rules=MAP {NAME} 127.0.0.1"],
        env={**os.environ, "HOME": str(home)},
    )


@pytest.fixture(scope="module")
def trusting_browser(
    playwright: Playwright, shed: Running, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Browser]:
    certificate = shed.data / "authority" / "authority.pem"
    browser = launch(playwright, home_that_trusts(tmp_path_factory.mktemp("home"), certificate))
    yield browser
    browser.close()


@pytest.fixture(scope="module")
def doubting_browser(
    playwright: Playwright, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Browser]:
    browser = launch(playwright, home_that_trusts(tmp_path_factory.mktemp("home")))
    yield browser
    browser.close()


def states(page: Page) -> dict[str, str | None]:
    expect(page.locator("#result")).not_to_be_empty()
    return {name: page.locator(f"#{name}").get_attribute("data-state") for name in CHECKS}


def test_with_the_authority_trusted_all_four_checks_are_good(
    shed: Running, trusting_browser: Browser
) -> None:
    page = trusting_browser.new_page()
    faults: list[str] = []
    page.on("console", lambda message: faults.append(message.text))
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.goto(f"https://{NAME}:{shed.port}/setup#check")
    assert states(page) == dict.fromkeys(CHECKS, "good")
    expect(page.locator("#result")).to_have_text("All four are good. This phone is ready.")
    assert [fault for fault in faults if "404" not in fault] == []
    # What the check registered is gone again: it must not stand in the way of the app's own.
    assert page.evaluate("navigator.serviceWorker.getRegistrations().then(all => all.length)") == 0


def test_without_trust_the_safe_address_does_not_open_and_the_plain_one_explains(
    shed: Running, doubting_browser: Browser
) -> None:
    with pytest.raises(Error, match="ERR_CERT_AUTHORITY_INVALID"):
        doubting_browser.new_page().goto(f"https://{NAME}:{shed.port}/")
    page = doubting_browser.new_page()
    page.goto(f"http://{NAME}:{shed.plain_port}/")
    assert page.url.endswith("/setup")
    assert states(page) == dict.fromkeys(CHECKS, "missing")
    expect(page.get_by_text("Not safe offline.")).to_be_visible()
    expect(page.get_by_role("link", name="Download the certificate")).to_be_visible()


def test_a_warning_tapped_away_is_found_out_by_the_worker_check(
    shed: Running, doubting_browser: Browser
) -> None:
    page = doubting_browser.new_context(ignore_https_errors=True).new_page()
    page.goto(f"https://{NAME}:{shed.port}/setup")
    assert states(page)["worker"] == "missing"
    expect(page.locator("#worker")).to_contain_text("a warning was tapped away")
    expect(page.locator("#result")).to_contain_text("1 of 4 not good yet")


@pytest.mark.parametrize(
    ("agent", "system"),
    [
        ("Mozilla/5.0 (iPhone; CPU iPhone OS 18_0 like Mac OS X)", "ios"),
        ("Mozilla/5.0 (Linux; Android 14)", "android"),
        ("Mozilla/5.0 (Windows NT 10.0; Win64; x64)", "windows"),
    ],
)
def test_the_steps_of_this_system_are_open_and_fit_a_phone_without_sideways_scrolling(
    shed: Running, doubting_browser: Browser, agent: str, system: str
) -> None:
    context = doubting_browser.new_context(user_agent=agent, viewport={"width": 320, "height": 640})
    page = context.new_page()
    page.goto(f"http://{NAME}:{shed.plain_port}/setup")
    expect(page.locator("details[open]")).to_have_attribute("data-system", system)
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
