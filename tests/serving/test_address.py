"""One stable address: chosen once, kept, and a change of it never passes unsaid."""

from __future__ import annotations

from pathlib import Path

import pytest

from shedtally.serving import address
from shedtally.serving.address import StableAddress, choose


def test_a_wished_name_is_kept_for_the_next_start(tmp_path: Path) -> None:
    first = choose(tmp_path, "shed.local", 8443)
    second = choose(tmp_path, None, None)
    assert first.address.url == second.address.url == "https://shed.local:8443"
    assert first.warnings == second.warnings == ()


def test_another_name_later_warns_that_unsent_work_stays_under_the_old(tmp_path: Path) -> None:
    choose(tmp_path, "shed.local", 8443)
    moved = choose(tmp_path, "barn.local", None)
    (warning,) = moved.warnings
    assert "https://shed.local:8443" in warning
    assert "https://barn.local:8443" in warning
    assert "not sent" in warning
    assert "Nothing is deleted" in warning
    assert moved.address.former == ("shed.local",)


def test_another_port_later_warns_too_and_says_how_to_go_back(tmp_path: Path) -> None:
    choose(tmp_path, "shed.local", 8443)
    (warning,) = choose(tmp_path, None, 9443).warnings
    assert "--name shed.local --port 8443" in warning


def test_going_back_to_a_former_name_keeps_the_other_as_former(tmp_path: Path) -> None:
    choose(tmp_path, "shed.local", 8443)
    choose(tmp_path, "barn.local", None)
    back = choose(tmp_path, "shed.local", None)
    assert back.address.former == ("barn.local",)


def test_the_same_wish_again_says_nothing(tmp_path: Path) -> None:
    choose(tmp_path, "shed.local", 8443)
    assert choose(tmp_path, "shed.local", 8443).warnings == ()


def test_a_name_that_leads_to_this_machine_is_preferred(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(address.socket, "gethostname", lambda: "Bench")
    monkeypatch.setattr(address, "machine_addresses", lambda: ("192.168.7.20",))
    monkeypatch.setattr(address, "_resolved", lambda name: {"bench.local": ["192.168.7.20"]}[name])
    assert address.machine_name() == ("bench.local", ())


def test_a_name_that_leads_elsewhere_is_not_taken(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(address.socket, "gethostname", lambda: "bench")
    monkeypatch.setattr(address, "machine_addresses", lambda: ("192.168.7.20",))
    monkeypatch.setattr(address, "_resolved", lambda _name: ["127.0.1.1"])
    name, (warning,) = address.machine_name()
    assert name == "192.168.7.20"
    assert "--name" in warning
    assert "bench.local" in warning


@pytest.mark.parametrize(
    ("kept", "url"),
    [
        (StableAddress("shed.local", 8443), "https://shed.local:8443"),
        (StableAddress("boats.example.org", 443), "https://boats.example.org"),
        (StableAddress("fd00::20", 8443), "https://[fd00::20]:8443"),
        (StableAddress("127.0.0.1", 8765, "http"), "http://127.0.0.1:8765"),
    ],
)
def test_the_url_is_what_a_browser_would_show(kept: StableAddress, url: str) -> None:
    assert kept.url == url
