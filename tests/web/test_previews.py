"""Small pictures that go ahead of photos: checked, shown meanwhile, then replaced."""

from __future__ import annotations

import hashlib
import io

import pytest
from PIL import ExifTags, Image


def slug(reply) -> str:
    return reply.json["type"].rsplit("/", 1)[-1]


def sha(body: bytes) -> str:
    return hashlib.sha256(body).hexdigest()


def files(settings) -> list[str]:
    return [
        path.name
        for folder in ("photos", "pictures", "previews", "incoming")
        for path in (settings.data_dir / folder).rglob("*")
        if path.is_file()
    ]


def small(colour: str = "navy", size: tuple[int, int] = (320, 240), form: str = "JPEG") -> bytes:
    buffer = io.BytesIO()
    Image.new("RGB", size, colour).save(buffer, form)
    return buffer.getvalue()


def colour(reply) -> tuple[int, int, int]:
    return Image.open(io.BytesIO(reply.data)).convert("RGB").getpixel((3, 3))


def test_other_devices_see_the_preview_until_the_photo_comes_and_its_own_thumbnail_then(
    phone, pair, jpeg, settings
) -> None:
    other, path = pair().http, f"/api/photos/{sha(jpeg)}"
    reply = phone.put_preview(sha(jpeg), small("navy"))
    assert (reply.status_code, reply.json) == (200, {"sha256": sha(jpeg), "whole": False})

    before = other.get(f"{path}/thumbnail")
    assert before.headers["X-Shedtally-Preview"] == "1"
    assert before.headers["Cache-Control"] == "private, no-cache"
    assert max(abs(a - b) for a, b in zip(colour(before), (0, 0, 128), strict=True)) < 8
    assert other.get(path).status_code == 404
    assert other.get(f"{path}/original").status_code == 404

    assert phone.put_photo(jpeg).status_code == 201
    after = other.get(f"{path}/thumbnail")
    assert "X-Shedtally-Preview" not in after.headers
    assert "immutable" in after.headers["Cache-Control"]
    assert after.data != before.data
    assert other.get(path).data == jpeg
    assert sorted(files(settings)) == sorted([sha(jpeg), f"{sha(jpeg)}-320.jpg"])


def test_a_photo_with_a_preview_only_is_still_missing(phone, boat, jpeg, new_id) -> None:
    phone.push(boat, [phone.change("photo", new_id(), sha256=sha(jpeg), of=f"boat/{boat}")])
    phone.put_preview(sha(jpeg), small())
    assert phone.http.get(f"/api/boats/{boat}/photos/missing").json == {"photos": [sha(jpeg)]}


def test_preview_of_a_photo_that_is_here_is_not_needed(phone, jpeg, settings) -> None:
    phone.put_photo(jpeg)
    before = phone.http.get(f"/api/photos/{sha(jpeg)}/thumbnail").data
    reply = phone.put_preview(sha(jpeg), small("red"))
    assert (reply.status_code, reply.json["whole"]) == (200, True)
    assert phone.http.get(f"/api/photos/{sha(jpeg)}/thumbnail").data == before
    assert len(files(settings)) == 2


def test_preview_may_be_sent_again_and_the_last_one_counts(phone, jpeg, settings) -> None:
    for shade in ("red", "red", "navy"):
        assert phone.put_preview(sha(jpeg), small(shade)).status_code == 200
    assert colour(phone.http.get(f"/api/photos/{sha(jpeg)}/thumbnail"))[2] > 120
    assert files(settings) == [f"{sha(jpeg)}.jpg"]


UNCHECKED = {"wsgi.input_terminated": True}


@pytest.mark.parametrize(
    ("body", "more", "expected"),
    [
        (small(), {"digest": b"\0" * 32}, "photo-digest"),
        (small()[:400], {"announced": len(small()), **UNCHECKED}, "photo-cut-short"),
        (small() + b"more", {"announced": len(small()), **UNCHECKED}, "photo-cut-short"),
        (small()[:400], {}, "not-a-picture"),
        (b"<h1>Sign in to the Wi-Fi</h1>", {}, "not-a-picture"),
        (b"", {}, "not-a-picture"),
        (small(form="PNG"), {}, "wrong-type"),
        (small(), {"kind": "image/png"}, "wrong-type"),
        (b"x", {"announced": 200_001}, "too-large"),
        (small(size=(1_200, 1_200)), {}, "too-many-pixels"),
    ],
    ids=["digest", "cut", "too long", "half", "html", "empty", "png", "png type", "large", "wide"],
)
def test_refused_preview_leaves_nothing_and_can_be_sent_again(
    phone, jpeg, settings, *, body, more, expected
) -> None:
    reply = phone.put_preview(sha(jpeg), body, **more)
    assert slug(reply) == expected
    assert 400 <= reply.status_code < 500
    assert files(settings) == []
    assert phone.put_preview(sha(jpeg), small()).status_code == 200


@pytest.mark.parametrize(
    "told", [{}, {"Content-Digest": "sha-256=:AAAA:"}, {"Content-Digest": "x"}]
)
def test_preview_without_a_digest_is_refused_with_the_reason(phone, jpeg, settings, told) -> None:
    reply = phone.http.put(
        f"/api/photos/{sha(jpeg)}/preview",
        data=small(),
        content_type="image/jpeg",
        headers={"X-Shedtally": "1", **told},
    )
    assert (reply.status_code, slug(reply)) == (422, "invalid")
    assert "Content-Digest" in reply.get_data(as_text=True)
    assert files(settings) == []


def test_preview_is_made_anew_so_that_no_metadata_travels_on(phone, jpeg) -> None:
    exif = Image.Exif()
    exif[ExifTags.Base.Orientation] = 6
    exif.get_ifd(ExifTags.IFD.GPSInfo)[ExifTags.GPS.GPSLatitude] = (57.0, 30.0, 0.0)
    buffer = io.BytesIO()
    Image.new("RGB", (640, 320), "red").save(buffer, "JPEG", exif=exif, comment=b"hidden")
    phone.put_preview(sha(jpeg), buffer.getvalue())
    shown = phone.http.get(f"/api/photos/{sha(jpeg)}/thumbnail")
    picture = Image.open(io.BytesIO(shown.data))
    assert picture.size == (160, 320)
    assert not picture.getexif()
    assert b"hidden" not in shown.data
    assert shown.headers["Content-Security-Policy"] == "sandbox; default-src 'none'"
    assert shown.headers["Content-Disposition"].startswith("attachment")


def test_only_paired_devices_send_previews(app, jpeg) -> None:
    reply = app.test_client().put(
        f"/api/photos/{sha(jpeg)}/preview",
        data=small(),
        content_type="image/jpeg",
        headers={"X-Shedtally": "1", "Content-Digest": f"sha-256=:{'A' * 43}=:"},
    )
    assert (reply.status_code, slug(reply)) == (401, "not-paired")


def test_preview_that_comes_beside_its_photo_does_not_stay(phone, jpeg, settings, app) -> None:
    """As if the photo arrived between the look into the database and the last byte."""
    from shedtally.storage.photo_store import PhotoStore

    phone.put_photo(jpeg)
    store = PhotoStore(settings.data_dir, 10**7, 10**7, 0)
    body = small()
    store.keep_preview(sha(jpeg), len(body), [body], sha(body))
    assert not store.preview(sha(jpeg)).exists()
