"""Tag codes: five base-32 digits and a check character, short enough to shout across a shed.

The digits are Crockford's, without I, L, O and U. The check character is the number modulo 37;
because 37 is prime and larger than 32, and no power of 32 is 0 or 1 modulo 37 within six places,
it catches every single wrong character and every swap of two neighbours, check character
included. Of Crockford's 37 check symbols five are no base-32 digits (`*~$=U`) and two of those
can't stand in a small QR symbol, so numbers that would need one are never given out: 5 in 37.

Source: Douglas Crockford, "Base 32", https://www.crockford.com/base32.html.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Literal, TypeAlias

Problem: TypeAlias = Literal["empty", "length", "character", "check", "no-tag"]

ALPHABET = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
DIGITS = 5
LENGTH = DIGITS + 1
NUMBERS: int = len(ALPHABET) ** DIGITS
MODULUS = 37
# More numbers than a shed prints between two backups: 200 blocks of 500.
AFTER_RESTORE = 100_000

# Spelt out rather than upper-cased and stripped: the phone must read exactly the same.
_READ = {sign: sign for sign in ALPHABET}
_READ |= {sign.lower(): sign for sign in ALPHABET}
_READ |= {"O": "0", "o": "0", "I": "1", "i": "1", "L": "1", "l": "1"}
_IGNORED = frozenset(" \t\r\n\u00a0-\u2010\u2011\u2012\u2013\u2014\u2015\u2212")

# Pairs that dirt, handwriting or a bad light turns into each other; common practice, no source.
_LOOK_ALIKES = ("0D", "0Q", "DQ", "17", "2Z", "4A", "5S", "6G", "8B", "CG", "HN", "KX", "MN", "MW",
                "PR", "UV", "VY")  # fmt: skip


class BadCode(ValueError):
    """The text is no tag code: ``problem`` for programs, ``detail`` for the person."""

    def __init__(self, problem: Problem, detail: str) -> None:
        super().__init__(detail)
        self.problem: Problem = problem
        self.detail = detail


def is_issuable(number: int) -> bool:
    """Whether ``number`` may become a code: 0 to 33 554 431, with a check value below 32."""
    return 0 <= number < NUMBERS and number % MODULUS < len(ALPHABET)


def first_after_restore(next_number: int, chance: Callable[[int], int]) -> int:
    """The next number to give out once a backup has been brought back.

    What was given out after the backup is printed and no longer known, and the same backup may be
    brought back twice; so numbers go on far ahead, at a place that ``chance(n)`` (0 to n - 1)
    decides. A quarter of what is left at most is jumped over, so that they don't run out.
    """
    left = max(0, NUMBERS - next_number)
    certain = min(AFTER_RESTORE, left // 2)
    return next_number + certain + chance(max(1, left // 4))


def encode(number: int) -> str:
    """The six-character code of ``number``.

    Raises: ValueError when the number is not issuable.

    >>> encode(1234)
    '0016JD'
    """
    if not is_issuable(number):
        message = f"{number} has no code: outside 0 to {NUMBERS - 1}, or its check is no digit"
        raise ValueError(message)
    digits = (number // len(ALPHABET) ** place % len(ALPHABET) for place in range(DIGITS))
    return "".join(ALPHABET[digit] for digit in digits)[::-1] + ALPHABET[number % MODULUS]


def number_of(code: str) -> int:
    """The number behind a code that `parse` returned."""
    number = 0
    for sign in code[:DIGITS]:
        number = number * len(ALPHABET) + ALPHABET.index(sign)
    return number


def parse(text: str) -> str:
    """The code in what a person typed: case, hyphens and spaces ignored, O read as 0, I and L as 1.

    Raises: BadCode, whose detail says what is wrong and what to do.

    >>> parse("oo16-jd")
    '0016JD'
    """
    signs = [sign for sign in text if sign not in _IGNORED]
    if not signs:
        raise BadCode("empty", "No code yet. Type the six characters printed on the tag.")
    strange = [sign for sign in signs if sign not in _READ]
    if strange:
        raise BadCode("character", _about(strange[0]))
    code = "".join(_READ[sign] for sign in signs)
    if len(code) != LENGTH:
        raise BadCode("length", _about_length(code))
    if not _fits(code):
        raise BadCode(
            "check",
            f"{shown(code)} is no code that was ever printed: one character is wrong, "
            "or two are swapped. Compare it with the tag, character by character.",
        )
    return code


def shown(code: str) -> str:
    """The code as it is printed and read aloud, in two groups.

    >>> shown("0016JD")
    '001-6JD'
    """
    return f"{code[:3]}-{code[3:]}"


def from_scan(text: str) -> str:
    """The code in what a scanner read: a tag's address on any host, or the bare code.

    Any host, because printed tags outlive the server's address; the address is never opened.

    Raises: BadCode; its problem is ``no-tag`` for a QR code of something else.
    """
    path = re.split(r"[?#]", text, maxsplit=1)[0]
    found = re.search(r"/t/([^/]+)/?$", path.strip(), re.IGNORECASE)
    if found:
        return parse(found[1])
    if any(sign in text for sign in "/:") or len(text) > 4 * LENGTH:
        raise BadCode(
            "no-tag",
            "This code is not from a tag of this shed. "
            "Scan the other symbol on the tag, or type the six characters.",
        )
    return parse(text)


def likely(text: str) -> tuple[str, ...]:
    """Codes that the person may have meant by a text that `parse` refused for one sign, in order.

    One sign is changed for one that looks like it, or two neighbours are swapped back. Empty when
    the text is already a code, is of the wrong length, or no neighbour fits.
    """
    signs = [_READ.get(sign, "U" if sign == "u" else sign) for sign in text if sign not in _IGNORED]
    if len(signs) != LENGTH or _fits("".join(signs)):
        return ()
    return tuple(sorted({code for code in _neighbours("".join(signs)) if _fits(code)}))


def _fits(code: str) -> bool:
    if any(sign not in ALPHABET for sign in code):
        return False
    return number_of(code) % MODULUS == ALPHABET.index(code[DIGITS])


def _neighbours(code: str) -> list[str]:
    found = []
    for at, sign in enumerate(code):
        for pair in _LOOK_ALIKES:
            if sign in pair:
                other = pair[1 - pair.index(sign)]
                found.append(code[:at] + other + code[at + 1 :])
    for at in range(LENGTH - 1):
        found.append(code[:at] + code[at + 1] + code[at] + code[at + 2 :])
    return found


def _about(sign: str) -> str:
    if sign in "Uu":
        return "Codes never hold a U; it is probably a V. Look at the tag again."
    name = sign if sign.isprintable() else "one of the characters"
    return f"Codes hold only digits and letters from A to Z, so {name} can't be part of one."


def _about_length(code: str) -> str:
    if len(code) < LENGTH:
        missing = LENGTH - len(code)
        return f"A code has six characters, and {missing} of them {_be(missing)} missing."
    surplus = len(code) - LENGTH
    return f"A code has six characters, and this has {len(code)}: {surplus} too many."


def _be(count: int) -> str:
    return "is" if count == 1 else "are"
