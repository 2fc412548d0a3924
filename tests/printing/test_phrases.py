"""Languages of printed papers: whole or not at all; every phrase is there, and each is used."""

import re
import string
import tomllib
from pathlib import Path

import pytest

from printing import samples
from printing.test_disposal_list import RULES, flat, waste_list
from shedtally import printing
from shedtally.printing.disposal import pdf
from shedtally.printing.phrases import (
    ENGLISH,
    MissingPhrase,
    NoSuchLanguage,
    Phrases,
    languages,
    phrases,
)

FOLDER = Path(printing.__file__).parent
SPOKEN = re.compile(r"""say\(\s*f?"([a-z]+)\.([a-zA-Z0-9_{}()'?:. ]+)\"""")
BUILT = ("hazard.", "cover.", "mass.", "form.", "sources.", "totals.", "handover.")


def fields(text):
    return {name for _, name, _, _ in string.Formatter().parse(text) if name}


def test_every_phrase_that_is_asked_for_is_there():
    known = phrases().phrases
    asked = {
        f"{section}.{key}"
        for path in FOLDER.rglob("*.py")
        for section, key in SPOKEN.findall(path.read_text("utf-8"))
        if "{" not in key
    }
    assert len(asked) > 50
    assert asked - set(known) == set()


def test_every_phrase_is_used():
    code = "".join(path.read_text("utf-8") for path in FOLDER.rglob("*.py"))
    unused = [
        name for name in phrases().phrases if f'"{name}"' not in code and not name.startswith(BUILT)
    ]
    assert unused == []


@pytest.mark.parametrize("language", languages())
def test_every_language_has_the_same_phrases_with_the_same_places(language):
    english, other = phrases().phrases, phrases(language).phrases
    assert set(other) == set(english)
    for name, text in other.items():
        assert fields(text) == fields(english[name]), name


def test_english_is_there_and_others_are_refused():
    assert ENGLISH in languages()
    with pytest.raises(NoSuchLanguage):
        phrases("tlh")


def test_a_phrase_or_a_sentence_that_a_language_lacks_stops_the_printing():
    half = Phrases("xx", {"cover": {"title": "Liste"}})
    assert half("cover.title") == "Liste"
    with pytest.raises(MissingPhrase, match=r"xx: cover\.boat"):
        half("cover.boat")
    with pytest.raises(MissingPhrase, match="xx: Rags"):
        half.text("Rags")


def test_a_list_in_another_language_has_no_english_left(monkeypatch, printed):
    """A made-up language turns every word of ours into x; what people wrote stays as they wrote it.

    Reasons come from the calculation and are written for this boat, so they are left out here.
    """
    doc = tomllib.loads((FOLDER / "phrases" / "en.toml").read_text("utf-8"))
    strange = {
        section: {key: turned(text) for key, text in rows.items()} for section, rows in doc.items()
    }
    say = Phrases("xx", strange)
    say.texts = AllTurned()
    monkeypatch.setattr(pdf, "phrases", lambda _: say)
    waste = waste_list()
    text = flat(printed(pdf.disposal_pdf(waste, RULES, samples.HEADING)).text())
    written = [
        "Corncrake", "M and T", "Low Track shed", waste.rule_set_name, "Rack by the door",
        *(box.name for stream in waste.streams for box in stream.containers),
        *(item.name for stream in waste.streams for item in stream.items),
        *(item.reason for stream in waste.streams for item in stream.items),
        *(question.name for question in waste.questions),
        *(stream.code for stream in waste.streams), "kg", "L",
    ]  # fmt: skip
    for theirs in sorted(written, key=len, reverse=True):
        text = text.replace(theirs, " ")
    left = {word for word in re.findall(r"[A-Za-z]{3,}", text) if set(word.lower()) != {"x"}}
    assert {word for word in left if not re.fullmatch(r"[A-Z0-9]{3}", word)} == set()


def turned(text):
    """Words as x of the same length; places in braces, and the signs between them, as they are."""
    parts = re.split(r"(\{[^}]*\})", text)
    return "".join(p if p.startswith("{") else re.sub(r"[A-Za-z]", "x", p) for p in parts)


class AllTurned(dict):
    def __contains__(self, text):
        return True

    def __getitem__(self, text):
        return turned(text)
