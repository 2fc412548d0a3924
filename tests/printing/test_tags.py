"""Tags: every symbol reads, modules and letters keep their size, no text is clipped."""

import itertools
import random

import numpy as np
import pytest

from shedtally.domain.records import tag
from shedtally.printing.tag_layout import layout
from shedtally.printing.tags import SHEETS, AddressNotPrintable, TagFace, tag_sheet

ADDRESS = "https://192.168.178.20:8443"  # 37 characters with the code: version 3
ALL_SHEETS = pytest.mark.parametrize("sheet", SHEETS.values(), ids=lambda sheet: sheet.id)
LONG_PATH = "boat › lazarette › starboard › under the quarter berth, behind the removable panel"


def codes(count):
    draw = random.Random(1979)
    numbers = (draw.randrange(32**4, tag.NUMBERS) for _ in itertools.count())
    return [tag.encode(n) for n in itertools.islice(filter(tag.is_issuable, numbers), count)]


def flat_code():
    """A code of signs that stand flat on the line, so that ink measures capital height."""
    for signs in itertools.product("HKTMNXZ", repeat=tag.DIGITS):
        number = tag.number_of("".join(signs))
        if tag.is_issuable(number) and tag.encode(number)[-1] in "HKTMNXZ":
            return tag.encode(number)
    raise AssertionError


def mixed_faces():
    given = codes(8)
    return [
        TagFace(given[0]),
        TagFace(given[1], "Seacock, engine raw water", (LONG_PATH, "out 4 May 2026"), "item"),
        TagFace(given[2], "Crate 7", ("shelf B, north wall",), "place"),
        TagFace(given[3], on="place"),
        TagFace(
            given[4], "Oily rags", ("lidded metal can, 20 L", "keep the lid shut"), "container"
        ),
        TagFace(given[5], on="container"),
        TagFace(given[6], "Fuel hose " * 19, (LONG_PATH * 2, "out 12 May 2026"), "item"),
        TagFace(given[7], "Ћилибар Ωμέγα Đàn ống", ("船",), "item"),
    ]


@ALL_SHEETS
def test_both_symbols_of_every_tag_are_read_at_200_dpi(sheet, printed):
    faces = mixed_faces() + [TagFace(code) for code in codes(12)[8:]]
    pages = printed(tag_sheet(faces, sheet, ADDRESS)).symbols(dpi=200)
    read = sorted(symbol.text for page in pages for symbol in page)
    assert read == sorted(2 * [f"HTTPS://192.168.178.20:8443/T/{face.code}" for face in faces])
    assert {symbol.level for page in pages for symbol in page} == {"Q"}


@ALL_SHEETS
@pytest.mark.parametrize(
    ("address", "modules"),
    [("https://shed.local", 25), (ADDRESS, 29), ("https://tally.old-grain-shed.example:8443", 33)],
)
def test_modules_measure_at_least_0_8_mm_in_the_rendering(sheet, address, modules, printed):
    page = printed(tag_sheet([TagFace(codes(1)[0])], sheet, address)).symbols(dpi=300)[0]
    for symbol in page:
        # a pixel at 300 dpi is 0.085 mm: over 25 modules or more an error of 0.004 mm
        assert (symbol.right - symbol.left) / modules > 0.8 - 0.004
        assert (symbol.bottom - symbol.top) / modules > 0.8 - 0.004


@ALL_SHEETS
def test_letters_of_the_code_are_at_least_6_mm_high_in_the_rendering(sheet, printed, ink_rows):
    seen = printed(tag_sheet([TagFace(flat_code())], sheet, ADDRESS))
    (picture,) = seen.pages(dpi=300)
    first, second = sorted(seen.symbols(dpi=300)[0], key=lambda s: (s.left, s.top))
    if sheet.roll:
        box = (3.5, first.bottom + 1, sheet.page_mm[0] - 3.5, first.bottom + 22)
        rows = ink_rows(picture, box, 300)[:1]
    else:
        rows = ink_rows(picture, (first.right + 1, first.top, second.left - 1, first.bottom), 300)
        assert len(rows) == 2
    assert min(rows) >= 6.0


@ALL_SHEETS
def test_four_modules_around_every_symbol_stay_white(sheet, printed):
    seen = printed(tag_sheet(mixed_faces(), sheet, ADDRESS))
    for picture, symbols in zip(seen.pages(dpi=200), seen.symbols(dpi=200), strict=True):
        ink = np.asarray(picture.convert("L")) < 128
        for symbol in symbols:
            quiet = 4 * (symbol.right - symbol.left) / 29
            left, top, right, bottom = (
                round(edge / 25.4 * 200)
                for edge in (symbol.left, symbol.top, symbol.right, symbol.bottom)
            )
            reach = int(quiet / 25.4 * 200) - 1
            around = ink[top - reach : bottom + reach, left - reach : right + reach].copy()
            around[reach - 2 : -reach + 2, reach - 2 : -reach + 2] = False
            assert not around.any()


@ALL_SHEETS
def test_the_two_symbols_stand_at_opposite_ends(sheet):
    at = layout(*sheet.tag_mm, 29.6)
    (ax, ay), (bx, by) = ((box.x + box.width / 2, box.y + box.height / 2) for box in at.symbols)
    assert max(abs(ax - bx), abs(ay - by)) > max(sheet.tag_mm) / 2
    assert min(box.width for box in at.symbols) >= 29.6


@ALL_SHEETS
@pytest.mark.parametrize("title", ["W" * 200, "Seacock " * 25, "Ω" * 60 + " " + "ж" * 120, "x"])
def test_no_sign_leaves_the_tag_however_long_the_words(sheet, title, printed):
    lines = (LONG_PATH * 2, "under_the_berth_" * 12, "out 4 May 2026")
    code = codes(1)[0]
    seen = printed(tag_sheet([TagFace(code, title, lines, "item")], sheet, ADDRESS))
    left, bottom = sheet.corner(0)
    tag_right, tag_top = left + sheet.tag_mm[0], bottom + sheet.tag_mm[1]
    signs = [sign for sign in seen.signs()[0] if sign[1][3] > bottom]
    assert len(signs) > len(code)
    for _, (x0, y0, x1, y1) in signs:
        assert left + 1 < x0 <= x1 < tag_right - 1
        assert bottom + 1 < y0 <= y1 < tag_top - 1
    at = layout(*sheet.tag_mm, 29.6)
    for box in at.symbols:
        for _, (x0, y0, x1, y1) in signs:
            beside = x1 < left + box.x or x0 > left + box.x + box.width
            assert beside or y1 < bottom + box.y or y0 > bottom + box.y + box.height


def test_a_long_name_keeps_its_beginning_and_its_end(printed):
    face = TagFace(codes(1)[0], "Alpha " + "middle " * 60 + "omega", (), "item")
    (text,) = printed(tag_sheet([face], SHEETS["roll-62x100"], ADDRESS)).text()
    assert "Alpha" in text
    assert "omega" in text
    assert "…" in text


def test_a_short_name_is_printed_whole_with_place_and_date(printed):
    face = TagFace(codes(1)[0], "Bilge pump", ("boat › bilge", "out 4 May 2026"), "item")
    for sheet in SHEETS.values():
        (text,) = printed(tag_sheet([face], sheet, ADDRESS)).text()
        assert "Bilge pump" in text
        assert "boat › bilge" in text
        assert "out 4 May 2026" in text


def test_greek_cyrillic_and_vietnamese_print_and_the_unprintable_shows_as_a_sign(printed):
    face = TagFace(codes(1)[0], "Ωμέγα Ћилибар Đàn ống", ("船 \x00\x07 e\u0301",), "item")
    (text,) = printed(tag_sheet([face], SHEETS["a4"], ADDRESS)).text()
    assert "Ωμέγα Ћилибар Đàn ống" in text
    assert "\ufffd é" in text


@pytest.mark.parametrize(
    ("on", "says"),
    [
        ("blank", ["what", "where it sat"]),
        ("place", ["PLACE", "shelf or crate"]),
        ("container", ["WASTE", "one kind of waste only", "opened on"]),
    ],
)
def test_a_tag_printed_in_advance_has_lines_to_write_on(on, says, printed):
    (text,) = printed(tag_sheet([TagFace(codes(1)[0], on=on)], SHEETS["a4"], ADDRESS)).text()
    assert all(word in text for word in says)


def test_looks_differ_where_no_symbol_or_word_stands_and_without_colour(printed):
    code = codes(1)[0]
    ends = []
    for on in ("item", "place", "container"):
        (picture,) = printed(tag_sheet([TagFace(code, "x", (), on)], SHEETS["a4"], ADDRESS)).pages()
        pixels = np.asarray(picture.convert("RGB")).astype(int)
        assert (pixels.max(axis=2) == pixels.min(axis=2)).all()
        left, bottom = SHEETS["a4"].corner(0)
        top = 297 - bottom - 55
        end = [round(v / 25.4 * 200) for v in (left, top, left + 10, top + 55)]
        ends.append((pixels[end[1] : end[3], end[0] : end[2], 0] < 128).mean())
    item, place, container = ends
    assert item < 0.12 < container < 0.6 < place


def test_tags_run_on_to_as_many_pages_as_they_need_in_the_given_order(printed):
    given = codes(23)
    pages = printed(tag_sheet([TagFace(code) for code in given], SHEETS["a4"], ADDRESS)).symbols()
    assert [len(page) // 2 for page in pages] == [10, 10, 3]
    first = min(pages[0], key=lambda symbol: (round(symbol.top), symbol.left))
    assert first.text.endswith(given[0])
    assert pages[2][0].text[-6:] in given[20:]


def test_the_same_tags_give_the_same_file():
    faces = mixed_faces()
    assert tag_sheet(faces, SHEETS["a4"], ADDRESS) == tag_sheet(faces, SHEETS["a4"], ADDRESS)


@pytest.mark.parametrize(
    "address",
    ["https://old_shed.local", "https://[fe80::1]:8443", "https://shed.local/tally", "shed.local",
     "https://user@shed.local", "https://schüppen.local"],
)  # fmt: skip
def test_an_address_that_a_symbol_cannot_hold_is_refused_with_what_to_do(address):
    with pytest.raises(AddressNotPrintable, match="without a path") as refused:
        tag_sheet([TagFace(codes(1)[0])], SHEETS["a4"], address)
    assert address in refused.value.detail


def test_an_address_too_long_for_a_legible_tag_is_refused_and_a_large_label_takes_it(printed):
    address = "https://" + "a-very-long-name-of-a-shed." * 2 + "example:8443"
    with pytest.raises(AddressNotPrintable, match="shorter name, or print on larger labels"):
        tag_sheet([TagFace(codes(1)[0])], SHEETS["a4"], address)
    page = printed(tag_sheet([TagFace(codes(1)[0])], SHEETS["roll-102x152"], address)).symbols()[0]
    assert len(page) == 2


def test_printing_no_tag_is_refused():
    with pytest.raises(ValueError, match="no tag to print"):
        tag_sheet([], SHEETS["a4"], ADDRESS)
