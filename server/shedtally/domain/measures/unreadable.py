"""The refusal of a text that should be a measure."""

from __future__ import annotations


class Unreadable(ValueError):
    """A text that is no measure this program can read; ``detail`` says why and what to write."""

    def __init__(self, detail: str) -> None:
        super().__init__(detail)
        self.detail = detail
