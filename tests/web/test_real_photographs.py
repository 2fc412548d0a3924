"""Real photographs through the photo store: `fixtures/README.md` says whose they are."""

from __future__ import annotations

import hashlib
import io
from pathlib import Path

import pytest
from PIL import ExifTags, Image, ImageStat

FOLDER = Path(__file__).parents[2] / "fixtures" / "photographs"
PICTURES = {
    "sunset-12-megapixels.jpg": ("image/jpeg", (4272, 2848)),
    "brushes-progressive.jpg": ("image/jpeg", (1365, 1074)),
    "mountains-turned-with-position.jpg": ("image/jpeg", (1600, 1065)),
    "fig-photo.png": ("image/png", (860, 582)),
}


def body_of(name: str) -> bytes:
    return (FOLDER / name).read_bytes()


def sha(body: bytes) -> str:
    return hashlib.sha256(body).hexdigest()


def test_the_files_are_what_their_names_say() -> None:
    with Image.open(FOLDER / "sunset-12-megapixels.jpg") as sunset:
        assert sunset.width * sunset.height >= 12_000_000
    with Image.open(FOLDER / "brushes-progressive.jpg") as brushes:
        assert brushes.info["progressive"]
    with Image.open(FOLDER / "mountains-turned-with-position.jpg") as mountains:
        assert mountains.getexif()[ExifTags.Base.Orientation] == 6
        assert mountains.getexif().get_ifd(ExifTags.IFD.GPSInfo)[ExifTags.GPS.GPSLatitude]
    assert body_of("page-renamed.jpg").startswith(b"<!doctype html>")


def test_every_file_has_its_licence_written_beside_it() -> None:
    told = (FOLDER.parent / "README.md").read_text()
    files = sorted(path.name for path in FOLDER.iterdir())
    assert files == sorted([*PICTURES, "page-renamed.jpg"])
    assert [name for name in files if f"| `{name}` |" not in told] == []


@pytest.mark.parametrize("name", PICTURES)
def test_it_is_kept_byte_for_byte_with_a_small_picture_of_the_same_shape(phone, name) -> None:
    body, (kind, (width, height)) = body_of(name), PICTURES[name]
    reply = phone.put_photo(body, kind=kind)
    assert reply.status_code == 201, reply.json
    assert (reply.json["width"], reply.json["height"]) == (width, height)
    assert reply.json["bytes"] == len(body)
    small = phone.http.get(f"/api/photos/{sha(body)}/thumbnail").data
    with Image.open(io.BytesIO(small)) as shown:
        assert max(shown.size) == 320
        assert shown.width / shown.height == pytest.approx(width / height, rel=0.01)


def test_the_mountains_stand_upright_with_the_sky_above_and_no_position(phone) -> None:
    body = body_of("mountains-turned-with-position.jpg")
    assert phone.put_photo(body).json["has_position"] is True
    small = phone.http.get(f"/api/photos/{sha(body)}/thumbnail").data
    with Image.open(io.BytesIO(small)) as shown:
        assert not shown.getexif()
        above = ImageStat.Stat(shown.crop((0, 0, 320, 30))).mean
        below = ImageStat.Stat(shown.crop((0, 180, 320, 210))).mean
    assert above[2] > 180 > below[2] + 60  # pale sky, then a green meadow
    assert below[1] > below[0]
    assert below[1] > below[2] + 40


def test_a_photograph_that_was_cut_off_half_way_is_refused_and_not_kept(phone) -> None:
    whole = body_of("brushes-progressive.jpg")
    half = whole[: len(whole) // 2]
    reply = phone.put_photo(half)
    assert reply.status_code == 422
    assert reply.json["type"].endswith("/not-a-picture")
    assert phone.http.get(f"/api/photos/{sha(half)}").status_code == 404


def test_a_page_that_is_named_like_a_photograph_is_refused(phone) -> None:
    reply = phone.put_photo(body_of("page-renamed.jpg"))
    assert reply.status_code == 422
    assert reply.json["type"].endswith("/not-a-picture")
