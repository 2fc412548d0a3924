"""What must be done, in order, with things that need a path of their own, where any are here."""

from __future__ import annotations

from collections.abc import Iterator

from reportlab.platypus import CondPageBreak, Flowable, KeepTogether

from shedtally.domain.rulebook import Rules
from shedtally.domain.rulebook.paths import DangerPath
from shedtally.printing.disposal.cover import beside_rule
from shedtally.printing.disposal.look import BODY, DANGER, HEAD, NOTE, marked, strong
from shedtally.printing.disposal.plan import Plan, here
from shedtally.printing.figures import words
from shedtally.printing.phrases import Phrases
from shedtally.printing.tables import Cell, space


def path_steps(plan: Plan, rules: Rules, say: Phrases) -> list[Flowable]:
    """Each path that something on site asks for, with the sheets that it is about."""
    blocks = [
        KeepTogether([space(4), beside_rule([_rows(path, letters, rules, say)])])
        for path, letters in _asked(plan, rules)
    ]
    if not blocks:
        return []
    head = [words(say("paths.title"), HEAD), words(say("paths.lead"), BODY)]
    return [CondPageBreak(120), space(9), *head, *blocks]


def _asked(plan: Plan, rules: Rules) -> Iterator[tuple[DangerPath, list[str]]]:
    for path in rules.paths:
        letters = [
            sheet.letter
            for sheet in plan.sheets
            if any(one.id in path.streams and here(one) for one in sheet.streams)
        ]
        if letters:
            yield path, letters


def _rows(path: DangerPath, letters: list[str], rules: Rules, say: Phrases) -> Cell:
    steps = " ".join(f"{at}. {say.text(step)}" for at, step in enumerate(path.steps, start=1))
    sources = "; ".join(say.text(rules.sources[key].title) for key in path.sources)
    name = say("paths.name", name=say.text(path.name), letters=", ".join(letters))
    return [
        marked([strong(name)], BODY),
        words(say.text(path.danger), DANGER),
        words(steps, BODY),
        words(sources, NOTE),
    ]
