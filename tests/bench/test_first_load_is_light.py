"""The first load of the client, as a phone on a bad line pays for it."""

import gzip
from pathlib import Path

import pytest

from shedtally.web.pages import CLIENT

LIMIT_BYTES = 250_000
DECODER = ("scan.worker", "zxing_reader")


@pytest.fixture(scope="module")
def files() -> dict[str, int]:
    """Compressed size by path, of everything that was built."""
    found = [path for path in Path(CLIENT).rglob("*") if path.is_file()]
    return {str(path.relative_to(CLIENT)): len(gzip.compress(path.read_bytes())) for path in found}


def test_the_first_load_without_the_decoder_is_within_its_budget(files: dict[str, int]) -> None:
    counted = {
        path: size for path, size in files.items() if not any(name in path for name in DECODER)
    }
    assert "index.html" in counted, "the client is not built"
    assert sum(counted.values()) <= LIMIT_BYTES, counted


def test_the_decoder_is_a_file_of_its_own(files: dict[str, int]) -> None:
    """So that it is fetched once, kept, and not paid for again with each version of the app."""
    wasm = [path for path in files if path.endswith(".wasm")]
    assert len(wasm) == 1
    assert files[wasm[0]] > 300_000


def test_the_service_worker_keeps_every_file_that_was_built(files: dict[str, int]) -> None:
    worker = (Path(CLIENT) / "sw.js").read_text(encoding="utf-8")
    missing = [path for path in files if path != "sw.js" and path not in worker]
    assert missing == []
