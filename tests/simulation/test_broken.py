"""Breaking the code on purpose takes minutes and is no part of this; that it can be done, is."""

from pathlib import Path

import pytest

from simulation.broken import BREAKS

PHONE = Path(__file__).parents[2] / "pwa" / "src"
LINES = [(one.says, file, line) for one in BREAKS for file, line, _ in one.lines]


@pytest.mark.parametrize(("says", "file", "line"), LINES)
def test_a_line_to_be_broken_stands_in_its_file_once(says: str, file: str, line: str) -> None:
    assert (PHONE / file).read_text().count(line) == 1, says
