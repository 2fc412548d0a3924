"""A photograph in print with the numbers of a list on it."""

from __future__ import annotations

import io
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from PIL import Image, ImageOps
from reportlab.lib.colors import white
from reportlab.lib.utils import ImageReader
from reportlab.platypus import Flowable

from shedtally.domain.aboard.pinned import PinnedItem
from shedtally.printing.letters import MM, STRONG
from shedtally.printing.paper import INK

# Two thirds of the page's width, at 150 dots an inch: as fine as a shed's printer gets.
WIDE_MM, HIGH_MM, _DOTS = 116.0, 87.0, 686
_SIZE_PT, _RADIUS_MM = 11.0, 3.6


@dataclass(frozen=True, slots=True)
class Picture:
    """The bytes of a photograph and its pins."""

    content: bytes
    pins: tuple[PinnedItem, ...]


class PinnedPicture(Flowable):
    """The photograph, and on it in a ring the number of each item that has one."""

    def __init__(self, picture: Picture, numbers: Mapping[str, int]) -> None:
        super().__init__()
        self._jpeg, wide, high = _shrunk(picture.content)
        scale = min(WIDE_MM * MM / wide, HIGH_MM * MM / high)
        self.width, self.height = wide * scale, high * scale + 2 * MM
        self._numbers = [(pin, numbers[pin.item]) for pin in picture.pins if pin.item in numbers]

    def wrap(self, available_width: float, available_height: float) -> tuple[float, float]:
        """The size that was worked out."""
        return self.width, self.height

    def draw(self) -> None:
        """Draw the picture and the rings."""
        canvas, low = self.canv, 2 * MM
        high = self.height - low
        canvas.drawImage(ImageReader(io.BytesIO(self._jpeg)), 0, low, self.width, high)
        canvas.setFont(STRONG, _SIZE_PT)
        canvas.setLineWidth(1)
        for pin, number in self._numbers:
            x, y = pin.x * self.width, low + (1 - pin.y) * high
            canvas.setFillColor(white)
            canvas.setStrokeColor(INK)
            canvas.circle(x, y, _RADIUS_MM * MM, fill=1)
            canvas.setFillColor(INK)
            canvas.drawCentredString(x, y - _SIZE_PT * 0.35, str(number))


def pictures_with(pictures: Sequence[Picture], items: Mapping[str, int]) -> list[Flowable]:
    """Those of the pictures on which any of the items is pinned, with its number there."""
    wanted = [one for one in pictures if any(pin.item in items for pin in one.pins)]
    return [PinnedPicture(one, items) for one in wanted]


def _shrunk(content: bytes) -> tuple[bytes, int, int]:
    """A JPEG that is no finer than the printer, and its size in pixels."""
    with Image.open(io.BytesIO(content)) as opened:
        image = ImageOps.exif_transpose(opened).convert("RGB")
    image.thumbnail((_DOTS, _DOTS))
    out = io.BytesIO()
    image.save(out, "JPEG", quality=80, optimize=True)
    return out.getvalue(), image.width, image.height
