"""Tables as CSV text for spreadsheets and other programs.

RFC 4180: commas, CRLF, quotes doubled, one header row whose names carry the units. The text begins
with a byte order mark, because a spreadsheet that is double-clicked open takes UTF-8 for the
computer's old code page without it; programs read the file with Python's ``utf-8-sig`` or alike.

A text that begins with a sign that a spreadsheet takes for a formula gets an apostrophe in front.
Anyone with a paired phone can name an item; opening the list must not run what they typed. See
OWASP, "CSV Injection", https://owasp.org/www-community/attacks/CSV_Injection.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

Value = str | int | float | bool | None

BYTE_ORDER_MARK = "\ufeff"
FORMULA = ("=", "+", "-", "@", "\t", "\r", "\uff1d", "\uff0b", "\uff0d", "\uff20")


def csv_text(heads: Sequence[str], rows: Iterable[Sequence[Value]]) -> str:
    """The table as text; numbers bare, yes and no as words, nothing for what is not known."""
    file = io.StringIO(newline="")
    writer = csv.writer(file, lineterminator="\r\n")
    writer.writerow(heads)
    for row in rows:
        writer.writerow([_text(value) for value in row])
    return BYTE_ORDER_MARK + file.getvalue()


def several(texts: Iterable[str]) -> str:
    """More than one value in one cell."""
    return "; ".join(texts)


def _text(value: Value) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return f"{value:.12g}"
    bare = value.lstrip(" \u00a0")
    return f"'{value}" if bare.startswith(FORMULA) else value
