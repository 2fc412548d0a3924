"""`shedtally demo`: there in seconds, one browser let in by its link, nothing left behind."""

from __future__ import annotations

import http.client
import json
import re
import uuid
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path

import pytest

from processes import Running, free_port, get

Start = Callable[..., Running]
NAME = "127.0.0.1"


@pytest.fixture(scope="module")
def demo(start: Start, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    """A demo without --data, whose temporary folder is made inside `data`."""
    port, folder = free_port(), tmp_path_factory.mktemp("demo")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("TMPDIR", str(folder))
        running = start("demo", "--no-browser", "--port", str(port), data=folder, port=port)
        running.wait_for("Stop it with Ctrl-C")
        yield running


def pair(port: int, code: str) -> tuple[int, dict[str, object]]:
    body = json.dumps({"code": code, "device": str(uuid.uuid4()), "name": "Test browser"})
    headers = {"Content-Type": "application/json", "X-Shedtally": "1"}
    with closing(http.client.HTTPConnection(NAME, port, timeout=15)) as connection:
        connection.request("POST", "/api/pair", body, headers)
        answer = connection.getresponse()
        return answer.status, json.loads(answer.read())


def test_its_link_lets_one_browser_in_to_the_demo_boat_and_no_second(demo: Running) -> None:
    found = re.search(rf"http://{NAME}:{demo.port}/pair#(\w+)", demo.text)
    assert found, demo.text
    status, session = pair(demo.port, found[1])
    assert status == 200, session
    assert [boat["name"] for boat in session["boats"]] == ["Corncrake"]  # type: ignore[index,attr-defined]
    assert pair(demo.port, found[1])[0] == 403


def test_it_needs_no_certificate_because_it_stays_on_this_machine(demo: Running) -> None:
    page = get(demo.port, "/setup", NAME).body.decode()
    assert "Safe connection" in page
    assert "Download the certificate" not in page


def test_it_answers_to_no_foreign_name(demo: Running) -> None:
    assert get(demo.port, "/api/ping", "demo.example").status == 400


def test_a_second_demo_says_that_the_port_is_taken_and_leaves_nothing_behind(
    demo: Running, start: Start, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("TMPDIR", str(tmp_path))
    second = start("demo", "--no-browser", "--port", str(demo.port), data=tmp_path)
    assert second.ended() == 1
    assert f"Port {demo.port} is used by another program" in second.text
    assert not list(tmp_path.glob("shedtally-demo-*"))


def test_at_its_end_it_leaves_nothing_behind(demo: Running) -> None:
    assert "Nothing is kept after it stops" in demo.text
    assert list(demo.data.glob("shedtally-demo-*/photos/*/*"))
    assert demo.stop() == 0
    assert not list(demo.data.glob("shedtally-demo-*"))
