"""Photos over HTTP: whole, checked, repeatable, and served without surprises."""

from __future__ import annotations

import hashlib
import io
import threading

import pytest
from PIL import ExifTags, Image
from PIL.PngImagePlugin import PngInfo

WRITE = {"X-Shedtally": "1"}


def slug(reply) -> str:
    return reply.json["type"].rsplit("/", 1)[-1]


def sha(body: bytes) -> str:
    return hashlib.sha256(body).hexdigest()


def stored(settings) -> list:
    return [
        path
        for folder in ("photos", "pictures", "incoming")
        for path in (settings.data_dir / folder).rglob("*")
        if path.is_file()
    ]


@pytest.fixture
def located() -> bytes:
    """A JPEG that tells where it was taken, turned by a quarter."""
    exif = Image.Exif()
    exif[ExifTags.Base.Orientation] = 6
    exif.get_ifd(ExifTags.IFD.GPSInfo)[ExifTags.GPS.GPSLatitude] = (57.0, 30.0, 0.0)
    buffer = io.BytesIO()
    Image.new("RGB", (80, 40), "red").save(buffer, "JPEG", exif=exif)
    return buffer.getvalue()


@pytest.mark.parametrize(
    ("form", "kind"), [("JPEG", "image/jpeg"), ("PNG", "image/png"), ("WEBP", "image/webp")]
)
def test_photo_comes_back_byte_for_byte_on_another_device(phone, pair, picture, form, kind):
    body = picture(form)
    reply = phone.put_photo(body, kind=kind)
    assert reply.status_code == 201
    assert reply.json == {
        "sha256": sha(body),
        "type": kind,
        "bytes": len(body),
        "width": 400,
        "height": 300,
        "has_position": False,
    }
    got = pair().http.get(f"/api/photos/{sha(body)}")
    assert got.data == body
    assert got.content_type == kind


def test_second_upload_is_answered_alike_and_changes_nothing(phone, jpeg, settings) -> None:
    first = phone.put_photo(jpeg)
    before = stored(settings)
    second = phone.put_photo(jpeg)
    assert (first.status_code, second.status_code) == (201, 200)
    assert first.json == second.json
    assert stored(settings) == before


def test_uploads_of_one_photo_at_once_make_one_file(pair, jpeg, settings) -> None:
    phones = [pair(name=f"{n}") for n in range(4)]
    codes: list[int] = []
    threads = [
        threading.Thread(target=lambda one=one: codes.append(one.put_photo(jpeg).status_code))
        for one in phones
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(codes) == [200, 200, 200, 201]
    assert len(stored(settings)) == 2  # the photo and its thumbnail


@pytest.mark.parametrize(
    ("make", "kind", "expected"),
    [
        (lambda body: (body, "0" * 64), "image/jpeg", "photo-digest"),
        (lambda body: (body[: len(body) // 2], None), "image/jpeg", "not-a-picture"),
        (
            lambda _: (b"<!doctype html><p>Sign in to the Wi-Fi", None),
            "image/jpeg",
            "not-a-picture",
        ),
        (lambda _: (b"", None), "image/jpeg", "not-a-picture"),
        (lambda body: (body, None), "image/png", "wrong-type"),
        (lambda body: (body, None), "image/heic", "wrong-type"),
        (lambda body: (body, None), "text/html", "wrong-type"),
    ],
    ids=["digest", "half a file", "html", "empty", "jpeg called png", "heic", "html type"],
)
def test_refused_upload_leaves_nothing(phone, jpeg, settings, *, make, kind, expected) -> None:
    body, digest = make(jpeg)
    reply = phone.put_photo(body, digest, kind)
    assert slug(reply) == expected
    assert 400 <= reply.status_code < 500
    assert stored(settings) == []
    assert phone.http.get(f"/api/photos/{digest or sha(body)}").status_code == 404


# As some HTTP servers hand a body over: its end is where the connection ended, no error is raised.
UNCHECKED = {"wsgi.input_terminated": True}


def test_body_that_stops_half_way_is_refused_and_can_be_sent_again(phone, jpeg, settings) -> None:
    short = phone.put_photo(jpeg[:100], sha(jpeg), announced=len(jpeg), **UNCHECKED)
    assert slug(short) == "photo-cut-short"
    assert stored(settings) == []
    assert phone.put_photo(jpeg).status_code == 201


def test_broken_connection_is_a_short_body(phone, jpeg, settings) -> None:
    short = phone.put_photo(jpeg[:100], sha(jpeg), announced=len(jpeg))
    assert slug(short) == "photo-cut-short"
    assert stored(settings) == []


def test_body_longer_than_announced_is_refused(phone, jpeg, settings) -> None:
    reply = phone.put_photo(jpeg + b"more", sha(jpeg), announced=len(jpeg), **UNCHECKED)
    assert slug(reply) == "photo-cut-short"
    assert stored(settings) == []


def test_upload_without_a_length_is_refused(phone, jpeg) -> None:
    chunked = {"HTTP_TRANSFER_ENCODING": "chunked", "CONTENT_LENGTH": ""}
    reply = phone.http.put(
        f"/api/photos/{sha(jpeg)}",
        input_stream=io.BytesIO(jpeg),
        content_type="image/jpeg",
        headers=WRITE,
        environ_overrides={**UNCHECKED, **chunked},
    )
    assert (reply.status_code, slug(reply)) == (411, "length-required")


def test_photo_above_the_limit_is_refused_unread(phone, settings) -> None:
    reply = phone.put_photo(b"x", "0" * 64, announced=50_000_001)
    assert (reply.status_code, slug(reply)) == (413, "too-large")


def test_photo_larger_than_any_json_may_be_is_taken(phone) -> None:
    noise = Image.effect_noise((3000, 3000), 100)
    buffer = io.BytesIO()
    noise.save(buffer, "PNG", compress_level=0)
    body = buffer.getvalue()
    assert len(body) > 8_000_000
    assert phone.put_photo(body, kind="image/png").status_code == 201


def test_photo_of_a_few_hundred_bytes_and_one_of_25_megabytes_are_taken(phone) -> None:
    small, large = io.BytesIO(), io.BytesIO()
    Image.new("1", (1, 1)).save(small, "PNG", pnginfo=_filling(230))
    Image.effect_noise((5000, 5000), 100).save(large, "PNG", compress_level=0)
    assert 290 <= len(small.getvalue()) <= 310
    assert 25_000_000 <= len(large.getvalue()) < 26_000_000
    for body in (small.getvalue(), large.getvalue()):
        assert phone.put_photo(body, kind="image/png").status_code == 201
        assert phone.http.get(f"/api/photos/{sha(body)}/original").data == body
        assert phone.http.get(f"/api/photos/{sha(body)}/thumbnail").status_code == 200


def _filling(size: int) -> PngInfo:
    """A text of so many bytes, to bring a picture to a size."""
    filling = PngInfo()
    filling.add_text("x", "x" * (size - 12))
    return filling


def test_50_megapixels_are_taken_and_shown_small(phone) -> None:
    buffer = io.BytesIO()
    Image.new("RGB", (8000, 6250), "green").save(buffer, "JPEG")
    body = buffer.getvalue()
    kept = phone.put_photo(body)
    assert (kept.status_code, kept.json["width"], kept.json["height"]) == (201, 8000, 6250)
    small = phone.http.get(f"/api/photos/{sha(body)}/thumbnail").data
    assert max(Image.open(io.BytesIO(small)).size) <= 320


def test_200_megapixels_are_refused(phone, settings) -> None:
    buffer = io.BytesIO()
    Image.new("1", (20_000, 10_000)).save(buffer, "PNG")
    reply = phone.put_photo(buffer.getvalue(), kind="image/png")
    assert (reply.status_code, slug(reply)) == (422, "too-many-pixels")
    assert "64 megapixels" in reply.json["detail"]
    assert stored(settings) == []


def test_what_is_shown_tells_no_position_and_the_original_is_kept_as_sent(phone, located) -> None:
    assert phone.put_photo(located).json["has_position"] is True
    base = f"/api/photos/{sha(located)}"
    assert phone.http.get(f"{base}/original").data == located
    for path in (base, f"{base}/thumbnail"):
        shown = Image.open(io.BytesIO(phone.http.get(path).data))
        assert not shown.getexif().get_ifd(ExifTags.IFD.GPSInfo)


def test_size_is_told_as_the_picture_is_seen(phone, located) -> None:
    kept = phone.put_photo(located).json
    assert (kept["width"], kept["height"]) == (40, 80)


def test_sent_files_are_served_so_that_nothing_in_them_can_run(phone, jpeg) -> None:
    phone.put_photo(jpeg)
    for path in ("", "/original", "/thumbnail"):
        reply = phone.http.get(f"/api/photos/{sha(jpeg)}{path}")
        assert reply.headers["Content-Security-Policy"] == "sandbox; default-src 'none'"
        assert reply.headers["X-Content-Type-Options"] == "nosniff"
        assert reply.headers["Content-Disposition"].startswith("attachment")
        assert reply.content_type == "image/jpeg"
        assert "immutable" in reply.headers["Cache-Control"]
        assert "private" in reply.headers["Cache-Control"]


def test_photo_may_come_before_its_record_and_the_record_before_its_photo(
    phone, boat, picture, new_id
) -> None:
    first, second = picture("JPEG"), picture("PNG")
    phone.put_photo(first)
    for body in (first, second):
        change = phone.change("photo", new_id(), sha256=sha(body), of=f"boat/{boat}")
        phone.push(boat, [change])
    missing = f"/api/boats/{boat}/photos/missing"
    assert phone.http.get(missing).json == {"photos": [sha(second)]}
    phone.put_photo(second, kind="image/png")
    assert phone.http.get(missing).json == {"photos": []}


def test_photo_of_a_record_that_came_back_from_the_bin_is_missed_again(phone, boat, new_id) -> None:
    key = new_id()
    phone.push(boat, [phone.change("photo", key, sha256="0" * 64, binned=True)])
    phone.push(boat, [phone.change("photo", key, note="needed after all")])
    missing = f"/api/boats/{boat}/photos/missing"
    assert phone.http.get(missing).json == {"photos": ["0" * 64]}
    phone.push(boat, [phone.change("photo", key, binned=True)])
    assert phone.http.get(missing).json == {"photos": []}
    phone.push(boat, [phone.change("photo", key, binned=None)])
    assert phone.http.get(missing).json == {"photos": ["0" * 64]}


def test_photo_of_a_binned_record_is_not_missed(phone, boat, new_id) -> None:
    change = phone.change("photo", new_id(), sha256="0" * 64, binned=True)
    phone.push(boat, [change])
    assert phone.http.get(f"/api/boats/{boat}/photos/missing").json == {"photos": []}


def test_disk_that_is_nearly_full_takes_no_photo_and_still_takes_changes(
    tmp_path, clock, jpeg
) -> None:
    import uuid

    from shedtally.app import create_app
    from shedtally.settings import Settings
    from shedtally.storage.tables import db
    from shedtally.storage.unit_of_work import writing
    from shedtally.usecases.pair_device import make_code

    app = create_app(Settings(tmp_path, keep_free_bytes=2**62), clock)
    http, device, boat = app.test_client(), str(uuid.uuid4()), str(uuid.uuid4())
    with app.app_context(), writing() as uow:
        code = make_code(uow, clock()).code
    http.post("/api/pair", json={"code": code, "device": device, "name": "n"}, headers=WRITE)
    reply = http.put(
        f"/api/photos/{sha(jpeg)}", data=jpeg, content_type="image/jpeg", headers=WRITE
    )
    assert (reply.status_code, slug(reply)) == (507, "disk-full")
    change = {
        "id": str(uuid.uuid4()), "device": device, "seq": 1, "stamp": "0" * 16,
        "table": "boat", "key": boat, "set": {"name": "Tern"}, "base": 0,
    }  # fmt: skip
    body = {"schema": 1, "changes": [change]}
    pushed = http.post(f"/api/boats/{boat}/changes", json=body, headers=WRITE)
    assert pushed.json["results"][0]["outcome"] == "accepted"
    with app.app_context():
        db.engine.dispose()
