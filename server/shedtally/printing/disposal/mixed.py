"""What lies in a container against the rules: said on paper before anything else is read."""

from __future__ import annotations

from reportlab.platypus import Flowable

from shedtally.domain.lists import Ban, WasteList
from shedtally.printing.disposal.cover import beside_rule
from shedtally.printing.disposal.look import BODY, DANGER, HEAD, NOTE, marked, strong
from shedtally.printing.figures import plain, words
from shedtally.printing.phrases import Phrases
from shedtally.printing.tables import Cell, space


def mixed_block(waste: WasteList, say: Phrases) -> list[Flowable]:
    """Each thing that may not lie where it lies, why, and who recorded that it does."""
    if not waste.mixed:
        return []
    blocks: list[Flowable] = [words(say("mixed.title"), HEAD), words(say("mixed.lead"), BODY)]
    for ban in waste.mixed:
        blocks += [space(4), beside_rule([_rows(ban, say)])]
    return blocks


def _rows(ban: Ban, say: Phrases) -> Cell:
    what = say("mixed.lies", container=ban.container, beside=say.text(ban.beside))
    rows = [
        marked([strong(ban.name), plain(what)], BODY),
        words(say.text(ban.why), DANGER),
    ]
    if ban.only_if:
        by = say.text(ban.only_if_source or "")
        lifted = say("mixed.only_if", text=say.text(ban.only_if), source=by)
        rows.append(words(lifted, BODY))
    said = say("mixed.said", who=ban.who, reason=ban.reason) if ban.who else say("mixed.unsaid")
    rows.append(words(said, BODY))
    rows.append(words("; ".join(map(say.text, ban.sources)), NOTE))
    return rows
