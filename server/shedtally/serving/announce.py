"""What the terminal says when a server is ready: addresses, fingerprint, QR, pairing code."""

from __future__ import annotations

import io
import sys
import textwrap
from collections.abc import Iterable

import qrcode
from qrcode.constants import ERROR_CORRECT_L


def say(lines: Iterable[str]) -> None:
    """Print at once, also into a file or a pipe; letters the terminal lacks become '?'."""
    encoding = sys.stdout.encoding or "ascii"
    for line in lines:
        print(line.encode(encoding, "replace").decode(encoding))
    sys.stdout.flush()


def qr(text: str) -> list[str]:
    """The QR of a text in block letters, light on dark; empty if the terminal has no blocks."""
    try:
        "█▀▄".encode(sys.stdout.encoding or "ascii")
    except UnicodeEncodeError:
        return []
    code = qrcode.QRCode(border=2, error_correction=ERROR_CORRECT_L)
    code.add_data(text)
    stream = io.StringIO()
    code.print_ascii(out=stream, invert=True)
    return stream.getvalue().rstrip("\n").splitlines()


def in_pairs(fingerprint: str) -> list[str]:
    """A SHA-256 fingerprint in two lines of sixteen pairs, to be compared by eye."""
    pairs = fingerprint.split(":")
    return [f"    {':'.join(pairs[:16])}", f"    {':'.join(pairs[16:])}"]


def row(name: str, value: str, note: str = "") -> str:
    """One line of the table of addresses."""
    return f"  {name:<22} {value}" + (f"   {note}" if note else "")


def warning(text: str) -> list[str]:
    """A warning that can't be overlooked between other lines, wrapped for a narrow terminal."""
    body = textwrap.wrap(text, 76)
    return ["", "! Attention", *(f"! {line}" for line in body), ""]
