"""The command line: what it prints, what it refuses, and in which words."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from processes import start_command
from shedtally.cli import main
from shedtally.serving.address import choose
from shedtally.serving.application import opened
from shedtally.settings import Settings


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


@pytest.fixture
def data(tmp_path: Path) -> Path:
    folder = tmp_path / "shed"
    choose(folder, "shed.local", 8443)
    with opened(Settings(folder)):
        return folder


@pytest.mark.parametrize(
    "name", ["https://shed.local", "shed.local:8443", "a shed", "", "-shed", "shed/", "shéd.local"]
)
def test_a_name_that_is_no_host_name_is_refused_with_an_example(tmp_path: Path, name: str) -> None:
    result = run("serve", "--data", tmp_path / "new", f"--name={name}")
    assert result.exit_code == 2
    assert "like shed.local" in " ".join(result.output.replace("│", " ").split())
    assert not (tmp_path / "new").exists()


def test_backup_check_and_restore_work_by_hand(data: Path, tmp_path: Path) -> None:
    made = run("backup", tmp_path / "stick", "--data", data)
    assert made.exit_code == 0, made.output
    assert "Keep it safe" in made.output
    (folder,) = (tmp_path / "stick").iterdir()
    assert run("check", "--data", data).output.endswith("All is whole.\n")
    back = run("restore", folder, "--data", tmp_path / "again")
    assert back.exit_code == 0, back.output
    assert f"shedtally serve --data {tmp_path / 'again'}" in back.output.replace("\n", " ")


def test_what_a_person_can_put_right_comes_without_a_traceback(data: Path, tmp_path: Path) -> None:
    for words in (
        ("backup", tmp_path / "stick", "--data", tmp_path / "nothing"),
        ("check", "--data", tmp_path / "nothing"),
        ("pair", "--data", tmp_path / "nothing"),
        ("restore", tmp_path, "--data", tmp_path / "again"),
    ):
        result = run(*words)
        assert result.exit_code == 1, words
        assert result.output.startswith("Error: "), result.output
        assert isinstance(result.exception, SystemExit)


def test_a_damaged_folder_makes_the_check_fail_and_say_what_to_do(data: Path) -> None:
    digest = "a" * 64
    stray = data / "photos" / digest[:2] / digest
    stray.parent.mkdir(parents=True)
    stray.write_bytes(b"not the bytes of this digest")
    result = run("check", "--data", data)
    assert result.exit_code == 1
    assert digest in result.output
    assert "Make no new backup over an old one" in result.output


def test_help_is_there_within_a_second_because_it_loads_no_server() -> None:
    import subprocess
    import sys

    code = "import shedtally.cli, sys; print('flask' in sys.modules, 'sqlalchemy' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["False", "False"]


def test_the_module_can_be_run_like_the_command(tmp_path: Path) -> None:
    running = start_command("--version", data=tmp_path)
    assert running.ended() == 0
    assert running.text.startswith("python -m shedtally, version 0.")
