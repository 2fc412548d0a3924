"""Each ban cites what fits the rule set it is shown under, or says that it is from elsewhere."""

import pytest

from shedtally.domain.rulebook.law import ELSEWHERE, OWN
from shedtally.rules.load import load

RULES = load()
# Whose law a source is; what is in none of these holds anywhere (chemistry, habit, judgement).
OF = {
    "eu": {"WFD18", "E1"},
    "gb": {"G2", "E1"},
    "ca-bc": {"C1"},
    "us-federal": {"U10", "U22", "U33", "U34", "U35", "U36", "T1", "T5", "T7", "O5"},
}
ANYWHERE = {"practice", "judgement", "memory", OWN}


@pytest.mark.parametrize("law", sorted(RULES.rule_sets))
def test_a_ban_cites_its_own_place_or_says_that_it_is_from_elsewhere(law):
    for ban in RULES.apart:
        cited = ban.cited(law)
        strange = set(cited) - OF[law] - ANYWHERE - {ELSEWHERE}
        assert cited
        assert not strange or cited[0] == ELSEWHERE, (ban.first, ban.second, cited)


def test_every_source_of_a_ban_is_sorted_by_place():
    cited = {key for ban in RULES.apart for law in RULES.rule_sets for key in ban.cited(law)}
    assert cited <= ANYWHERE.union({ELSEWHERE}, *OF.values())


def test_most_bans_on_the_american_list_rest_on_american_texts():
    own = [ban for ban in RULES.apart if set(ban.cited("us-federal")) & OF["us-federal"]]
    assert ELSEWHERE not in {ban.cited("us-federal")[0] for ban in own}
    assert len(own) >= 21


def test_what_lifts_a_ban_says_who_says_so():
    lifted = {ban.only_if_source for ban in RULES.apart if ban.only_if}
    assert lifted == {"T1", OWN}
    assert all(ban.only_if_source == "" for ban in RULES.apart if not ban.only_if)
    assert RULES.sources[OWN].title == "Our judgement, no source"
