"""The name under which a line of the renewals list is found again, on every phone and day."""

from __future__ import annotations

import hashlib
import re

READABLE = 48
DIGITS = 12


def line_id(kind: str, size: str, material: str = "", service: str = "", thread: str = "") -> str:
    """The id of the line of these; 64 characters at most, fit to be the key of a record.

    Args: what lines are merged by: the kind's id (or the name of what has no kind), the size as
        the list shows it, the material where it was written, the service of a hose, the thread.
    Returns: the start for people to read, the digits to keep apart what reads alike there.

    >>> line_id("hose-raw-water", "19 mm (3/4 in)")
    'hose-raw-water-19-mm-3-4-in-744c221f065f'
    """
    parts = (kind, size, material, service, thread)
    digest = hashlib.sha256("\x1f".join(parts).encode()).hexdigest()[:DIGITS]
    words = re.sub("[^a-z0-9]+", "-", " ".join(filter(None, parts)).lower()).strip("-")
    return f"{words[:READABLE].strip('-')}-{digest}".lstrip("-")


def counted_id(kind: str, size: str) -> str:
    """The id of a line of fuses, terminals or trunking that is counted from the runs of cable.

    Another one than that of equal things that are on the list themselves: they are bought for
    another reason, and what was bought of the one must not count for the other.
    """
    return line_id(kind, size, service="counted")
