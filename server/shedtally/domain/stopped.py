"""What stops a command at the terminal, as against what is refused to a phone."""

from __future__ import annotations


class Stopped(Exception):
    """A person at the terminal can put it right.

    The text says what happened, what is safe and what to do.
    """
