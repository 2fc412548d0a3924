"""What the server knows of a photo whose bytes it holds."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias, get_args

PictureType: TypeAlias = Literal["image/jpeg", "image/png", "image/webp"]
PICTURE_TYPES: tuple[PictureType, ...] = get_args(PictureType)


@dataclass(frozen=True, slots=True)
class KeptPhoto:
    """Facts read from the bytes themselves. Width and height are as shown, in pixels.

    ``has_position`` says that the bytes, as sent, tell where the photo was taken.
    """

    sha256: str
    type: PictureType
    bytes: int
    width: int
    height: int
    has_position: bool
