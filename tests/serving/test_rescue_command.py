"""`shedtally rescue FILE` takes in what a phone could not send, at the server itself."""

from __future__ import annotations

import json
import uuid
import zipfile
from pathlib import Path

import pytest
from click.testing import CliRunner

from shedtally.cli import main
from shedtally.serving.address import choose


@pytest.fixture
def data(tmp_path: Path) -> Path:
    choose(tmp_path / "shed", "shed.local", 8443)
    return tmp_path / "shed"


def rescue_file(folder: Path, server: str | None) -> Path:
    boat, device = str(uuid.uuid4()), str(uuid.uuid4())
    change = {
        "id": str(uuid.uuid4()),
        "device": device,
        "seq": 1,
        "stamp": "0199c82cc0000003",
        "table": "boat",
        "key": boat,
        "set": {"name": "Tern"},
        "base": 0,
        "boat": boat,
    }
    file = folder / "rescue.zip"
    listed = {"format": 1, "server": server, "device": device, "changes": [change], "photos": []}
    with zipfile.ZipFile(file, "w") as archive:
        archive.writestr("unsent.json", json.dumps(listed))
    return file


def run(*arguments: object):
    return CliRunner().invoke(main, ["rescue", *map(str, arguments)])


def test_file_is_taken_in_and_again_without_harm(data: Path, tmp_path: Path) -> None:
    file = rescue_file(tmp_path, None)
    first, second = (run(file, "--data", data) for _ in range(2))
    assert first.exit_code == 0, first.output
    assert "Changes taken in: 1; here already: 0." in first.output
    assert "Changes taken in: 0; here already: 1." in second.output


def test_file_of_another_server_comes_in_only_if_that_is_meant(data: Path, tmp_path: Path) -> None:
    file = rescue_file(tmp_path, str(uuid.uuid4()))
    refused = run(file, "--data", data)
    assert refused.exit_code == 1
    assert "from another server" in refused.output
    assert "Traceback" not in refused.output
    assert run(file, "--data", data, "--from-another-server").exit_code == 0


def test_file_that_is_none_is_told(data: Path, tmp_path: Path) -> None:
    file = tmp_path / "holiday.zip"
    file.write_bytes(b"sand")
    told = run(file, "--data", data)
    assert told.exit_code == 1
    assert "Nothing was kept" in told.output
