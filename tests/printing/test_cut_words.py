"""What a cutting sheet says of its plan: true where nothing is cut, bought or priced too."""

import pytest

from shedtally.domain.buying.lists import CutSheet, SheetPiece, SheetStock
from shedtally.printing.figures import counted, spec_without
from shedtally.printing.order import cut_words, proof

PIECE = SheetPiece("i", "Hose", (), 5040, (), by_measure=True)


def sheet(**values):
    plain = {
        "stock": (), "by_metre": (), "too_long": (), "cost": None, "bound": None, "currency": "",
        "bought_mm": 0, "least_mm": 0, "proven": True, "kerf_mm": 2,
    }  # fmt: skip
    return CutSheet(**{**plain, **values})


SHED = SheetStock("", 6000, True, (PIECE,), 2, 958)
REEL = SheetStock("Quay", 25_000, False, (PIECE,), 2, 19_958)
PRICED = {"stock": (REEL,), "bought_mm": 25_000, "currency": "EUR"}


@pytest.mark.parametrize(
    ("values", "said"),
    [
        ({"too_long": (PIECE,)}, "Nothing on offer and nothing in the shed holds these runs"),
        ({"stock": (SHED,)}, "Nothing must be bought: what lies in the shed is enough."),
        ({"stock": (SHED,), "too_long": (PIECE,)}, "The runs that nothing holds are left out."),
        ({"stock": (REEL,), "bought_mm": 25_000, "least_mm": 25_000}, "No shorter purchase is"),
        ({**PRICED, "too_long": (PIECE,)}, "No cheaper purchase is possible."),
        (
            {**PRICED, "too_long": (PIECE,), "bound": 54.0, "proven": False},
            "Whether a cheaper purchase is possible is open.",
        ),
        (
            {"stock": (REEL,), "bought_mm": 25_000, "least_mm": 24_000, "proven": False},
            "This one is at most 4.2 % longer than the shortest purchase could be.",
        ),
        ({**PRICED, "cost": 55.0, "bound": 55.0}, "less than 55.00 EUR: this is the cheapest"),
        (
            {**PRICED, "cost": 55.0, "bound": 54.99, "proven": False},
            "than 54.99 EUR. This one is at most 0.1 % dearer than the cheapest could be.",
        ),
    ],
)  # fmt: skip
def test_the_sentence_on_the_plan_fits_what_the_plan_is(values, said):
    assert said in proof(sheet(**values))


def test_what_is_bought_is_said_where_it_is_nothing():
    assert cut_words(sheet(too_long=(PIECE,))) == "nothing can be cut"
    assert cut_words(sheet(stock=(SHED,))) == "nothing: what lies in the shed is enough"


def test_only_a_whole_part_of_what_is_asked_for_is_left_out():
    spec = "Bolt, 1 in long, 1, stainless; A4, or better"
    assert spec_without(spec, "stainless; A4, or better", "1") == "Bolt, 1 in long"
    assert spec_without("Bolt", "", "M8") == "Bolt"


def test_counts_are_said_with_their_word():
    assert (counted(1, "piece"), counted(12_400, "piece")) == ("1 piece", "12\u202f400 pieces")
