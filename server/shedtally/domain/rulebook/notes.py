"""What a rule set says besides its codes, for the part of its territory where the boat lies."""

from __future__ import annotations

from collections.abc import Iterator

from shedtally.domain.lists import Question
from shedtally.domain.rulebook import Rules, RuleSet


def notes_of(law: RuleSet, area: str | None, rules: Rules) -> tuple[str, ...]:
    """The notes that hold in an area, each with its sources; all of them where nobody said which.

    Local rules come first on every list, whatever the rule set says.
    """
    known = area in {one.id for one in law.areas}
    return (
        "Local rules and licensed firms come first: ask the site before you bring anything.",
        *(
            f"{note.text} [{'; '.join(rules.sources[key].title for key in note.sources)}]"
            for note in law.notes
            if not note.areas or not known or area in note.areas
        ),
    )


def area_questions(law: RuleSet, area: str | None) -> Iterator[Question]:
    """Where a rule set differs within its territory, where the boat lies is asked for."""
    if law.areas and area not in {one.id for one in law.areas}:
        names = [one.name for one in law.areas]
        where = f"{', '.join(names[:-1])} or {names[-1]}"
        ask = f"Where does she lie: {where}?"
        yield Question("", "The boat", "rule_area", ask, "what holds in any of them")
