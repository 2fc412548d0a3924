"""QR symbols against the standard's figures and an independent decoder.

Sources: ISO/IEC 18004, table of capacities (alphanumeric, level Q: version 2 holds 29 characters,
version 3 holds 47, version 4 holds 67) and its alphanumeric set of 45 characters, both as given by
the code-word tables of two libraries; quiet zone of 4 modules. Decoder: zxing-cpp 3 (PyPI), which
shares no code with the encoder. Agreement is exact.
"""

import numpy as np
import pytest
import zxingcpp

from shedtally.domain.records import tag
from shedtally.printing import symbol

CODE = tag.encode(23_571_113)


def picture(modules, scale=6):
    cells = np.pad(np.array(modules, dtype=bool), symbol.QUIET_MODULES)
    return np.where(cells, 0, 255).astype(np.uint8).repeat(scale, 0).repeat(scale, 1)


@pytest.mark.parametrize(
    ("characters", "modules"),
    [(28, 25), (29, 25), (30, 29), (46, 29), (47, 29), (48, 33), (67, 33), (68, 37)],
)
def test_a_symbol_grows_exactly_where_the_table_of_capacities_says(characters, modules):
    text = symbol.payload("https://" + "s" * (characters - 17), CODE)
    assert len(text) == characters
    assert len(symbol.matrix(text)) == modules


def test_the_address_holds_only_the_45_signs_of_the_alphanumeric_set():
    allowed = set("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:")
    assert len(allowed) == 45
    assert set(symbol.payload("https://old-shed.example:8443", CODE)) <= allowed


@pytest.mark.parametrize("address", ["https://shed.local", "http://localhost:8000"])
def test_an_independent_decoder_reads_the_same_text_at_level_q(address):
    text = symbol.payload(address, CODE)
    (found,) = zxingcpp.read_barcodes(picture(symbol.matrix(text)))
    assert found.text == text
    assert found.ec_level == "Q"
    assert tag.from_scan(found.text) == CODE


def test_an_independent_decoder_still_reads_a_symbol_with_a_blot_over_a_twelfth():
    # level Q mends about 25 % of the code words (ISO/IEC 18004); the blot hits no finder pattern
    text = symbol.payload("https://shed.local:8443", CODE)
    image = picture(symbol.matrix(text))
    side = image.shape[0] - 8 * 6
    blot = int(side * 0.295)
    image[-4 * 6 - blot - 30 : -4 * 6 - 30, 120 : 120 + blot] = 0
    assert (blot / side) ** 2 > 1 / 12
    (found,) = zxingcpp.read_barcodes(image)
    assert found.text == text


def test_a_spoilt_finder_pattern_kills_one_symbol_and_the_other_on_the_tag_still_reads():
    text = symbol.payload("https://shed.local:8443", CODE)
    good = picture(symbol.matrix(text))
    spoilt = good.copy()
    spoilt[: 12 * 6, : 12 * 6] = 0
    assert [found.text for found in zxingcpp.read_barcodes(spoilt)] == []
    both = np.concatenate((spoilt, np.full_like(good, 255), good), axis=1)
    assert [found.text for found in zxingcpp.read_barcodes(both)] == [text]
