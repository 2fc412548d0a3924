"""Backup, check and restore: nothing missing, nothing damaged unseen, nothing half done."""

from __future__ import annotations

import datetime as dt
import hashlib
import io
import json
import shutil
import sqlite3
import stat
import threading
from contextlib import closing
from pathlib import Path

import pytest
from PIL import Image

from shedtally.serving.address import choose
from shedtally.serving.application import opened
from shedtally.serving.authority import Authority
from shedtally.settings import Settings
from shedtally.storage.folder import photo_files
from shedtally.usecases import back_up as backing_up
from shedtally.usecases.back_up import DamagedPhoto, NothingThere, back_up
from shedtally.usecases.bring_back import BackupDamaged, FolderInUse, bring_back
from shedtally.usecases.check_data import check_data
from shedtally.usecases.keep_photo import keep_photo

NOW = dt.datetime(2027, 3, 14, 20, 15, tzinfo=dt.UTC)
BOAT = "019f0000-0000-7000-8000-000000000002"
DEVICE = "019f0000-0000-7000-8000-000000000001"
COLOURS = ("red", "white", "black")


def photograph(colour: str) -> bytes:
    stream = io.BytesIO()
    Image.new("RGB", (64, 48), colour).save(stream, "JPEG")
    return stream.getvalue()


@pytest.fixture
def data(tmp_path: Path) -> Path:
    folder = tmp_path / "shed"
    choose(folder, "shed.local", 8443)
    Authority.open(folder / "authority", "shed.local", NOW)
    with opened(Settings(folder)) as shed:
        for colour in COLOURS:
            content = photograph(colour)
            keep_photo(
                shed.reading,
                shed.writing,
                shed.photos,
                hashlib.sha256(content).hexdigest(),
                declared=len(content),
                chunks=[content],
                device=DEVICE,
                now_ms=0,
            )
    return folder


def photo_of(folder: Path, colour: str) -> Path:
    digest = hashlib.sha256(photograph(colour)).hexdigest()
    return folder / "photos" / digest[:2] / digest


def identity(folder: Path) -> tuple[str, str]:
    with closing(sqlite3.connect(folder / "shedtally.sqlite3")) as database:
        return database.execute("SELECT id, epoch FROM server").fetchone()


def test_a_backup_holds_every_photograph_byte_for_byte(data: Path, tmp_path: Path) -> None:
    made = back_up(data, tmp_path / "stick", NOW)
    assert made.folder == tmp_path / "stick" / "2027-03-14T201500Z"
    assert made.photos == len(COLOURS)
    for colour in COLOURS:
        assert photo_of(made.folder, colour).read_bytes() == photograph(colour)


def test_the_key_of_the_authority_stays_private_in_the_backup(data: Path, tmp_path: Path) -> None:
    made = back_up(data, tmp_path / "stick", NOW)
    key = made.folder / "authority" / "authority.key"
    assert stat.S_IMODE(key.stat().st_mode) == 0o600


def test_a_backup_taken_while_somebody_writes_is_one_state(data: Path, tmp_path: Path) -> None:
    """A transaction so large that its pages reach the file before it ends is never seen half."""
    with closing(
        sqlite3.connect(data / "shedtally.sqlite3", isolation_level=None, check_same_thread=False)
    ) as writer:
        writer.execute("CREATE TABLE large (state INTEGER, filling TEXT)")
        writer.execute("BEGIN")
        writer.executemany("INSERT INTO large VALUES (0, ?)", [("x" * 1000,)] * 2000)
        writer.execute("COMMIT")
        writer.execute("PRAGMA cache_size = 4")
        writer.execute("BEGIN IMMEDIATE")
        writer.execute("UPDATE large SET state = 1 WHERE rowid % 2")
        later = threading.Timer(0.5, writer.execute, ["COMMIT"])
        later.start()
        made = back_up(data, tmp_path / "stick", NOW)
        later.join()
    with closing(sqlite3.connect(made.folder / "shedtally.sqlite3")) as copy:
        odd = copy.execute("SELECT state, count(*) FROM large WHERE rowid % 2 GROUP BY 1")
        assert odd.fetchall() in ([(0, 1000)], [(1, 1000)])
        assert copy.execute("PRAGMA integrity_check").fetchone() == ("ok",)


def test_a_damaged_photograph_stops_the_backup_and_leaves_no_half_of_it(
    data: Path, tmp_path: Path
) -> None:
    photo_of(data, "white").write_bytes(b"not what was sent")
    with pytest.raises(DamagedPhoto, match="Nothing is deleted"):
        back_up(data, tmp_path / "stick", NOW)
    assert list((tmp_path / "stick").iterdir()) == []


def test_a_backup_that_stops_half_way_is_not_visible(
    data: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(backing_up, "_copy_small", full)
    with pytest.raises(OSError, match="No space"):
        back_up(data, tmp_path / "stick", NOW)
    assert list((tmp_path / "stick").iterdir()) == []


def test_a_folder_without_data_is_named_and_nothing_is_made(tmp_path: Path) -> None:
    with pytest.raises(NothingThere, match="--data"):
        back_up(tmp_path, tmp_path / "stick", NOW)
    with pytest.raises(NothingThere, match="--data"):
        check_data(tmp_path)
    assert not (tmp_path / "stick").exists()


def test_restoring_brings_everything_back_in_a_new_epoch(data: Path, tmp_path: Path) -> None:
    made = back_up(data, tmp_path / "stick", NOW)
    again = tmp_path / "again"
    assert bring_back(made.folder, again) == len(COLOURS)
    for colour in COLOURS:
        assert photo_of(again, colour).read_bytes() == photograph(colour)
    assert identity(again)[0] == identity(data)[0]
    assert identity(again)[1] != identity(data)[1]
    assert check_data(again).damage == ()
    assert json.loads((again / "address.json").read_text())["name"] == "shed.local"
    before, after = (Authority(folder / "authority").fingerprint for folder in (data, again))
    assert before == after
    with opened(Settings(again)) as shed, shed.reading() as uow:
        assert uow.server.identity().epoch == identity(again)[1]
    assert list(again.glob("pictures/*/*-320.jpg"))


def reserve(folder: Path) -> set[str]:
    with opened(Settings(folder)) as shed, shed.writing() as uow:
        return set(uow.server.reserve(BOAT, 500, DEVICE, 0)[1])


def test_no_tag_printed_after_a_backup_is_given_out_again_by_what_is_made_of_it(
    data: Path, tmp_path: Path
) -> None:
    with opened(Settings(data)) as shed, shed.writing() as uow:
        uow.log(BOAT).open()
    before = reserve(data)
    made = back_up(data, tmp_path / "stick", NOW)
    printed = [reserve(data) for _ in range(20)]
    bring_back(made.folder, tmp_path / "again")
    printed += [reserve(tmp_path / "again") for _ in range(20)]
    assert len(before.union(*printed)) == 500 * (1 + len(printed))


def test_one_backup_brought_back_twice_goes_on_at_two_places(
    data: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with opened(Settings(data)) as shed, shed.writing() as uow:
        uow.log(BOAT).open()
    made = back_up(data, tmp_path / "stick", NOW)
    asked: list[int] = []
    # Two places out of millions; that chance puts both within what is printed is in DEVELOPERS.md.
    monkeypatch.setattr(
        "secrets.randbelow", lambda most: asked.append(most) or most // (len(asked) + 1)
    )
    printed = []
    for name in ("first", "second"):
        bring_back(made.folder, tmp_path / name)
        printed += [reserve(tmp_path / name) for _ in range(20)]
    assert len(set().union(*printed)) == 500 * len(printed)
    assert min(asked) > 4_000_000


def test_restoring_never_touches_a_folder_that_holds_something(data: Path, tmp_path: Path) -> None:
    made = back_up(data, tmp_path / "stick", NOW)
    before = identity(data)
    with pytest.raises(FolderInUse, match="nothing in it was touched"):
        bring_back(made.folder, data)
    assert identity(data) == before


@pytest.mark.parametrize("harm", ["database", "photograph", "missing photograph", "no manifest"])
def test_a_damaged_backup_is_refused_before_anything_is_written(
    data: Path, tmp_path: Path, harm: str
) -> None:
    made = back_up(data, tmp_path / "stick", NOW)
    if harm == "database":
        with (made.folder / "shedtally.sqlite3").open("ab") as stream:
            stream.write(b"x")
    elif harm == "photograph":
        photo_of(made.folder, "red").write_bytes(photograph("black"))
    elif harm == "missing photograph":
        photo_of(made.folder, "red").unlink()
    else:
        (made.folder / "manifest.json").unlink()
    with pytest.raises(BackupDamaged, match="Nothing was written"):
        bring_back(made.folder, tmp_path / "again")
    assert not (tmp_path / "again").exists()


def test_the_check_names_what_is_gone_and_what_has_changed(data: Path) -> None:
    assert check_data(data).damage == ()
    photo_of(data, "red").unlink()
    photo_of(data, "white").write_bytes(photograph("white")[:-1])
    damage = check_data(data).damage
    assert any("the file is gone" in line for line in damage)
    assert any("not those that were sent" in line for line in damage)
    assert len(damage) == 2


def test_the_check_tells_strays_from_damage(data: Path) -> None:
    content = photograph("green")
    stray = photo_of(data, "green")
    stray.parent.mkdir(exist_ok=True)
    stray.write_bytes(content)
    report = check_data(data)
    assert report.damage == ()
    assert "belong to no record, left alone: 1" in " ".join(report.remarks)


def test_the_check_names_photographs_that_no_record_names_and_leaves_them(data: Path) -> None:
    names = sorted(file.name for file in photo_files(data / "photos"))
    assert names
    remarks = check_data(data).remarks
    assert remarks == tuple(f"photograph {name}: no record names it; left alone" for name in names)
    assert sorted(file.name for file in photo_files(data / "photos")) == names


def test_the_check_finds_a_database_page_that_was_overwritten(data: Path) -> None:
    file = data / "shedtally.sqlite3"
    whole = shutil.copyfile(file, file.with_suffix(".whole")).read_bytes()
    pages = len(whole) // 4096
    file.write_bytes(whole[: 4096 * (pages - 2)] + b"\xff" * 4096 + whole[4096 * (pages - 1) :])
    assert any(line.startswith("database:") for line in check_data(data).damage)
