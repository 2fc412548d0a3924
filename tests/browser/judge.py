"""Judges a screen as it stands with axe-core, target sizes and enhanced contrast included."""

from __future__ import annotations

from pathlib import Path

from playwright.sync_api import Page

AXE = Path(__file__).parents[2] / "pwa" / "node_modules" / "axe-core" / "axe.min.js"
RULES = (
    "{ rules: { 'target-size': { enabled: true }, 'color-contrast-enhanced': { enabled: true } } }"
)


def judge(page: Page) -> list[tuple[str, str]]:
    """The faults of the page, as rule and element; fails if there was nothing to judge."""
    page.evaluate(AXE.read_text(encoding="utf-8"))
    found = page.evaluate(f"axe.run(document, {RULES})")
    assert len(found["passes"]) > 10, "the judge saw an empty page"
    return [
        (fault["id"], node["html"][:120])
        for fault in found["violations"]
        for node in fault["nodes"]
    ]
