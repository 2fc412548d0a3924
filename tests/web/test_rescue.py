"""A rescue file lands as the work of the phone that made it, whole or in parts, once."""

from __future__ import annotations

import hashlib
import io
import json
import zipfile

import pytest

WRITE = {"X-Shedtally": "1"}


def bring_in(phone, body: bytes, query: str = "", kind: str = "application/zip"):
    return phone.http.post(f"/api/rescue{query}", data=body, content_type=kind, headers=WRITE)


def unsent(phone, boat: str, changes: list[dict], photos: tuple[bytes, ...] = (), **more) -> dict:
    """What stands in `unsent.json` of a phone's file."""
    return {
        "format": 1,
        "server": phone.http.get("/api/ping").json["server"],
        "device": phone.device,
        "device_name": "phone",
        "made_at": "2026-05-04T18:30:00.000Z",
        "boats": [{"key": boat, "name": "Corncrake"}],
        "changes": [{**change, "boat": boat} for change in changes],
        "photos": [
            {"sha256": digest(one), "type": "image/jpeg", "bytes": len(one)} for one in photos
        ],
        **more,
    }


def packed(
    listed: object, photos: tuple[bytes, ...] = (), method: int = zipfile.ZIP_STORED, **entries
) -> bytes:
    """The archive, as a phone writes it: photographs first."""
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", method) as archive:
        for photo in photos:
            archive.writestr(f"photos/{digest(photo)}", photo)
        for name, content in entries.items():
            archive.writestr(name, content)
        if listed is not None:
            text = listed if isinstance(listed, str) else json.dumps(listed)
            archive.writestr("unsent.json", text)
    return buffer.getvalue()


def digest(body: bytes) -> str:
    return hashlib.sha256(body).hexdigest()


@pytest.fixture
def lost(pair, phone, boat):
    """A phone that was shut out with work on it; `phone` is an owner's."""
    lost = pair()
    path = f"/api/devices/{lost.device}/revoke"
    assert phone.http.post(path, headers=WRITE).status_code == 204
    assert lost.push(boat, [lost.change("item", "k", name="x")]).status_code == 401
    return lost


def test_work_of_a_phone_that_was_shut_out_comes_in_as_its_own(phone, lost, boat, new_id, jpeg):
    changes = [lost.change("item", new_id(), name=f"pump {n}") for n in range(3)]
    body = packed(unsent(phone, boat, changes, (jpeg,), device=lost.device), (jpeg,))
    reply = bring_in(phone, body)
    assert reply.status_code == 200, reply.json
    assert reply.json == {
        "accepted": 3,
        "repeated": 0,
        "rejected": [],
        "photos_kept": 1,
        "photos_known": 0,
        "photos_refused": [],
        "damaged": [],
    }
    assert [one["device"] for one in phone.pull_all(boat)[1:]] == [lost.device] * 3
    assert phone.http.get(f"/api/photos/{digest(jpeg)}").data == jpeg
    again = bring_in(phone, body).json
    assert (again["accepted"], again["repeated"]) == (0, 3)
    assert (again["photos_kept"], again["photos_known"]) == (0, 1)
    assert len(phone.pull_all(boat)) == 4


@pytest.mark.parametrize(("same_log", "listed"), [(False, 1), (True, 0)])
def test_base_counted_in_a_lost_log_hides_no_overwriting(phone, lost, boat, same_log, listed):
    phone.push(boat, [phone.change("item", "i", name="pump")])
    epoch = phone.http.get("/api/ping").json["epoch"] if same_log else "one that is lost"
    phone.clock.ms += 1000
    change = lost.change("item", "i", base=2, name="seacock")
    file = unsent(phone, boat, [change], device=lost.device, epoch=epoch)
    assert bring_in(phone, packed(file)).json["accepted"] == 1
    assert len(phone.http.get(f"/api/boats/{boat}/clashes").json) == listed


def test_phone_that_is_shut_out_cannot_bring_in_its_own_file(phone, lost, boat, new_id) -> None:
    body = packed(unsent(phone, boat, [lost.change("item", new_id(), name="pump")]))
    assert bring_in(lost, body).status_code == 401
    assert len(phone.pull_all(boat)) == 1


def test_boat_that_nobody_has_sent_comes_with_the_file(phone, new_id) -> None:
    boat = new_id()
    changes = [phone.change("boat", boat, name="Tern"), phone.change("item", new_id(), name="oar")]
    assert bring_in(phone, packed(unsent(phone, boat, changes))).json["accepted"] == 2
    assert {"key": boat, "name": "Tern"} in phone.http.get("/api/boats").json


def test_each_change_and_photo_is_judged_alone(phone, boat, new_id, jpeg) -> None:
    good, bad = (phone.change("item", new_id(), count=n) for n in (1, -1))
    nowhere = phone.change("item", new_id(), count=1)
    listed = unsent(phone, boat, [good, bad], (jpeg,))
    listed["changes"] += [{**nowhere, "boat": new_id()}, {**nowhere, "boat": 7}, "nonsense"]
    wrong = f"photos/{'0' * 64}"
    reply = bring_in(
        phone, packed(listed, (jpeg,), **{wrong: jpeg, f"photos/{digest(b'x')}": b"x"})
    )
    found = reply.json
    assert (found["accepted"], found["photos_kept"]) == (1, 1)
    assert [one["id"] for one in found["rejected"]] == [
        nowhere["id"],
        None,
        bad["id"],
        nowhere["id"],
    ]
    assert all(one["why"] for one in found["rejected"])
    assert {one["sha256"] for one in found["photos_refused"]} == {"0" * 64, digest(b"x")}
    assert all(one["why"].endswith(".") for one in found["photos_refused"])
    assert phone.http.get(f"/api/photos/{'0' * 64}").status_code == 404


def test_file_cut_anywhere_lands_the_photographs_before_the_cut_and_says_so(
    phone, boat, new_id, picture
) -> None:
    photos = tuple(picture("JPEG", (40 + n, 30)) for n in range(4))
    body = packed(unsent(phone, boat, [phone.change("item", new_id(), name="x")], photos), photos)
    for tenth in range(1, 10):
        reply = bring_in(phone, body[: len(body) * tenth // 10])
        if reply.status_code == 422:
            assert tenth <= 2
            assert reply.json["type"].endswith("/problems/rescue-unreadable")
            continue
        assert reply.json["damaged"][0].startswith("The file is cut off")
        whole = sum(body.find(one) + len(one) <= len(body) * tenth // 10 for one in photos)
        assert reply.json["photos_kept"] + reply.json["photos_known"] == whole
    assert bring_in(phone, body).json["damaged"] == []


def test_list_that_lies_whole_before_the_cut_is_taken_in(phone, boat, new_id, jpeg) -> None:
    change = phone.change("item", new_id(), name="pump")
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w") as archive:
        archive.writestr("unsent.json", json.dumps(unsent(phone, boat, [change], (jpeg,))))
        archive.writestr(f"photos/{digest(jpeg)}", jpeg)
    body = buffer.getvalue()
    found = bring_in(phone, body[: body.find(jpeg) + 10]).json
    assert (found["accepted"], found["photos_kept"]) == (1, 0)
    assert any(digest(jpeg) in line for line in found["damaged"])


def test_flipped_bits_are_noticed_and_the_rest_lands(phone, boat, new_id, jpeg, picture) -> None:
    other = picture("JPEG", (77, 55))
    change = phone.change("item", new_id(), name="pump")
    body = bytearray(packed(unsent(phone, boat, [change], (jpeg, other)), (jpeg, other)))
    body[body.find(jpeg) + len(jpeg) // 2] ^= 0xFF
    found = bring_in(phone, bytes(body)).json
    assert (found["accepted"], found["photos_kept"]) == (1, 1)
    assert any(digest(jpeg) in line for line in found["damaged"])
    assert phone.http.get(f"/api/photos/{digest(jpeg)}").status_code == 404
    listed = bytearray(packed(unsent(phone, boat, [change])))
    listed[listed.find(b"pump")] ^= 0x01
    reply = bring_in(phone, bytes(listed))
    assert reply.status_code == 422


def test_file_packed_again_by_another_program_comes_in_too(phone, boat, new_id, jpeg) -> None:
    listed = unsent(phone, boat, [phone.change("item", new_id(), name="pump")], (jpeg,))
    found = bring_in(phone, packed(listed, (jpeg,), zipfile.ZIP_DEFLATED)).json
    assert (found["accepted"], found["photos_kept"], found["damaged"]) == (1, 1, [])


def test_names_that_lead_elsewhere_are_left_alone(phone, boat, settings, jpeg) -> None:
    outside = settings.data_dir.parent
    before = sorted(outside.rglob("*"))
    names = ["../evil", "/evil", "photos/../../evil", f"photos/{digest(jpeg)}/..", "C:\\evil"]
    body = packed(unsent(phone, boat, []), **dict.fromkeys(names, jpeg))
    found = bring_in(phone, body).json
    assert found["photos_kept"] == 0
    assert len(found["damaged"]) == len(names)
    assert list(outside.rglob("*evil*")) == []
    assert sorted(outside.rglob("*")) == before


def test_small_file_that_unpacks_to_a_mountain_is_not_unpacked(phone, boat, jpeg) -> None:
    mountain = " " * 120_000_000
    found = packed(mountain, (jpeg,), zipfile.ZIP_DEFLATED)
    assert len(found) < 1_000_000
    reply = bring_in(phone, found).json
    assert reply["photos_kept"] == 1
    assert "larger than any phone makes it" in reply["damaged"][0]
    named = f"photos/{'1' * 64}"
    body = packed(unsent(phone, boat, []), (), zipfile.ZIP_DEFLATED, **{named: mountain})
    assert [one["sha256"] for one in bring_in(phone, body).json["photos_refused"]] == ["1" * 64]


@pytest.mark.parametrize(
    "body",
    [
        b"no archive",
        b"PK\x03\x04",
        packed(None),
        packed("{"),
        packed([]),
        packed({"format": 1}),
    ],
    ids=["text", "start", "no entries", "no JSON", "a list", "no changes"],
)
def test_file_in_which_nothing_is_whole_is_a_problem(phone, boat, body) -> None:
    reply = bring_in(phone, body)
    assert reply.status_code == 422
    assert reply.json["type"].endswith("/problems/rescue-unreadable")


def test_file_of_another_form_is_a_problem(phone, boat, new_id) -> None:
    listed = unsent(phone, boat, [phone.change("item", new_id(), name="pump")], format=2)
    assert bring_in(phone, packed(listed)).status_code == 422
    assert bring_in(phone, packed(listed), kind="text/plain").status_code == 415
    assert len(phone.pull_all(boat)) == 1


def test_file_of_another_server_comes_in_only_if_that_is_meant(phone, boat, new_id, jpeg) -> None:
    change = phone.change("item", new_id(), name="pump")
    body = packed(unsent(phone, boat, [change], (jpeg,), server=new_id()), (jpeg,))
    reply = bring_in(phone, body)
    assert reply.status_code == 409
    assert reply.json["type"].endswith("/problems/rescue-other-server")
    assert phone.http.get(f"/api/photos/{digest(jpeg)}").status_code == 404
    assert bring_in(phone, body, "?other_server=true").json["accepted"] == 1


def test_file_of_a_phone_that_never_paired_comes_in(phone, boat, new_id) -> None:
    change = phone.change("item", new_id(), name="pump")
    body = packed(unsent(phone, boat, [change], server=None))
    assert bring_in(phone, body).json["accepted"] == 1


def test_nothing_of_an_upload_stays_behind(phone, boat, settings) -> None:
    bring_in(phone, packed(unsent(phone, boat, [])))
    bring_in(phone, b"no archive")
    assert list((settings.data_dir / "incoming").iterdir()) == []


def test_upload_that_was_cut_on_its_way_is_a_problem(phone, boat) -> None:
    body = packed(unsent(phone, boat, []))
    reply = phone.http.post(
        "/api/rescue",
        input_stream=io.BytesIO(body),
        content_type="application/zip",
        headers=WRITE,
        environ_overrides={"CONTENT_LENGTH": str(len(body) + 5)},
    )
    assert reply.status_code == 422
    assert reply.json["type"].endswith("/problems/photo-cut-short")


def test_more_changes_than_a_batch_come_in_together(phone, boat, new_id) -> None:
    changes = [phone.change("item", new_id(), name=f"{n}") for n in range(2500)]
    assert bring_in(phone, packed(unsent(phone, boat, changes))).json["accepted"] == 2500
