"""`shedtally serve` as it runs in a shed: two ports, one authority, one address."""

from __future__ import annotations

import os
import signal
import ssl
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes

from processes import ENDS_WITHIN_S, Running, free_port, get, trusting

NAME = "shed.local"
Start = Callable[..., Running]


def serve(start: Start, data: Path, *words: str) -> Running:
    port, plain_port = free_port(), free_port()
    ports = ("--port", str(port), "--plain-port", str(plain_port))
    return start(
        "serve", "--data", str(data), *ports, *words, data=data, port=port, plain_port=plain_port
    )


@pytest.fixture(scope="module")
def shed(start: Start, tmp_path_factory: pytest.TempPathFactory) -> Running:
    running = serve(start, tmp_path_factory.mktemp("shed") / "data", "--name", NAME)
    running.wait_for("Pair with the code")
    return running


def test_a_client_that_trusts_the_authority_gets_an_answer(shed: Running) -> None:
    answer = get(shed.port, "/api/ping", NAME, trusting(shed.data))
    assert answer.status == 200
    assert answer.json["server"]


def test_a_client_that_does_not_trust_it_gets_none(shed: Running) -> None:
    with pytest.raises(ssl.SSLCertVerificationError, match="unable to get local issuer"):
        get(shed.port, "/api/ping", NAME, ssl.create_default_context())


def test_old_tls_is_refused(shed: Running) -> None:
    old = trusting(shed.data)
    old.set_ciphers("ALL:@SECLEVEL=0")
    with pytest.warns(DeprecationWarning, match="TLSv1_1"):
        old.minimum_version = old.maximum_version = ssl.TLSVersion.TLSv1_1
    with pytest.raises(ssl.SSLError, match="alert protocol version"):
        get(shed.port, "/api/ping", NAME, old)


def test_a_name_that_is_not_ours_gets_no_page_even_if_it_leads_here(shed: Running) -> None:
    assert get(shed.plain_port, "/setup", "bank.example").status == 400


def test_the_terminal_shows_address_fingerprint_and_code(shed: Running) -> None:
    assert f"https://{NAME}:{shed.port}" in shed.text
    assert f"http://{NAME}:{shed.plain_port}/setup" in shed.text
    pem = (shed.data / "authority" / "authority.pem").read_bytes()
    digest = x509.load_pem_x509_certificate(pem).fingerprint(hashes.SHA256()).hex(":").upper()
    lines = shed.text.split("fingerprint\n")[1].split("\n")
    assert digest == ":".join(line.strip() for line in lines[:2])
    assert "█" in shed.text


def test_the_plain_port_opens_with_the_setup_page_and_hands_over_the_certificate(
    shed: Running,
) -> None:
    answer = get(shed.plain_port, "/", NAME)
    assert (answer.status, answer.headers["Location"]) == (302, "/setup")
    page = get(shed.plain_port, "/setup", NAME)
    assert page.status == 200
    assert f"https://{NAME}:{shed.port}" in page.body.decode()
    crt = get(shed.plain_port, "/setup/authority.crt", NAME)
    assert crt.headers["Content-Type"] == "application/x-x509-ca-cert"
    pem = (shed.data / "authority" / "authority.pem").read_bytes()
    assert x509.load_der_x509_certificate(crt.body) == x509.load_pem_x509_certificate(pem)


def test_the_plain_port_serves_the_rest_too_for_those_who_only_look(shed: Running) -> None:
    assert get(shed.plain_port, "/api/ping", NAME).status == 200
    assert get(shed.plain_port, "/?plain", NAME).status != 302


def test_the_safe_port_opens_with_the_app(shed: Running) -> None:
    assert get(shed.port, "/", NAME, trusting(shed.data)).status != 302


def test_every_page_has_the_strict_policy(shed: Running) -> None:
    policy = get(shed.plain_port, "/setup", NAME).headers["Content-Security-Policy"]
    assert "default-src 'self'" in policy
    assert "unsafe-inline" not in policy


def test_a_second_server_on_the_same_port_says_so_and_stops(shed: Running, start: Start) -> None:
    second = start(
        "serve", "--data", str(shed.data), "--plain-port", str(free_port()), data=shed.data
    )
    assert second.ended() == 1
    assert f"Port {shed.port} is used by another program" in second.text
    assert "Traceback" not in second.text


def test_another_name_warns_and_both_names_open(start: Start, tmp_path: Path) -> None:
    first = serve(start, tmp_path, "--name", NAME)
    first.wait_for("Pair with the code")
    assert "Attention" not in first.text
    assert first.stop() == 0
    ports = ("--plain-port", str(first.plain_port))
    second = start("serve", "--data", str(tmp_path), "--name", "barn.local", *ports, data=tmp_path)
    said = " ".join(second.wait_for("Pair with the code").replace("! ", "").split())
    assert "Attention" in said
    assert f"The address changes from https://{NAME}:{first.port} to https://barn.local" in said
    assert "not sent" in said
    for name in (NAME, "barn.local"):
        assert get(first.port, "/api/ping", name, trusting(tmp_path)).status == 200
    second.stop()


def gone(port: int) -> bool:
    deadline = time.monotonic() + ENDS_WITHIN_S
    while time.monotonic() < deadline:
        try:
            get(port, "/api/ping", NAME)
        except ConnectionRefusedError:
            return True
        except OSError:
            pass
        time.sleep(0.05)
    return False


@pytest.mark.parametrize("how", [signal.SIGTERM, signal.SIGINT, signal.SIGHUP, signal.SIGKILL])
def test_however_the_first_process_ends_the_plain_port_closes_too(
    start: Start, tmp_path: Path, how: signal.Signals
) -> None:
    running = serve(start, tmp_path, "--name", NAME)
    running.wait_for("Pair with the code")
    deadline = time.monotonic() + 20
    while time.monotonic() < deadline:
        try:
            if get(running.plain_port, "/api/ping", NAME).status == 200:
                break
        except OSError:
            time.sleep(0.1)
    os.kill(running.process.pid, how)
    running.process.wait(ENDS_WITHIN_S)
    assert gone(running.plain_port)
    assert gone(running.port)


def test_started_with_nohup_it_outlives_its_terminal(start: Start, tmp_path: Path) -> None:
    port, plain_port = free_port(), free_port()
    ports = ("--port", str(port), "--plain-port", str(plain_port))
    words = ("serve", "--data", str(tmp_path), *ports, "--name", NAME)
    running = start(*words, data=tmp_path, port=port, plain_port=plain_port, detached=True)
    running.wait_for("Pair with the code")
    os.kill(running.process.pid, signal.SIGHUP)
    time.sleep(1)
    assert get(port, "/api/ping", NAME, trusting(tmp_path)).status == 200
    assert running.process.poll() is None


def test_behind_a_proxy_it_believes_the_proxy_and_knows_its_public_name(
    start: Start, tmp_path: Path
) -> None:
    port = free_port()
    words = ("--behind-proxy", "--name", "boats.example.org", "--port", str(port))
    running = start("serve", "--data", str(tmp_path), *words, data=tmp_path)
    said = running.wait_for("Pair with the code")
    assert "https://boats.example.org/pair#" in said
    forwarded = {"X-Forwarded-Proto": "https", "X-Forwarded-Host": "boats.example.org"}
    state = get(port, "/setup/state.json", "127.0.0.1", None, **forwarded).json
    assert state["secure"] is True
    assert state["fingerprint"] is None
    foreign = {**forwarded, "X-Forwarded-Host": "bank.example"}
    assert get(port, "/setup", "127.0.0.1", None, **foreign).status == 400
    running.stop()


def test_behind_a_proxy_without_a_name_it_asks_for_one(start: Start, tmp_path: Path) -> None:
    running = start("serve", "--behind-proxy", "--data", str(tmp_path), data=tmp_path)
    assert running.ended() == 1
    assert "--name boats.example.org" in running.text


def test_pair_makes_a_code_for_the_kept_address(shed: Running, start: Start) -> None:
    pair = start("pair", "--data", str(shed.data), data=shed.data)
    assert pair.ended() == 0
    assert f"https://{NAME}:{shed.port}/pair#" in pair.text
