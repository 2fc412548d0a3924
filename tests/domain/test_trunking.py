"""How full a trunking gets: of the cables that are bought, and told on its line of the order."""

import math

import pytest

from shedtally.domain.buying.order import order_list
from shedtally.domain.measures.reading import parse_size
from shedtally.domain.renewals.lines import renewals
from shedtally.domain.wiring.trunking import Filling, how_full, inside_of, space_mm2

WIRE = {"kind": "cable-dc", "size": "2.5 mm2", "fate": "renew", "length_mm": 3000}


@pytest.fixture
def fill(rules):
    return rules.wiring.fill


@pytest.mark.parametrize(
    ("text", "mm2", "is_round"),
    [
        ("40 x 25 mm", 1000, False),
        ("Port, 40\u00d725", 1000, False),
        ("40mm x 25mm", 1000, False),
        ("starboard 16,5 x 10 mm", 165, False),
        ("conduit 20 mm", 100 * math.pi, True),
    ],
)
def test_the_inside_is_read_from_the_words(text, mm2, is_round):
    inside = inside_of(text)
    assert (inside.mm2, inside.is_round) == (pytest.approx(mm2), is_round)


@pytest.mark.parametrize(
    "text", ["", "port side", "trunking 2", "4000 x 25 mm", "2 x 1 mm", "1 mm"]
)
def test_what_has_no_measures_has_no_inside(text):
    assert inside_of(text) is None


def test_several_cores_take_the_circle_around_them(fill):
    one = space_mm2(parse_size("2.5 mm2"), sheathed=False, rules=fill)
    two = space_mm2(parse_size("2 x 2.5 mm2"), sheathed=False, rules=fill)
    assert one == 12.6
    diameter = 2 * math.sqrt(4 * 12.6 / math.pi) + 2 * 1.1
    assert two == pytest.approx(math.pi / 4 * diameter**2)
    assert space_mm2(parse_size("2.5 mm2"), sheathed=True, rules=fill) == two


def test_sections_between_and_beyond_the_table_are_in_proportion(fill):
    def of(text):
        return space_mm2(parse_size(text), sheathed=False, rules=fill)

    assert of("0.75 mm2") == of("1.5 mm2") == 8.6
    assert of("AWG 12") == pytest.approx(12.6 + 4.0 * (3.308773 - 2.5) / 1.5)
    assert of("50 mm2") == pytest.approx(2 * 73.9)
    assert of("19 mm") is None
    assert of("12 x 1.5 mm2") is None


@pytest.mark.parametrize(("taken", "too_full"), [(450.0, False), (450.1, True)])
def test_trunking_is_full_at_45_percent(fill, taken, too_full):
    said, found = how_full("40 x 25 mm", Filling(taken), fill)
    assert found is too_full
    assert "45 % " in said or "45 %" in said
    assert ("take one of 1010 mm2 inside or more" in said) is too_full


def test_conduit_is_full_at_35_percent(fill):
    inside = math.pi / 4 * 400
    assert how_full("20 mm", Filling(inside * 0.349), fill)[1] is False
    assert how_full("20 mm", Filling(inside * 0.351), fill)[1] is True


def line_of(lines):
    (found,) = [line for line in lines if line.kind == "trunking"]
    return found


def test_the_order_says_how_full_a_trunking_gets(items, rules):
    runs = {f"r{n}": {**WIRE, "trunking": "Port, 16 x 16 mm"} for n in range(8)}
    line = line_of(order_list(items(**runs), rules).lines)
    said = "Cables take 101 of 256 mm2 inside, 39 %; trunking is filled up to 45 %."
    assert said in line.details
    assert said not in line.asks


def test_a_trunking_that_would_be_too_full_is_asked_for_larger(items, rules):
    runs = {f"r{n}": {**WIRE, "trunking": "Port, 16 x 16 mm", "count": 2} for n in range(5)}
    line = line_of(renewals(items(**runs), rules).lines)
    (ask,) = [ask for ask in line.open_questions if "inside" in ask]
    assert "126 of 256 mm2" in ask
    assert "take one of 280 mm2 inside or more, or divide the cables" in ask


def test_the_wire_that_was_taken_counts_and_not_the_old_one(items, rules):
    run = {**WIRE, "trunking": "16 x 16", "new_size": "6 mm2"}
    assert any(
        "Cables take 22 of" in say for say in line_of(renewals(items(a=run), rules).lines).details
    )


def test_a_run_without_a_size_is_named_and_not_counted(items, rules):
    bare = {**WIRE, "size": None, "name": "Horn", "trunking": "16 x 16 mm"}
    both = {"a": {**WIRE, "trunking": "16 x 16 mm"}, "b": bare}
    (said,) = [
        say for say in line_of(renewals(items(**both), rules).lines).details if "Cables take" in say
    ]
    assert said.endswith("Not counted, for want of a size: Horn.")
