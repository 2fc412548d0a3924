"""The words of printed waste papers, one TOML file a language, chosen by a language code.

A paper is printed whole in one language or not at all: a phrase or a sentence of the rules that a
language lacks stops the printing with `MissingPhrase`, and the tests look for that beforehand.
What people wrote (names, notes, places) is printed as they wrote it.
"""

from __future__ import annotations

import datetime
import functools
import tomllib
from collections.abc import Mapping
from pathlib import Path

ENGLISH = "en"
_FOLDER = Path(__file__).parent


class MissingPhrase(LookupError):
    """A language lacks a phrase, or a sentence of the rules."""


class NoSuchLanguage(LookupError):
    """There is no file of phrases for a language code."""


class Phrases:
    """The phrases of one language; call it with a key like ``cover.title``."""

    def __init__(self, language: str, doc: Mapping[str, Mapping[str, str]]) -> None:
        self.language = language
        self.texts = doc.get("texts", {})
        self.phrases = {
            f"{section}.{key}": text
            for section, rows in doc.items()
            if section != "texts"
            for key, text in rows.items()
        }

    def __call__(self, key: str, **values: object) -> str:
        """The phrase under ``key``, with ``values`` in its braces. Raises: MissingPhrase."""
        if key not in self.phrases:
            raise MissingPhrase(f"{self.language}: {key}")
        return self.phrases[key].format(**values)

    def day(self, date: datetime.date, *, short: bool = False) -> str:
        """A date that nobody can read the wrong way round: 4 May 2026."""
        month = self("day.short_months" if short else "day.months").split()[date.month - 1]
        return self("day.order", day=date.day, month=month, year=date.year)

    def text(self, english: str) -> str:
        """A sentence of the rules in this language. Raises: MissingPhrase."""
        if self.language == ENGLISH or not english:
            return english
        if english not in self.texts:
            raise MissingPhrase(f"{self.language}: {english}")
        return self.texts[english]


def languages() -> tuple[str, ...]:
    """The codes of all languages that papers can be printed in."""
    return tuple(sorted(path.stem for path in _FOLDER.glob("*.toml")))


@functools.cache
def phrases(language: str = ENGLISH) -> Phrases:
    """The phrases of a language. Raises: NoSuchLanguage."""
    if language not in languages():
        raise NoSuchLanguage(language)
    return Phrases(language, tomllib.loads((_FOLDER / f"{language}.toml").read_text("utf-8")))
