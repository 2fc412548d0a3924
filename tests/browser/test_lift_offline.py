"""Planning a lift with no signal: kept at once, refused where no tape reads so, then put right."""

from __future__ import annotations

import re
from collections.abc import Callable

from playwright.sync_api import Locator, expect

from browser.phone import Phone, Shed


def leave(field: Locator, text: str) -> None:
    field.fill(text)
    field.blur()


def test_a_lift_is_planned_offline_and_what_cannot_be_read_stays_as_typed(
    shed: Shed, open_phone: Callable[..., Phone]
) -> None:
    phone = open_phone("N", shed).pair()
    phone.begin_boat("Corncrake")
    page = phone.page
    phone.open("/boat")
    phone.button("List an item that is still aboard").click()
    # The boat's own screen has a field for a name as well.
    page.wait_for_url(re.compile("/item/"))
    name = page.get_by_label("Name").first
    leave(name, "Engine")
    key = page.url.split("/item/")[1].split("/")[0]
    phone.wait_until_sent()
    phone.ready_for_offline()
    phone.offline()

    phone.open(f"/item/{key}")
    phone.button("Plan a lift").tap()
    page.wait_for_url(re.compile(r"/lifts/"))
    (lift,) = phone.stored_records("lift")
    assert lift["values"]["of"] == key

    phone.button("Add an eye").tap()
    eye = page.get_by_role("group", name="Eye 1")
    aft, rated = eye.get_by_label("Aft, m"), eye.get_by_label("Eye rated, kg")

    def kept(table: str) -> dict[str, object]:
        (record,) = phone.stored_records(table)
        return dict(record["values"])

    for field, wrong, limits in (
        (aft, "by the flywheel", "-200 to 200"),
        (aft, "500", "-200 to 200"),
        (rated, "-4", "0 to 100000"),
    ):
        leave(field, wrong)
        said = eye.get_by_role("alert").filter(has_text=wrong)
        expect(said).to_contain_text("stays as you typed it")
        expect(said).to_contain_text(limits)
        expect(field).to_have_value(wrong)
    assert kept("eye").get("aft_m") is None
    assert kept("eye").get("rated_kg") is None

    leave(aft, "5,6")
    leave(rated, "900")
    phone.until(lambda: kept("eye").get("rated_kg") == 900, "the rating was not kept")
    assert kept("eye")["aft_m"] == 5.6
    assert kept("eye")["lift"] == lift["key"]
    expect(eye.get_by_role("alert")).to_have_count(0)

    # The second on the screen is the hook's; the first is that of the middle of mass.
    leave(page.get_by_label("Up, m").nth(1), "2.2")
    phone.until(lambda: kept("lift").get("hook_up_m") == 2.2, "the height was not kept")
    expect(page.get_by_text("the result comes with the server's next list")).to_be_visible()

    _a_low_hook_is_refused_at_once(phone, kept)

    # Through a reload with no signal it is all still there.
    page.reload()
    expect(page.get_by_role("group", name="Eye 1").get_by_label("Aft, m")).to_have_value("5.6")

    phone.online()
    phone.wait_until_sent()


def _a_low_hook_is_refused_at_once(phone: Phone, kept: Callable[[str], dict[str, object]]) -> None:
    """Two eyes far apart: what stands too wide is kept, and said with the range."""
    page = phone.page
    for label in ("Up, m", "To starboard, m"):
        leave(page.get_by_role("group", name="Eye 1").get_by_label(label), "0")
    phone.button("Add an eye").tap()
    other = page.get_by_role("group", name="Eye 2")
    for label, at in (("Aft, m", "9.6"), ("To starboard, m", "0"), ("Up, m", "0")):
        leave(other.get_by_label(label), at)
    for label, at in (("Aft, m", "7.6"), ("To starboard, m", "0"), ("Up, m", "-0.5")):
        leave(page.get_by_label(label).first, at)
    expect(page.get_by_role("alert")).to_have_count(0)
    hook = page.get_by_label("Up, m").nth(1)
    leave(hook, "1")
    expect(page.get_by_role("alert")).to_contain_text("0 to 60° is allowed")
    phone.until(lambda: kept("lift").get("hook_up_m") == 1, "the low hook was not kept")
    leave(hook, "2.2")
    expect(page.get_by_role("alert")).to_have_count(0)
