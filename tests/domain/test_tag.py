"""Tag codes: nothing mistyped may pass as another tag."""

import itertools
import json
import random
from pathlib import Path

import pytest

from shedtally.domain.records import tag

VECTORS = json.loads(
    (Path(__file__).parents[2] / "fixtures/contract/tag.json").read_text(encoding="utf-8")
)


def _samples(count):
    draw = random.Random(1979)
    return [
        tag.encode(number)
        for number in (draw.randrange(tag.NUMBERS) for _ in range(2 * count))
        if tag.is_issuable(number)
    ][:count]


@pytest.mark.parametrize("row", VECTORS["encode"], ids=lambda row: row["code"])
def test_a_number_becomes_the_agreed_code_and_back(row):
    assert tag.encode(row["number"]) == row["code"]
    assert tag.shown(row["code"]) == row["shown"]
    assert tag.number_of(row["code"]) == row["number"]


@pytest.mark.parametrize("row", VECTORS["not_issuable"], ids=lambda row: row["why"])
def test_a_number_without_a_printable_check_character_is_never_given_out(row):
    assert not tag.is_issuable(row["number"])
    with pytest.raises(ValueError, match="has no code"):
        tag.encode(row["number"])


@pytest.mark.parametrize("row", VECTORS["parse"], ids=lambda row: repr(row["text"]))
def test_a_code_is_read_however_a_person_writes_it(row):
    assert tag.parse(row["text"]) == row["code"]


@pytest.mark.parametrize("row", VECTORS["bad"], ids=lambda row: repr(row["text"]))
def test_a_text_that_is_no_code_is_refused_for_the_right_reason(row):
    with pytest.raises(tag.BadCode) as refused:
        tag.parse(row["text"])
    assert refused.value.problem == row["problem"]
    assert refused.value.detail.endswith(".")


@pytest.mark.parametrize("row", VECTORS["from_scan"], ids=lambda row: repr(row["text"]))
def test_a_scanned_address_of_any_host_gives_its_code(row):
    assert tag.from_scan(row["text"]) == row["code"]


@pytest.mark.parametrize("row", VECTORS["bad_scan"], ids=lambda row: repr(row["text"]))
def test_a_scan_of_something_else_is_refused_for_the_right_reason(row):
    with pytest.raises(tag.BadCode) as refused:
        tag.from_scan(row["text"])
    assert refused.value.problem == row["problem"]


@pytest.mark.parametrize("row", VECTORS["likely"], ids=lambda row: repr(row["text"]))
def test_the_agreed_codes_are_offered_for_a_near_miss(row):
    assert list(tag.likely(row["text"])) == row["codes"]


def test_every_single_wrong_character_is_caught():
    for code in _samples(300):
        for at, sign in itertools.product(range(tag.LENGTH), tag.ALPHABET):
            wrong = code[:at] + sign + code[at + 1 :]
            if wrong != code:
                with pytest.raises(tag.BadCode, match="one character is wrong"):
                    tag.parse(wrong)


def test_every_swap_of_neighbours_is_caught_check_character_included():
    for code in _samples(4_000):
        for at in range(tag.LENGTH - 1):
            swapped = code[:at] + code[at + 1] + code[at] + code[at + 2 :]
            if swapped != code:
                with pytest.raises(tag.BadCode, match="two are swapped"):
                    tag.parse(swapped)


def test_the_arithmetic_behind_the_promise_holds():
    # a wrong digit changes the number by d * 32**k, a swap by d * 31 * 32**k, with 0 < d < 32
    weights = [pow(32, place, tag.MODULUS) for place in range(tag.DIGITS)]
    assert all(d * w % tag.MODULUS for d in range(1, 32) for w in weights)
    assert all(d * 31 * w % tag.MODULUS for d in range(1, 32) for w in weights)
    # last digit and check swapped: d * (1 + 1) must not vanish either
    assert all(2 * d % tag.MODULUS for d in range(1, 32))


def test_a_swap_is_among_the_likely_codes_offered():
    for code in _samples(200):
        swapped = code[1] + code[0] + code[2:]
        if swapped != code:
            assert code in tag.likely(swapped)


def test_what_is_offered_as_likely_is_always_a_code():
    for code in _samples(200):
        for offered in tag.likely("8" + code[1:]):
            assert tag.parse(offered) == offered


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("BRRA", "2 of them are missing"),
        ("BRRAE", "1 of them is missing"),
        ("BRRAEUV"[:5] + "1234", "this has 9: 3 too many"),
        ("U23456", "probably a V"),
        ("Ä23456", "so Ä can't be part"),
        ("\x0023456", "so one of the characters can't"),
    ],
)
def test_the_message_says_what_is_wrong(text, says):
    with pytest.raises(tag.BadCode, match=says):
        tag.parse(text)


@pytest.mark.parametrize("given_out", [0, 1, 32**4, tag.NUMBERS // 2])
@pytest.mark.parametrize("chance", [lambda _: 0, lambda n: n - 1])
def test_after_a_restore_numbers_go_on_far_past_all_that_may_be_printed(given_out, chance):
    first = tag.first_after_restore(given_out, chance)
    assert first - given_out >= 200 * 500
    assert first - given_out <= 200 * 500 + (tag.NUMBERS - given_out) // 4


def test_restores_do_not_use_the_numbers_up():
    number = tag.NUMBERS // 2
    for _ in range(20):
        number = tag.first_after_restore(number, lambda n: n // 2)
    assert tag.NUMBERS - number > 400_000
    for left in (0, 1, 2, 3, 1000):
        number = tag.first_after_restore(tag.NUMBERS - left, lambda n: n - 1)
        assert tag.NUMBERS - left <= number <= tag.NUMBERS
