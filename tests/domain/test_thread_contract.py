"""Threads are read on the phone as on the server: the fixture that both run is what is read now."""

import importlib.util
import json
from pathlib import Path

CONTRACT = Path(__file__).parents[2] / "fixtures" / "contract"


def test_the_contract_is_what_the_server_reads_now():
    spec = importlib.util.spec_from_file_location("make_threads", CONTRACT / "make_threads.py")
    assert spec
    assert spec.loader
    maker = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(maker)
    kept = json.loads((CONTRACT / "threads.json").read_text("utf-8"))
    assert kept == json.loads(maker.made()), "run python fixtures/contract/make_threads.py"


def test_the_contract_has_a_class_of_an_outside_thread_and_a_fault():
    cases = json.loads((CONTRACT / "threads.json").read_text("utf-8"))["cases"]
    read = {case["text"]: case.get("thread") for case in cases}
    assert read["G 3/4 A"] == read["G3/4B"]
    assert read["G 3/4 A"]["sex"] == "male"
    assert read["as the old one"] is None
