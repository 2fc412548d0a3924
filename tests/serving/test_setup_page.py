"""The set-up page: hands over the certificate, explains why, and works without any of the rest."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest
from cryptography import x509
from flask import Flask
from flask.testing import FlaskClient

from shedtally.serving.authority import Authority
from shedtally.web.setup import SetupFacts, setup_page

URL = "https://shed.local:8443"


def client_of(facts: SetupFacts) -> FlaskClient:
    app = Flask("shedtally.web")
    app.register_blueprint(setup_page(facts))
    return app.test_client()


@pytest.fixture
def authority(tmp_path: Path) -> Authority:
    return Authority.open(tmp_path / "authority", "shed.local", dt.datetime.now(dt.UTC))


@pytest.fixture
def client(authority: Authority) -> FlaskClient:
    server = authority.server_certificate("shed.local", (), dt.datetime.now(dt.UTC))
    return client_of(SetupFacts(URL, authority.certificate_file, server.certificate))


def page(client: FlaskClient, base: str = "http://shed.local:8080") -> str:
    answer = client.get("/setup", base_url=base)
    assert answer.status_code == 200
    return answer.text


def test_over_plain_http_it_says_that_nothing_is_kept_offline(client: FlaskClient) -> None:
    assert "Not safe offline" in page(client)
    assert "Not safe offline" not in page(client, URL)


def test_it_names_the_one_address_and_why(client: FlaskClient) -> None:
    text = page(client)
    assert f'href="{URL}/setup#check"' in text
    assert "One address, always the same" in text


@pytest.mark.parametrize("system", ["ios", "android", "windows", "mac", "linux"])
def test_it_has_steps_for(client: FlaskClient, system: str) -> None:
    steps = page(client).split(f'data-system="{system}"', 1)[1].split("</details>", 1)[0]
    assert steps.count("<li>") >= 3


def test_the_fingerprint_on_the_page_is_that_of_the_file_it_hands_over(
    client: FlaskClient, authority: Authority
) -> None:
    answer = client.get("/setup/authority.crt")
    assert answer.content_type == "application/x-x509-ca-cert"
    handed = x509.load_der_x509_certificate(answer.data)
    assert handed == authority.certificate
    assert authority.fingerprint in page(client)


def test_the_pem_file_is_the_same_certificate(client: FlaskClient, authority: Authority) -> None:
    handed = client.get("/setup/authority.pem").data
    assert x509.load_pem_x509_certificate(handed) == authority.certificate


def test_no_key_can_be_had_under_setup(client: FlaskClient) -> None:
    for name in ("authority.key", "server.key", "../authority/authority.key", "server.pem"):
        assert client.get(f"/setup/{name}").status_code == 404


def test_it_needs_no_inline_script_or_style(client: FlaskClient) -> None:
    text = page(client)
    assert "<style" not in text
    assert " style=" not in text
    assert " onclick" not in text
    assert text.count("<script") == 1
    assert 'src="/setup/check.js"' in text


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("check.js", "text/javascript"),
        ("worker.js", "text/javascript"),
        ("tokens.css", "text/css"),
        ("setup.css", "text/css"),
    ],
)
def test_its_files_come_with_types_that_browsers_insist_on(
    client: FlaskClient, name: str, kind: str
) -> None:
    answer = client.get(f"/setup/{name}")
    assert answer.content_type.startswith(kind)
    assert answer.headers["Cache-Control"] == "no-cache"


def test_each_check_says_its_state_in_words_before_any_script_runs(client: FlaskClient) -> None:
    text = page(client)
    for name in ("secure", "worker", "camera", "keeps"):
        assert f'<li id="{name}" data-state="waiting">' in text
    assert text.count("waiting for the check") == 4
    assert "<noscript>" in text


def test_with_a_public_certificate_there_is_nothing_to_install() -> None:
    client = client_of(SetupFacts("https://boats.example.org"))
    text = page(client, "http://boats.example.org")
    assert "Download the certificate" not in text
    assert "nothing to install" in text
    assert client.get("/setup/authority.crt").status_code == 404


def test_the_state_is_there_for_the_app_too(client: FlaskClient, authority: Authority) -> None:
    state = client.get("/setup/state.json", base_url=URL).get_json()
    assert state["url"] == URL
    assert state["secure"] is True
    assert state["fingerprint"] == authority.fingerprint
    assert 390 <= state["certificate_days_left"] <= 397
