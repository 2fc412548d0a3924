"""The shape of the rules about things that need a path of their own: paths.toml."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class DangerPath:
    """What must be done with a dangerous thing, in order; ``when`` is an answer it waits for."""

    id: str
    name: str
    streams: tuple[str, ...]
    danger: str
    steps: tuple[str, ...]
    sources: tuple[str, ...]
    when: str = ""
