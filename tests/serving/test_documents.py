"""README.md and DEVELOPERS.md say only what is so."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest

from shedtally.cli import main

ROOT = Path(__file__).resolve().parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
NAMED_PATH = re.compile(r"`((?:server|pwa|tests|fixtures)/[^`*\s]+)`")


READS_VARIABLE = re.compile(r'environ\w*(?:\.get\(|\[)"(SHEDTALLY_\w+)"|envvar="(SHEDTALLY_\w+)"')


def variables() -> list[str]:
    """Every variable that the programs read."""
    files = [*(ROOT / "server").rglob("*.py"), ROOT / "tests" / "run.py"]
    found = {"".join(pair) for file in files for pair in READS_VARIABLE.findall(file.read_text())}
    assert len(found) > 5, "the pattern no longer finds them"
    return sorted(found)


def named_paths() -> list[str]:
    paths = sorted(set(NAMED_PATH.findall(DEVELOPERS)))
    return [path for path in paths if "SYSTEM" not in path]


@pytest.mark.parametrize("path", named_paths())
def test_the_developers_guide_names_a_file_that_is_there(path: str) -> None:
    assert (ROOT / path).exists()


def test_the_walk_of_one_item_passes_through_both_programs() -> None:
    walk = DEVELOPERS.split("## 1.", 1)[1].split("## 2.", 1)[0]
    steps = [path for path in NAMED_PATH.findall(walk) if not path.startswith("tests/")]
    assert len(steps) > 15
    assert steps[0].startswith("pwa/src/screens/")
    assert any(path.startswith("server/shedtally/storage/") for path in steps)


def test_the_developers_guide_stays_short_enough_to_be_read() -> None:
    assert len(DEVELOPERS.splitlines()) < 620


@pytest.mark.parametrize("variable", variables())
def test_every_variable_of_the_environment_is_explained(variable: str) -> None:
    assert f"`{variable}" in DEVELOPERS + README


@pytest.mark.parametrize("command", sorted(main.commands))
def test_every_command_is_in_the_readme(command: str) -> None:
    assert f"shedtally {command}" in README


def test_the_readme_uses_only_options_that_exist() -> None:
    for command, words in re.findall(
        r"shedtally (\w+)((?: --?[a-z-]+(?: [^\s-][^\s`]*)?)+)", README
    ):
        known = {option for parameter in main.commands[command].params for option in parameter.opts}
        assert set(re.findall(r"--[a-z-]+", words)) <= known, (command, words)


def test_the_first_command_of_the_readme_is_there_word_for_word() -> None:
    assert "python3 -m venv .venv && .venv/bin/pip install . && .venv/bin/shedtally demo" in README
    assert "python3 tests/run.py" in README
    assert "python3 tests/run.py" in (ROOT / ".ci" / "run").read_text(encoding="utf-8")


def test_the_version_has_its_entry_among_the_changes() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert f"### {project['version']}" in README.split("## Changes", 1)[1]
