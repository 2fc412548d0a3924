"""Looking into picture files: what counts as one, and what is made of it."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from PIL import ExifTags, Image

from shedtally.domain.errors import NotAPicture, TooManyPixels
from shedtally.storage.pictures import inspect

MOST = 64_000_000


def write(tmp_path: Path, body: bytes) -> Path:
    path = tmp_path / "upload"
    path.write_bytes(body)
    return path


def corner_colours(body: bytes) -> list[tuple[int, int, int]]:
    picture = Image.open(io.BytesIO(body)).convert("RGB")
    right, bottom = picture.width - 1, picture.height - 1
    return [picture.getpixel(at) for at in ((0, 0), (right, 0), (0, bottom), (right, bottom))]


def two_tone(size: tuple[int, int] = (80, 40)) -> Image.Image:
    """Left half red, right half blue, so that a turn can be seen."""
    picture = Image.new("RGB", size, "red")
    picture.paste("blue", (size[0] // 2, 0, *size))
    return picture


def with_exif(picture: Image.Image, form: str, orientation: int | None, gps: bool) -> bytes:
    exif = Image.Exif()
    if orientation:
        exif[ExifTags.Base.Orientation] = orientation
    exif[ExifTags.Base.Make] = "invented"
    if gps:
        exif.get_ifd(ExifTags.IFD.GPSInfo)[ExifTags.GPS.GPSLatitude] = (57.0, 30.0, 0.0)
        exif.get_ifd(ExifTags.IFD.GPSInfo)[ExifTags.GPS.GPSLatitudeRef] = "N"
    buffer = io.BytesIO()
    picture.save(buffer, form, exif=exif)
    return buffer.getvalue()


@pytest.mark.parametrize(
    ("form", "kind"), [("JPEG", "image/jpeg"), ("PNG", "image/png"), ("WEBP", "image/webp")]
)
def test_three_formats_are_told_by_their_content(tmp_path, picture, form, kind) -> None:
    assert inspect(write(tmp_path, picture(form)), MOST).type == kind


def test_progressive_jpeg_is_a_picture(tmp_path, picture) -> None:
    found = inspect(write(tmp_path, picture("JPEG", progressive=True)), MOST)
    assert (found.type, found.width, found.height) == ("image/jpeg", 400, 300)


def test_jpeg_with_a_second_picture_behind_is_a_jpeg(tmp_path) -> None:
    buffer = io.BytesIO()
    two_tone().save(buffer, "MPO", save_all=True, append_images=[two_tone()])
    assert inspect(write(tmp_path, buffer.getvalue()), MOST).type == "image/jpeg"


@pytest.mark.parametrize("form", ["GIF", "BMP", "TIFF", "PDF"])
def test_other_formats_are_no_pictures_here(tmp_path, picture, form) -> None:
    with pytest.raises(NotAPicture):
        inspect(write(tmp_path, picture(form)), MOST)


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP"])
@pytest.mark.parametrize("share", [0.02, 0.5, 0.95])
def test_picture_that_was_cut_off_is_none(tmp_path, picture, form, share) -> None:
    body = picture(form)
    with pytest.raises(NotAPicture):
        inspect(write(tmp_path, body[: int(len(body) * share)]), MOST)


@pytest.mark.parametrize(
    "body",
    [b"<!doctype html><title>Sign in</title>", b"<svg xmlns='http://www.w3.org/2000/svg'/>", b""],
)
def test_text_is_no_picture(tmp_path, body) -> None:
    with pytest.raises(NotAPicture):
        inspect(write(tmp_path, body), MOST)


def test_bomb_of_200_megapixels_is_refused_by_its_header(tmp_path) -> None:
    buffer = io.BytesIO()
    Image.new("1", (20_000, 10_000)).save(buffer, "PNG")
    body = buffer.getvalue()
    assert len(body) < 100_000
    with pytest.raises(TooManyPixels):
        inspect(write(tmp_path, body), MOST)


@pytest.mark.parametrize("size", [(10_000, 6_401), (12_000, 8_000)])
def test_more_pixels_than_allowed_are_refused(tmp_path, size) -> None:
    buffer = io.BytesIO()
    Image.new("1", size).save(buffer, "PNG")
    with pytest.raises(TooManyPixels):
        inspect(write(tmp_path, buffer.getvalue()), MOST)


# Orientation 6: the top of the scene is at the right of the stored picture, so it is turned a
# quarter clockwise to be seen upright (Exif 2.32, tag 0x0112).
def test_thumbnail_is_turned_upright(tmp_path) -> None:
    found = inspect(write(tmp_path, with_exif(two_tone(), "JPEG", 6, gps=False)), MOST)
    assert (found.width, found.height) == (40, 80)
    top_left, top_right, bottom_left, bottom_right = corner_colours(found.thumbnail)
    for red in (top_left, top_right):
        assert red[0] > 200 > red[2]
    for blue in (bottom_left, bottom_right):
        assert blue[2] > 200 > blue[0]


def test_thumbnail_fits_and_keeps_its_shape(tmp_path, picture) -> None:
    found = inspect(write(tmp_path, picture("JPEG", (1600, 900))), MOST)
    small = Image.open(io.BytesIO(found.thumbnail))
    assert small.size == (320, 180)
    assert small.format == "JPEG"


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP"])
def test_thumbnail_carries_no_metadata(tmp_path, form) -> None:
    found = inspect(write(tmp_path, with_exif(two_tone(), form, 1, gps=True)), MOST)
    assert dict(Image.open(io.BytesIO(found.thumbnail)).getexif()) == {}
    assert b"invented" not in found.thumbnail


def test_see_through_pictures_get_a_white_ground(tmp_path) -> None:
    buffer = io.BytesIO()
    Image.new("RGBA", (40, 40), (0, 0, 0, 0)).save(buffer, "PNG")
    found = inspect(write(tmp_path, buffer.getvalue()), MOST)
    assert min(corner_colours(found.thumbnail)[0]) > 250


@pytest.mark.parametrize("mode", ["1", "L", "P", "CMYK", "I;16"])
def test_every_colour_mode_gets_a_thumbnail(tmp_path, mode) -> None:
    buffer = io.BytesIO()
    form = "JPEG" if mode == "CMYK" else "PNG"
    Image.new(mode, (30, 20)).save(buffer, form)
    found = inspect(write(tmp_path, buffer.getvalue()), MOST)
    assert Image.open(io.BytesIO(found.thumbnail)).size == (30, 20)


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP"])
def test_copy_without_position_keeps_picture_and_turn_and_nothing_else(tmp_path, form) -> None:
    body = with_exif(two_tone(), form, 6, gps=True)
    found = inspect(write(tmp_path, body), MOST)
    assert found.without_position is not None
    copy = Image.open(io.BytesIO(found.without_position))
    assert copy.format == form
    assert dict(copy.getexif()) == {ExifTags.Base.Orientation: 6}
    assert dict(copy.getexif().get_ifd(ExifTags.IFD.GPSInfo)) == {}
    assert b"invented" not in found.without_position
    assert copy.size == (80, 40)
    for ours, theirs in zip(
        corner_colours(found.without_position), corner_colours(body), strict=True
    ):
        assert ours == pytest.approx(theirs, abs=12)


def test_picture_without_position_needs_no_copy(tmp_path) -> None:
    body = with_exif(two_tone(), "JPEG", 6, gps=False)
    assert inspect(write(tmp_path, body), MOST).without_position is None


def test_position_in_xmp_counts_as_position(tmp_path) -> None:
    xmp = b'<x:xmpmeta xmlns:x="adobe:ns:meta/" exif:GPSLatitude="57,30.0N"></x:xmpmeta>'
    buffer = io.BytesIO()
    two_tone().save(buffer, "JPEG", xmp=xmp)
    found = inspect(write(tmp_path, buffer.getvalue()), MOST)
    assert found.without_position is not None
    assert b"GPSLatitude" not in found.without_position
