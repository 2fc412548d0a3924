"""A site's own rules: read with clear faults, added without touching ours, never milder."""

import datetime
import re

import pytest

from shedtally.domain.boat import from_values
from shedtally.domain.waste.apart import may_share
from shedtally.domain.waste.by_stream import waste_list
from shedtally.rules.load import load
from shedtally.rules.local import read_local, with_local
from shedtally.rules.local_check import BadLocalRules
from shedtally.rules.local_folder import LocalFolder

RULES = load()
DAY = datetime.date(2026, 10, 1)
FILE = """
id = "harbour"
name = "Harbour site"
based_on = "eu"
dated = 2026-11-20

[[category]]
stream = "oil-engine"
name = "Used oil, counter 3"
code = "H-12"
keep_apart = ["Cooking oil"]

[[ask]]
stream = "timber"
field = "lead"
ask = "Is there any paint on it?"
assumed = "painted"

[[apart]]
first = "timber"
second = "plastic"
level = "container"
why = "Two skips."

[[note]]
text = "Open on Saturdays."
"""


def faults(text):
    with pytest.raises(BadLocalRules) as refused:
        read_local("mine.toml", text if isinstance(text, bytes) else text.encode(), RULES)
    return refused.value.faults


def harbour(text=FILE):
    made = read_local("mine.toml", text.encode(), RULES)
    return with_local(RULES, [made], [], "v2")


def listed(rules, law, **values):
    boat = from_values("b", [("item", "it", {"fate": "waste", **values})])
    return waste_list(boat, rules, law, "business", DAY)


def test_a_site_names_and_codes_our_streams_and_says_what_it_stands_on():
    (stream,) = listed(harbour(), "harbour", kind="engine-oil").streams
    assert (stream.name, stream.code, stream.hazardous) == ("Used oil, counter 3", "H-12", True)
    assert "13 02 08*" in stream.code_title
    assert "Harbour site" in stream.basis
    assert stream.keep_apart[0] == "Cooking oil"
    assert set(RULES.streams["oil-engine"].keep_apart) < set(stream.keep_apart)
    assert "Local rules of the site" in stream.sources


def test_what_the_site_does_not_name_is_as_in_the_set_below():
    rules = harbour()
    assert listed(rules, "harbour", kind="old-petrol").streams == (
        listed(RULES, "eu", kind="old-petrol").streams
    )


def test_ours_stay_as_they_were():
    assert listed(harbour(), "eu", kind="engine-oil").streams == (
        listed(RULES, "eu", kind="engine-oil").streams
    )


def test_the_site_asks_more_and_keeps_more_apart():
    rules = harbour()
    found = listed(rules, "harbour", kind="panel-ply")
    assert "Is there any paint on it?" in [one.ask for one in found.questions]
    assert may_share(rules.under("harbour"), "timber", "plastic", "container")
    assert may_share(rules, "timber", "plastic", "container") is None


def test_its_day_and_its_notes_stand_on_the_list():
    found = listed(harbour(), "harbour")
    assert found.edition == "2026-11-20"
    assert any("Open on Saturdays." in note for note in found.notes)


def test_the_new_battery_codes_change_beneath_the_code_of_the_site():
    text = FILE + '\n[[category]]\nstream = "alkaline"\ncode = "H-9"\n'
    rows = harbour(text).rule_sets["harbour"].entries["alkaline", "business"]
    assert [(row.code, row.hazardous) for row in rows] == [("H-9", False), ("H-9", True)]
    assert rows[1].valid_from == datetime.date(2026, 12, 9)


@pytest.mark.parametrize(
    ("old", "new", "line", "said"),
    [
        ('id = "harbour"\n', "", 1, "id is missing"),
        ('"harbour"', '"eu"', 2, "one of the sets that come with the program"),
        ('"harbour"', '"Har bour"', 2, "small letters"),
        ('based_on = "eu"', 'based_on = "mars"', 4, "Choose one of ca-bc, eu, gb, us-federal"),
        ("dated = 2026-11-20", 'dated = "soon"', 5, "like dated = 2026-11-25"),
        ("dated", "date", 5, "date isn't known here"),
        ('"oil-engine"', '"oil-engin"', 8, 'Did you mean "oil-engine"?'),
        ('code = "H-12"', "code = 12", 10, "text in double quotes"),
        ('code = "H-12"', 'code = "H-12"\nhazardous = false', 11, "never milder"),
        ('code = "H-12"', 'code = "H-12"\nholder = "me"', 11, '"business" or "household"'),
        ('code = "H-12"', 'code = "H-12"\nvalid_from = 2026-01-01T10:00:00', 11, "a day"),
        ('["Cooking oil"]', '"Cooking oil"', 11, "a list of texts"),
        ('field = "lead"', 'field = "colour"', 15, "can't be asked for"),
        ('assumed = "painted"\n', "", 13, "has no assumed"),
        ('"container"', '"box"', 22, '"container" or "shelf"'),
        ('first = "timber"', 'first = "timbre"', 20, "no stream, set or class"),
        (
            '[[note]]\ntext = "Open on Saturdays."',
            'note = "x"',
            25,
            "note isn't known in [[apart]]",
        ),
        ('text = "Open on Saturdays."', "text =", 26, "can't be read"),
        ('text = "Open', 'txt = "Open', 25, "has no text"),
    ],
)
def test_a_fault_names_its_line_and_what_to_do(old, new, line, said):
    told = faults(FILE.replace(old, new, 1))
    assert any(said in one for one in told), told
    if "can't be read" not in said:
        assert any(one.startswith(f"line {line}: ") for one in told), told
    assert all(re.match(r"line \d+: ", one) for one in told)


def test_all_faults_are_told_at_once():
    assert (
        len(faults(FILE.replace("oil-engine", "oil").replace('"shelf"', "1").replace("eu", "x")))
        > 1
    )


def test_what_is_no_text_is_said_so():
    assert "UTF-8" in faults(b'id = "\xff"')[0]


def test_a_broken_file_leaves_the_last_good_state_and_says_so(tmp_path, caplog):
    folder = tmp_path / "local-rules"
    folder.mkdir()
    file = folder / "harbour.toml"
    file.write_text(FILE, "utf-8")
    kept = LocalFolder(tmp_path, RULES)
    first = kept.now()
    assert first.rule_sets["harbour"].name == "Harbour site"
    assert kept.now() is first
    file.write_text(FILE.replace('"oil-engine"', '"oil"'), "utf-8")
    broken = kept.now()
    assert broken.rule_sets["harbour"].name == "Harbour site"
    (state,) = broken.local_files
    assert state.older_used
    assert state.problem.startswith("line 8: ")
    assert "line 8" in caplog.text
    assert broken.version != first.version
    again = LocalFolder(tmp_path, RULES).now()
    assert again.rule_sets["harbour"].name == "Harbour site"
    file.write_text(FILE.replace("Harbour site", "New site"), "utf-8")
    mended = kept.now()
    assert mended.rule_sets["harbour"].name == "New site"
    assert mended.local_files[0].problem == ""
    assert len({RULES.version, first.version, broken.version, mended.version}) == 4
    file.unlink()
    assert kept.now() is RULES


def test_a_broken_file_without_an_older_state_takes_nothing_else_along(tmp_path):
    folder = tmp_path / "local-rules"
    folder.mkdir()
    (folder / "a.toml").write_text("id =", "utf-8")
    (folder / "b.toml").write_text(FILE, "utf-8")
    (folder / "c.toml").write_text(FILE, "utf-8")
    (folder / "d.toml").write_bytes(b"x" * 1_000_001)
    rules = LocalFolder(tmp_path, RULES).now()
    assert set(rules.rule_sets) == {*RULES.rule_sets, "harbour"}
    assert [bool(one.problem) for one in rules.local_files] == [True, False, True, True]
    assert not any(one.older_used for one in rules.local_files)


def test_no_folder_means_no_local_rules(tmp_path):
    assert LocalFolder(tmp_path, RULES).now() is RULES


def test_the_example_that_people_copy_can_be_used():
    from pathlib import Path

    example = Path(__file__).parents[2] / "fixtures/local-rules/harbour.toml"
    made = read_local(example.name, example.read_bytes(), RULES)
    assert made.based_on == "eu"
