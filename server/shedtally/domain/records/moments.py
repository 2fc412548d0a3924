"""Moments as records have them (ISO 8601, a day alone too), put in order."""

from __future__ import annotations

import datetime
import math


def seconds_of(moment: str | None) -> float:
    """Seconds since 1970; no moment comes before every other. Without a zone it is read as UTC.

    Raises: ValueError: not a moment of ISO 8601.
    """
    if moment is None:
        return -math.inf
    at = datetime.datetime.fromisoformat(moment)
    return (at if at.tzinfo else at.replace(tzinfo=datetime.UTC)).timestamp()
