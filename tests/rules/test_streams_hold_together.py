"""The streams of waste: a code for every holder on every day, a group to print in, their signs."""

import datetime
import re

import pytest

from shedtally.rules.check import HOLDERS
from shedtally.rules.load import load

RULES = load()


@pytest.mark.parametrize(
    "day", ["2020-01-01", "2026-11-09", "2026-12-08", "2026-12-09", "2040-01-01"]
)
def test_every_stream_has_one_code_for_every_holder_on_every_day(day):
    on = datetime.date.fromisoformat(day)
    for rule_set in RULES.rule_sets.values():
        for stream in RULES.streams:
            for holder in HOLDERS:
                entry = rule_set.entry(stream, holder, on)
                assert entry.code
                assert entry.title
                assert entry.why


def test_european_codes_have_their_form_and_a_star_means_hazardous():
    for rows in RULES.rule_sets["eu"].entries.values():
        for entry in rows:
            assert re.fullmatch(r"\d\d \d\d \d\d\*?", entry.code), entry
            assert entry.hazardous is entry.code.endswith("*")


def test_a_home_gets_chapter_twenty_or_a_word_about_the_lack_of_an_entry():
    eu = RULES.rule_sets["eu"].entries
    for (stream, holder), rows in eu.items():
        business = {entry.code for entry in eu[stream, "business"]}
        for entry in rows if holder == "household" else ():
            if not entry.code.startswith(("20 ", "15 01 10")):
                assert entry.code in business, entry
                assert "no entry" in entry.why, entry


def test_what_is_milder_under_one_answer_is_never_milder_without_it():
    """An unanswered question leads to a stream at least as hazardous as any answer.

    A number above a limit is a finding: 40 CFR 279.10(b)(1)(ii) presumes nothing of oil that
    nobody tested, so it stays used oil, kept alone, and the list asks.
    """
    on = datetime.date(2026, 10, 1)
    for rule_set in RULES.rule_sets.values():
        for stream in RULES.streams.values():
            unanswered = next(
                (answer.stream for answer in stream.answers if answer.or_unanswered), stream.id
            )
            for answer in (one for one in stream.answers if one.above is None):
                worst = rule_set.entry(unanswered, "business", on)
                other = rule_set.entry(answer.stream, "business", on)
                assert worst.hazardous or not other.hazardous, (stream.id, answer)


def test_every_answer_that_moves_an_item_belongs_to_a_question_that_is_asked():
    for stream in RULES.streams.values():
        asked = {ask.field for ask in stream.asks}
        assert {answer.field for answer in stream.answers} <= asked, stream.id


def test_every_stream_that_is_no_hazard_in_itself_says_where_findings_lead():
    for stream in RULES.streams.values():
        if not stream.in_itself:
            assert stream.if_soaked, stream.id
            assert stream.if_lead, stream.id
            assert stream.if_asbestos, stream.id


def test_every_stream_prints_in_one_group_and_says_which_signs_it_carries():
    grouped = [stream for group in RULES.groups for stream in group.streams]
    assert sorted(grouped) == sorted(RULES.streams)
    assert set(RULES.signs) == set(RULES.streams)


def test_signs_are_ones_that_can_be_drawn():
    from shedtally.printing.signs import ENVIRONMENT, GHS, LABELS

    for signs in RULES.signs.values():
        assert set(signs.ghs) <= set(GHS)
        assert set(signs.road) <= {*LABELS, ENVIRONMENT}


def test_a_sign_for_the_road_is_of_a_class_that_the_transport_words_name():
    """The class in `transport` is the UN list's; a label of another would contradict it."""
    for stream, signs in RULES.signs.items():
        said = RULES.streams[stream].transport
        for label in set(signs.road) - {"environment", "6.1"}:  # 6.1 is a second hazard of mercury
            assert label.rstrip("AGS") in said or label in said or "class 2" in said, (
                stream,
                label,
            )


def test_a_hazard_in_itself_carries_a_sign_or_a_note():
    bare = [
        stream
        for stream, signs in RULES.signs.items()
        if RULES.streams[stream].in_itself and not (signs.ghs or signs.note)
    ]
    assert bare == []
