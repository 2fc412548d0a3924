"""Stamps order edits across devices: a hybrid logical clock as sixteen hexadecimal digits.

Twelve digits hold milliseconds since 1970, four a counter for edits of one millisecond. The width
is fixed and the digits are lower case, so stamps compare as text, alike in Python, JavaScript and
SQL. A device's next stamp is always above every stamp that it has seen; that is why an edit by a
phone whose clock is years behind still wins over what that phone has shown.
"""

from __future__ import annotations

import re

FIRST = "0" * 16
MAX_MS = 2**48 - 1
MAX_COUNTER = 0xFFFF
MAX_AHEAD_MS = 5 * 60 * 1000
# For stamps out of a lost log, whose server's clock may have been wrong by many years; any later
# would leave too little room for what comes after.
MAX_AHEAD_IN_A_LOG_MS = 100 * 365 * 86_400_000

_FORM = re.compile(r"[0-9a-f]{16}")


def is_stamp(text: object) -> bool:
    """Whether ``text`` has the form of a stamp.

    >>> is_stamp("0191f0a1b2c30001"), is_stamp("0191F0A1B2C30001")
    (True, False)
    """
    return isinstance(text, str) and _FORM.fullmatch(text) is not None


def make(ms: int, counter: int = 0) -> str:
    """The stamp of ``ms`` (0 to 2**48 - 1, since 1970) and ``counter`` (0 to 65 535).

    Raises: ValueError outside those ranges.

    >>> make(1_760_000_000_000, 3)
    '0199c82cc0000003'
    """
    if not 0 <= ms <= MAX_MS or not 0 <= counter <= MAX_COUNTER:
        message = f"no stamp for {ms} ms, counter {counter}"
        raise ValueError(message)
    return f"{ms:012x}{counter:04x}"


def ms_of(stamp: str) -> int:
    """Milliseconds since 1970 in ``stamp``."""
    return int(stamp[:12], 16)


def counter_of(stamp: str) -> int:
    """The counter in ``stamp``, 0 to 65 535."""
    return int(stamp[12:], 16)


def following(seen: str, now_ms: int) -> str:
    """The next stamp of a device: above ``seen``, its highest so far, and not before ``now_ms``.

    >>> following("0199c82cc0000003", 1_760_000_000_000)
    '0199c82cc0000004'
    >>> following("0199c82cc0000003", 1_760_000_000_001)
    '0199c82cc0010000'
    """
    ms = ms_of(seen)
    if now_ms > ms:
        return make(now_ms)
    counter = counter_of(seen) + 1
    return make(ms, counter) if counter <= MAX_COUNTER else make(ms + 1)


def is_too_far_ahead(stamp: str, now_ms: int, most_ms: int = MAX_AHEAD_MS) -> bool:
    """Whether ``stamp`` lies more than ``most_ms`` past ``now_ms``; being behind is no fault."""
    return ms_of(stamp) - now_ms > most_ms
