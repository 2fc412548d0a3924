"""Small real photographs, always the same."""

from __future__ import annotations

import functools
import hashlib
import io
from dataclasses import dataclass

from PIL import Image


@dataclass(frozen=True)
class Picture:
    """Bytes and their digest."""

    bytes: bytes
    sha256: str


@functools.cache
def picture(number: int) -> Picture:
    """The photograph of this number."""
    buffer = io.BytesIO()
    Image.new("RGB", (8, 8), (number * 20, 80, 80)).save(buffer, "JPEG")
    data = buffer.getvalue()
    return Picture(data, hashlib.sha256(data).hexdigest())
