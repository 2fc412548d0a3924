"""Frozen lists of handovers: in every backup, back with it, and noticed if anybody changes them."""

import datetime as dt
import hashlib
import sqlite3
from contextlib import closing
from pathlib import Path

from shedtally.serving.address import choose
from shedtally.serving.application import opened
from shedtally.serving.authority import Authority
from shedtally.settings import Settings
from shedtally.storage.folder import DATABASE
from shedtally.usecases.back_up import back_up
from shedtally.usecases.bring_back import bring_back
from shedtally.usecases.check_data import check_data
from shedtally.usecases.receive_changes import SCHEMA, receive_changes

NOW = dt.datetime(2026, 5, 2, 16, tzinfo=dt.UTC)
MS = int(NOW.timestamp() * 1000)
BOAT, PHONE = "01a04d2d-2780-7a3d-8fd4-7c91bee43ffd", "01a04d2d-2780-7a3d-8fd4-7c91bee43f01"
RECORDS = (
    ("boat", BOAT, {"name": "Corncrake", "rule_set": "eu", "holder": "household"}),
    ("item", "tin", {"kind": "paint-can", "fate": "waste", "mass_kg": 3, "handover": "h"}),
    ("handover", "h", {"on": "2026-05-02", "to": "Site", "sealed_at": "2026-05-02T16:00:00Z"}),
)


def change(number, table, key, values):
    return {
        "id": f"01a04d2d-2780-7a3d-8fd4-{number:012x}", "device": PHONE, "seq": number,
        "stamp": f"{MS:012x}{number:04x}", "table": table, "key": key, "set": values, "base": 0,
    }  # fmt: skip


def sealed(folder: Path) -> Path:
    choose(folder, "shed.local", 8443)
    Authority.open(folder / "authority", "shed.local", NOW)
    made = [change(number, *row) for number, row in enumerate(RECORDS, start=1)]
    with opened(Settings(folder)) as shed, shed.writing() as uow:
        found = receive_changes(
            uow, BOAT, made, sent_by=PHONE, schema=SCHEMA, now_ms=MS, rules=shed.rules
        )
        assert {one.outcome for one in found.results} == {"accepted"}
    return folder


def frozen(folder: Path) -> list[tuple[str, str]]:
    with closing(sqlite3.connect(folder / DATABASE)) as database:
        return database.execute("select digest, body from frozen").fetchall()


def test_a_backup_brings_frozen_lists_back_byte_for_byte(tmp_path: Path) -> None:
    folder = sealed(tmp_path / "shed")
    ((digest, body),) = frozen(folder)
    assert hashlib.sha256(body.encode()).hexdigest() == digest
    again = tmp_path / "again"
    bring_back(back_up(folder, tmp_path / "stick", NOW).folder, again)
    assert frozen(again) == [(digest, body)]
    assert check_data(again).damage == ()


def test_the_check_names_a_frozen_list_that_was_changed(tmp_path: Path) -> None:
    folder = sealed(tmp_path / "shed")
    assert check_data(folder).damage == ()
    with closing(sqlite3.connect(folder / DATABASE)) as database:
        database.execute("update frozen set body = replace(body, '3.0', '2.0')")
        database.commit()
    (damage,) = check_data(folder).damage
    assert "its frozen list is not the one that was handed over" in damage
