"""Looking into picture files that came from outside.

A file is a picture only if all of it decodes: `verify()` of the library passes a JPEG that was cut
off, so nothing less than `load()` counts. Whatever is shown or printed is made anew here, turned
upright and without any of the metadata, so neither a position nor hidden text travels on.
"""

from __future__ import annotations

import io
import threading
import warnings
from dataclasses import dataclass
from pathlib import Path

from PIL import ExifTags, Image, ImageOps

from shedtally.domain.errors import NotAPicture, TooManyPixels
from shedtally.domain.sync.kept import PictureType

THUMBNAIL_PX = 320
THUMBNAIL_QUALITY = 80
# Decoders that are never needed are attack surface; MPO is what many phones write as .jpg.
FORMATS = ("JPEG", "PNG", "WEBP")
TYPES: dict[str, PictureType] = {
    "JPEG": "image/jpeg",
    "MPO": "image/jpeg",
    "PNG": "image/png",
    "WEBP": "image/webp",
}

# Decoded, 64 megapixels take a quarter of a gigabyte: one at a time.
_one_at_a_time = threading.Lock()
warnings.simplefilter("error", Image.DecompressionBombWarning)


@dataclass(frozen=True, slots=True)
class Inspected:
    """What a whole picture is. ``without_position`` is None if it told no position."""

    type: PictureType
    width: int
    height: int
    thumbnail: bytes
    without_position: bytes | None


def inspect(path: Path, max_pixels: int) -> Inspected:
    """Decode the whole file.

    Raises: NotAPicture, also for a picture that was cut off; TooManyPixels before decoding.
    """
    with _one_at_a_time:
        try:
            with Image.open(path, formats=FORMATS) as picture:
                if picture.width * picture.height > max_pixels:
                    raise TooManyPixels(max_pixels)
                picture.load()
                return _inspected(picture)
        except TooManyPixels:
            raise
        except (Image.DecompressionBombError, Image.DecompressionBombWarning) as bomb:
            raise TooManyPixels(max_pixels) from bomb
        except Exception as broken:
            # The decoders raise OSError, SyntaxError, ValueError, struct.error and more.
            raise NotAPicture from broken


def _inspected(picture: Image.Image) -> Inspected:
    upright = ImageOps.exif_transpose(picture)
    return Inspected(
        TYPES[picture.format or ""],
        upright.width,
        upright.height,
        _thumbnail(upright),
        _without_position(picture) if _tells_position(picture) else None,
    )


def _thumbnail(upright: Image.Image) -> bytes:
    small = upright.copy() if upright.mode in ("RGB", "L") else _on_white(upright)
    small.thumbnail((THUMBNAIL_PX, THUMBNAIL_PX))
    bare = small.convert("RGB")
    # A comment would travel on with the pixels.
    bare.info = {}
    return _encoded(bare, "JPEG", quality=THUMBNAIL_QUALITY)


def _on_white(picture: Image.Image) -> Image.Image:
    clear = picture.convert("RGBA")
    white = Image.new("RGBA", clear.size, "white")
    return Image.alpha_composite(white, clear)


def _tells_position(picture: Image.Image) -> bool:
    if picture.getexif().get_ifd(ExifTags.IFD.GPSInfo):
        return True
    xmp = picture.info.get("xmp", b"")
    return b"GPS" in (xmp if isinstance(xmp, bytes) else str(xmp).encode())


def _without_position(picture: Image.Image) -> bytes:
    """The same picture with nothing of its metadata but which way is up."""
    exif = Image.Exif()
    orientation = picture.getexif().get(ExifTags.Base.Orientation)
    if orientation:
        exif[ExifTags.Base.Orientation] = orientation
    if picture.format == "JPEG":
        return _encoded(picture, "JPEG", exif=exif, comment=b"", quality="keep")
    bare = picture.copy()
    bare.info = {}
    form = "JPEG" if picture.format == "MPO" else str(picture.format)
    return _encoded(bare, form, exif=exif, quality=92)


def _encoded(picture: Image.Image, form: str, **options: object) -> bytes:
    buffer = io.BytesIO()
    picture.save(buffer, form, **options)
    return buffer.getvalue()
