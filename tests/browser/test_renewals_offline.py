"""With no signal: what to buy is fixed once a line, steps and prices are kept, a wire is sized."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Page, Playwright, expect

from browser.conftest import phones
from browser.phone import Phone, Shed

HOSE = re.compile("^Bilge pump hose")


@pytest.fixture(scope="module")
def held(
    playwright: Playwright, shed: Shed, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Phone]:
    """One phone with a day boat, whose bilge hose is measured; the lists have come."""
    with phones(playwright, tmp_path_factory.mktemp("pocket")) as open_one:
        phone = open_one("M", shed).pair()
        phone.begin_boat("Corncrake")
        phone.open("/walk-round")
        phone.button(re.compile("Small day boat")).click()
        phone.page.get_by_label("List what is usual there too").click()
        phone.button(re.compile("^Make 10 compartments$")).click()
        phone.page.get_by_role("link", name=re.compile("^Cuddy")).first.wait_for()
        phone.open(f"/item/{key_of(phone, 'hose-bilge')}/edit")
        fill(phone.page, "Size", "38 mm")
        fill(phone.page, "Length", "1.2 m")
        phone.wait_until_sent()
        phone.ready_for_offline()
        phone.reserve()
        phone.open("/renewals/order")
        phone.button("Make it anew").click()
        expect(phone.page.get_by_role("link", name=HOSE)).to_contain_text("38 mm")
        yield phone


@pytest.fixture
def phone(held: Phone) -> Iterator[Phone]:
    held.offline()
    yield held
    held.online()


def key_of(phone: Phone, kind: str) -> str:
    rows = phone.stored_records("item")
    return next(str(row["key"]) for row in rows if row["values"].get("kind") == kind)


def fill(page: Page, label: str, text: str) -> None:
    field = page.get_by_label(label, exact=True).first
    field.fill(text)
    field.blur()


def only(phone: Phone, table: str) -> dict[str, object]:
    (row,) = phone.stored_records(table)
    return dict(row["values"])


def until_kept(phone: Phone, table: str, **values: object) -> None:
    def kept() -> bool:
        rows = [row["values"] for row in phone.stored_records(table)]
        return any(all(row.get(name) == value for name, value in values.items()) for row in rows)

    phone.until(kept, f"{table} {values} was not kept")


def test_steps_prices_and_leftovers_are_kept_offline_and_bad_ones_said_plainly(
    phone: Phone,
) -> None:
    page = phone.page
    phone.open("/renewals/order")
    page.get_by_role("link", name=HOSE).click()
    phone.button("Add a price").click()
    fill(page, "Price of a reel, with its currency", "44")
    expect(page.get_by_role("alert").last).to_contain_text("has no currency")
    expect(page.get_by_label("Price of a reel, with its currency")).to_have_value("44")
    fill(page, "Price of a reel, with its currency", "44 eur")
    fill(page, "Length of the reel", "1")
    expect(page.get_by_role("alert").last).to_contain_text("1 has no unit")
    fill(page, "Length of the reel", "4 ft")
    until_kept(phone, "price", amount=44, currency="EUR", length_mm=1219.2)
    expect(page.get_by_text("its price is in the next list")).to_be_visible()
    expect(page.get_by_text("longer than any reel here: 1.52 m")).to_be_visible()

    phone.button("Add a price").click()
    other = page.locator("details[open]").last
    fill_in = other.get_by_label("Price of a reel, with its currency")
    fill_in.fill("12")
    fill_in.blur()
    other.get_by_role("button", name="Keep 12.00 EUR").click()
    other.get_by_label("Sold by the").select_option("metre")
    until_kept(phone, "price", amount=12, currency="EUR", per="metre")
    price = other.get_by_label("Price of a metre, with its currency")
    price.fill("£10")
    price.blur()
    expect(page.get_by_text("EUR and GBP can't be compared")).to_be_visible()
    other.get_by_role("button", name="Take this one").click()
    expect(page.get_by_text("EUR and GBP can't be compared")).to_have_count(0)

    fill_length = page.get_by_label("How long").last
    fill_length.fill("60 cm")
    phone.button("Keep this length").click()
    until_kept(phone, "leftover", length_mm=600)

    phone.open("/renewals/order")
    phone.button(re.compile("^Bought: Bilge pump hose")).click()
    phone.button(re.compile("^Arrived: Bilge pump hose")).click()
    phone.button(re.compile("^Fitted: Bilge pump hose")).click()
    phone.until(lambda: bool(only(phone, "purchase").get("fitted_at")), "the step was not kept")
    phone.open("/renewals/order")
    row = page.locator(".row").filter(has=page.get_by_role("link", name=HOSE))
    expect(row).to_contain_text("Fitted")


def test_what_to_buy_is_fixed_once_for_a_line_offline(phone: Phone) -> None:
    page = phone.page
    phone.open(f"/item/{key_of(phone, 'hose-bilge')}")
    page.get_by_role("link", name="Say what to buy").click()
    expect(page.get_by_text("Two clamps at each end: what is usual for bilge.")).to_be_visible()
    fill(page, "Inside diameter", "3/4")
    expect(page.get_by_role("alert").last).to_contain_text("3/4 has no unit")
    expect(page.get_by_label("Inside diameter")).to_have_value("3/4")
    fill(page, "Inside diameter", "1 1/2 in")
    page.get_by_role("radio", name="Two").check()
    page.get_by_label("Standard to ask for").select_option(index=1)
    fill(page, "More by, %", "15 %")
    until_kept(phone, "spec", bore_mm=38.1, clamps_each_end=2, allowance=0.15)
    assert str(only(phone, "spec")["standard"]).startswith("ISO 15083")
    expect(page.get_by_text("Inside 38.1 mm.")).to_be_visible()
    page.reload()
    expect(page.get_by_text("Clamps at each end: 2.")).to_be_visible()


def test_a_new_part_gets_its_tag_offline_and_stands_for_the_old_one(phone: Phone) -> None:
    page = phone.page
    old = key_of(phone, "hose-bilge")
    phone.open(f"/item/{old}")
    page.get_by_role("link", name="The new part is here").click()
    code = page.get_by_test_id("new-part-code").inner_text()
    phone.button(f"Keep it, with tag {code}").click()
    page.wait_for_url(re.compile("/item/"))
    expect(page.get_by_role("heading", name="New, in the place of")).to_be_visible()
    until_kept(phone, "item", replaces=old, never_aboard=True, whereabouts="ashore")
    rows = {row["key"]: row["values"] for row in phone.stored_records("tag")}
    (new,) = [row["key"] for row in phone.items() if row["values"].get("replaces") == old]
    assert rows[code.replace("-", "")]["on"] == f"item/{new}"


def test_a_wire_is_sized_offline_and_a_load_of_nothing_refused(phone: Phone) -> None:
    page = phone.page
    key = key_of(phone, "hose-fuel")
    phone.open(f"/item/{key}/edit")
    kind = page.get_by_label("Kind", exact=True)
    kind.fill("dc cable")
    page.get_by_role("option", name=re.compile("^DC cable")).first.click()
    phone.open(f"/item/{key}/wire")
    fill(page, "Load, A", "0")
    page.get_by_role("radio", name="12", exact=True).check()
    fill(page, "Length, one way", "4 m")
    expect(page.get_by_text("A load of 0 needs no wire")).to_be_visible()
    fill(page, "Load, A", "10")
    expect(page.get_by_role("button", name=re.compile("^Take AWG"))).to_be_visible()
    phone.button(re.compile("^Take AWG")).click()
    until_kept(phone, "item", load_a=10)
    phone.until(
        lambda: any(row["values"].get("new_size") for row in phone.items()),
        "the size was not kept",
    )


def test_an_unknown_thread_is_explained_and_stays(phone: Phone) -> None:
    page = phone.page
    phone.open(f"/item/{key_of(phone, 'anode')}/edit")
    kind = page.get_by_label("Kind", exact=True)
    kind.fill("seacock")
    page.get_by_role("option", name=re.compile("^Seacock")).first.click()
    fill(page, "Thread", "as the old one")
    expect(page.get_by_text("is no thread that I know")).to_be_visible()
    expect(page.get_by_label("Thread", exact=True)).to_have_value("as the old one")
    fill(page, "Thread", "G 3/4 A")
    until_kept(phone, "item", thread="G 3/4 A")


def test_threads_that_are_joined_and_do_not_fit_are_told_offline(phone: Phone) -> None:
    page = phone.page
    tail, cock = (str(row["key"]) for row in phone.stored_records("item")[:2])
    for key, kind, thread in ((tail, "Hose tail", "3/4 NPT"), (cock, "Seacock", "G 3/4")):
        phone.open(f"/item/{key}/edit")
        fill(page, "Its own name", f"Odd {kind.lower()}")
        page.get_by_label("Kind", exact=True).fill(kind.lower())
        page.get_by_role("option", name=re.compile(f"^{kind}")).first.click()
        fill(page, "Thread", thread)
        until_kept(phone, "item", thread=thread)
    phone.button("Say what it was joined to").click()
    page.get_by_label("Join 1: to", exact=True).fill("Odd hose tail")
    page.get_by_role("option", name=re.compile("^Odd hose tail")).first.click()
    said = page.get_by_text("Doesn't fit: G 3/4 on 3/4 NPT: BSP threads have 55 degrees")
    expect(said).to_be_visible()
    # Seen from the other side as well, where nobody opens the editor.
    phone.open(f"/item/{tail}")
    expect(page.get_by_text("Doesn't fit: G 3/4 on 3/4 NPT")).to_be_visible()
    phone.open(f"/item/{cock}/edit")
    # What is written is folded to a line with what is wrong with it; a tap opens its fields.
    thread = page.get_by_label("Join 1: thread", exact=True)
    expect(said).to_be_visible()
    expect(thread).to_be_hidden()
    page.locator("summary").filter(has_text="Odd hose tail").click()
    expect(thread).to_be_visible()
    fill(page, "Join 1: thread", "NPT")
    expect(page.get_by_text("“NPT” was not kept and stays as you typed it")).to_be_visible()
    fill(page, "Join 1: thread", "3/4 NPT female")
    until_kept(phone, "end", item=cock, to_item=tail, thread="3/4 NPT female")
    expect(said).to_have_count(0)
