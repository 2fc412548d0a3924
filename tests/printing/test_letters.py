"""Text made to fit: nothing is lost on the way, and nothing is wider than its room."""

from hypothesis import given, settings
from hypothesis import strategies as st

from shedtally.printing.letters import STRONG, TEXT, fit, printable, width, wrap

# The first example loads the faces, which takes long on a busy machine.
UNHURRIED = settings(deadline=None)
TEXTS = st.text(st.characters(codec="utf-8"), max_size=120)


@UNHURRIED
@given(TEXTS, st.floats(30, 300))
def test_wrapping_loses_no_sign_and_keeps_every_line_in_its_width(text, room):
    shown = printable(text)
    lines = wrap(shown, TEXT, 9, room)
    assert "".join(lines).replace(" ", "") == shown.replace(" ", "")
    assert all(width(line, TEXT, 9) <= room for line in lines)


@UNHURRIED
@given(TEXTS, st.integers(1, 4))
def test_fitted_text_keeps_to_its_lines_and_width_and_its_ends(text, most):
    size, lines = fit(text, STRONG, 120, (14, 8), most)
    shown = printable(text)
    assert 8 <= size <= 14
    assert len(lines) <= most
    assert all(width(line, STRONG, size) <= 120 for line in lines)
    if shown:
        assert lines[0][0] == shown[0]
        assert lines[-1][-1] in (shown[-1], "…")


@UNHURRIED
@given(TEXTS)
def test_printable_text_is_one_line_of_signs_that_the_face_holds(text):
    shown = printable(text)
    assert shown == " ".join(shown.split())
    assert printable(shown) == shown
    assert not any(ord(sign) < 32 for sign in shown)


def test_text_that_fits_is_set_at_the_largest_size_and_whole():
    assert fit("Bilge pump", STRONG, 200, (14, 8), 1) == (14, ["Bilge pump"])


def test_text_shrinks_before_anything_is_left_out():
    size, lines = fit("Seacock, engine raw water", STRONG, 120, (14, 8), 1)
    assert size < 14
    assert lines == ["Seacock, engine raw water"]


def test_a_text_that_is_too_long_is_shortened_between_words():
    text = "absorbents, filter materials, wiping cloths and protective clothing contaminated"
    _, lines = fit(text, TEXT, 90, (8, 8), 2)
    shown = " ".join(lines)
    assert " … " in shown
    assert set(shown.replace("…", "").split()) <= set(text.split())


def test_one_word_that_is_too_long_loses_its_middle():
    assert fit("Polytetrafluoroethylene", TEXT, 60, (8, 8), 1)[1][0].count("…") == 1
