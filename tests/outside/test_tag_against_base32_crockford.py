"""Tag codes against an independent implementation of the same notation.

Source: Python package base32-crockford 0.3.0 (PyPI), which implements Douglas Crockford's
"Base 32" with its check symbol, https://www.crockford.com/base32.html. Exact agreement is asked.
"""

import random

import base32_crockford
import pytest

from shedtally.domain.records import tag


def test_1234_is_16j_with_check_character_d():
    assert base32_crockford.encode(1234, checksum=True) == "16JD"
    assert tag.encode(1234) == "0016JD"


def test_0_is_0_with_check_character_0():
    assert base32_crockford.encode(0, checksum=True) == "00"
    assert tag.encode(0) == "000000"


def test_twenty_thousand_codes_agree_with_the_library_both_ways():
    draw = random.Random(32)
    for number in (draw.randrange(tag.NUMBERS) for _ in range(20_000)):
        if tag.is_issuable(number):
            theirs = base32_crockford.encode(number, checksum=True).rjust(tag.LENGTH, "0")
            assert tag.encode(number) == theirs
            assert base32_crockford.decode(theirs, checksum=True) == number


def test_numbers_never_given_out_are_those_whose_check_symbol_is_no_digit():
    for number in range(100_000, 100_500):
        symbol = base32_crockford.encode(number, checksum=True)[-1]
        assert tag.is_issuable(number) == (symbol not in "*~$=U")


def test_the_library_refuses_what_we_refuse():
    code = tag.encode(23_571_113)
    for wrong in (code[1] + code[0] + code[2:], "0" + code[1:]):
        with pytest.raises(ValueError, match="invalid check symbol"):
            base32_crockford.decode(wrong, checksum=True)
        with pytest.raises(tag.BadCode):
            tag.parse(wrong)
