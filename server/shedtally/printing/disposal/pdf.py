"""The disposal list as PDF: cover, cautions, a sheet for each group of streams, form, sources."""

from __future__ import annotations

from reportlab.platypus import CondPageBreak, Flowable

from shedtally.domain.lists import WasteList
from shedtally.domain.rulebook import Rules
from shedtally.printing.disposal.cover import cautions, cover
from shedtally.printing.disposal.form import form_pages, source_pages
from shedtally.printing.disposal.mixed import mixed_block
from shedtally.printing.disposal.paths import path_steps
from shedtally.printing.disposal.plan import plan
from shedtally.printing.disposal.sheets import sheet_pages
from shedtally.printing.letters import MM
from shedtally.printing.paper import PAPERS, Heading, document
from shedtally.printing.phrases import ENGLISH, phrases
from shedtally.printing.tables import space

CAUTIONS_MM = 70.0  # less room than this, and they begin on a page of their own


def disposal_pdf(
    waste: WasteList, rules: Rules, heading: Heading, paper: str = "", language: str = ENGLISH
) -> bytes:
    """The list as PDF, on the paper of its rule set unless another is named.

    Args: paper: ``a4``, ``letter`` or empty; language: a code that `phrases.languages` lists.
    Raises: NoSuchLanguage; MissingPhrase: the language lacks a sentence of this list.
    """
    say = phrases(language)
    arranged = plan(waste, rules, say("stream.other"))
    size = PAPERS[paper or rules.label_words(waste.rule_set).paper]
    first: list[Flowable] = cautions(arranged, say)
    mixed = mixed_block(waste, say)
    if mixed:
        first = [*mixed, space(14), *first]
    story = cover(arranged, heading, say)
    first += path_steps(arranged, rules, say)
    if first:
        story += [CondPageBreak(CAUTIONS_MM * MM), space(14), *first]
    for sheet in arranged.sheets:
        story += sheet_pages(sheet, arranged, rules, say)
    story += form_pages(arranged, say)
    story += source_pages(arranged, say)
    return document(story, say("cover.title"), heading, size, say)
