"""The local authority: read back with `cryptography`, judged by openssl and by Python's TLS."""

from __future__ import annotations

import datetime as dt
import ipaddress
import shutil
import socket
import ssl
import stat
import subprocess
import threading
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.x509.oid import ExtendedKeyUsageOID

from shedtally.serving.authority import Authority, NameOutsideAuthority, ServerCertificate

NAME = "shed.example.test"
NOW = dt.datetime.now(dt.UTC).replace(microsecond=0)


@pytest.fixture
def authority(tmp_path: Path) -> Authority:
    return Authority.open(tmp_path / "authority", NAME, NOW)


@pytest.fixture
def server(authority: Authority) -> ServerCertificate:
    return authority.server_certificate(NAME, ("192.168.7.20", "shed.local"), NOW)


def load(file: Path) -> x509.Certificate:
    return x509.load_pem_x509_certificate(file.read_bytes())


def alternative_names(certificate: x509.Certificate) -> x509.SubjectAlternativeName:
    return certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName).value


def test_the_keys_can_be_read_by_their_owner_only(
    authority: Authority, server: ServerCertificate
) -> None:
    for key in (authority.folder / "authority.key", server.key):
        assert stat.S_IMODE(key.stat().st_mode) == 0o600
    assert stat.S_IMODE(authority.folder.stat().st_mode) == 0o700


def test_the_authority_lasts_ten_years_and_signs_no_further_authority(authority: Authority) -> None:
    certificate = authority.certificate
    lasts = certificate.not_valid_after_utc - certificate.not_valid_before_utc
    assert lasts.days in range(3650, 3654)
    basic = certificate.extensions.get_extension_for_class(x509.BasicConstraints)
    assert basic.critical
    assert (basic.value.ca, basic.value.path_length) == (True, 0)


def test_the_limits_of_the_authority_are_critical_and_hold_no_public_name_but_ours(
    authority: Authority,
) -> None:
    limits = authority.certificate.extensions.get_extension_for_class(x509.NameConstraints)
    assert limits.critical
    permitted = limits.value.permitted_subtrees or []
    names = {tree.value for tree in permitted if isinstance(tree, x509.DNSName)}
    assert names == {"localhost", "local", "lan", "internal", "home.arpa", NAME}
    networks = [tree.value for tree in permitted if isinstance(tree, x509.IPAddress)]
    assert all(network.is_private or network.is_link_local for network in networks)


def test_the_server_certificate_is_one_that_phones_accept(server: ServerCertificate) -> None:
    leaf = load(server.certificate)
    # Apple's limit is 825 days, the strictest browser build seen allows 398.
    assert (leaf.not_valid_after_utc - leaf.not_valid_before_utc).days <= 397
    assert leaf.not_valid_before_utc < NOW
    usage = leaf.extensions.get_extension_for_class(x509.ExtendedKeyUsage).value
    assert list(usage) == [ExtendedKeyUsageOID.SERVER_AUTH]
    names = alternative_names(leaf)
    assert set(names.get_values_for_type(x509.DNSName)) == {NAME, "shed.local", "localhost"}
    assert ipaddress.ip_address("192.168.7.20") in names.get_values_for_type(x509.IPAddress)


def test_a_name_outside_the_limits_is_refused_with_what_to_do(authority: Authority) -> None:
    with pytest.raises(NameOutsideAuthority, match=r"may not sign for bank\.example.*every phone"):
        authority.server_certificate("bank.example", (), NOW)


def test_a_former_name_outside_the_limits_is_left_out_quietly(authority: Authority) -> None:
    server = authority.server_certificate(NAME, ("bank.example", "8.8.8.8"), NOW)
    assert "bank.example" not in server.names
    assert "8.8.8.8" not in server.names


def test_a_bare_address_outside_the_private_ranges_can_be_the_name(tmp_path: Path) -> None:
    authority = Authority.open(tmp_path, "192.0.2.9", NOW)
    names = alternative_names(load(authority.server_certificate("192.0.2.9", (), NOW).certificate))
    assert ipaddress.ip_address("192.0.2.9") in names.get_values_for_type(x509.IPAddress)
    assert not authority.may_sign_for("192.0.2.10")


def test_a_second_start_keeps_both_certificates(
    authority: Authority, server: ServerCertificate
) -> None:
    again = Authority.open(authority.folder, NAME, NOW + dt.timedelta(days=100))
    assert again.fingerprint == authority.fingerprint
    later = again.server_certificate(NAME, (), NOW + dt.timedelta(days=100))
    assert not later.renewed
    assert later.days_left == server.days_left - 100


def test_the_server_certificate_is_renewed_in_its_last_thirty_days_and_not_before(
    authority: Authority, server: ServerCertificate
) -> None:
    end = load(server.certificate).not_valid_after_utc
    early = authority.server_certificate(NAME, (), end - dt.timedelta(days=30))
    assert not early.renewed
    late = authority.server_certificate(NAME, (), end - dt.timedelta(days=29))
    assert late.renewed
    assert late.days_left > 390


def test_a_new_address_of_the_machine_renews_the_certificate(
    authority: Authority, server: ServerCertificate
) -> None:
    moved = authority.server_certificate(NAME, ("192.168.7.21",), NOW)
    assert moved.renewed
    assert "192.168.7.21" in moved.names


def test_a_key_that_does_not_fit_the_certificate_is_replaced_with_it(
    authority: Authority, server: ServerCertificate, tmp_path: Path
) -> None:
    other = Authority.open(tmp_path / "other", NAME, NOW).server_certificate(NAME, (), NOW)
    server.key.write_bytes(other.key.read_bytes())
    assert authority.server_certificate(NAME, (), NOW).renewed


def test_a_server_certificate_never_outlives_its_authority(authority: Authority) -> None:
    late = authority.certificate.not_valid_after_utc - dt.timedelta(days=50)
    leaf = load(authority.server_certificate(NAME, (), late).certificate)
    assert leaf.not_valid_after_utc <= authority.certificate.not_valid_after_utc


def openssl_says(authority: Path, leaf: Path, *words: str) -> str:
    openssl = shutil.which("openssl")
    assert openssl, "openssl is needed as the independent judge: install it"
    command = [openssl, "verify", "-x509_strict", "-purpose", "sslserver", *words]
    done = subprocess.run(
        [*command, "-CAfile", str(authority), str(leaf)],
        capture_output=True,
        text=True,
        check=False,
    )
    return done.stdout + done.stderr


def test_openssl_accepts_the_chain_for_the_name_and_for_no_other(
    authority: Authority, server: ServerCertificate
) -> None:
    files = (authority.certificate_file, server.certificate)
    assert openssl_says(*files, "-verify_hostname", NAME).endswith(": OK\n")
    assert openssl_says(*files, "-verify_ip", "192.168.7.20").endswith(": OK\n")
    assert "hostname mismatch" in openssl_says(*files, "-verify_hostname", "bank.example").lower()


def test_openssl_refuses_what_a_stolen_key_would_sign_for_another_name(
    authority: Authority, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(Authority, "may_sign_for", lambda _self, _name: True)
    forged = authority.server_certificate("bank.example", (), NOW)
    answer = openssl_says(authority.certificate_file, forged.certificate)
    assert "permitted subtree violation" in answer


def shake_hands(server: ServerCertificate, client: ssl.SSLContext, name: str) -> str:
    """One TLS handshake over a socket pair; what the client says of it."""
    ours = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    ours.load_cert_chain(server.certificate, server.key)
    left, right = socket.socketpair()

    def serve() -> None:
        try:
            with ours.wrap_socket(left, server_side=True) as connection:
                connection.recv(1)
        except OSError:
            left.close()

    thread = threading.Thread(target=serve)
    thread.start()
    try:
        with client.wrap_socket(right, server_hostname=name) as connection:
            connection.sendall(b"x")
            return str(connection.version())
    except ssl.SSLCertVerificationError as error:
        return error.verify_message
    finally:
        right.close()
        thread.join(10)


def test_python_trusts_the_server_with_the_authority_and_not_without(
    authority: Authority, server: ServerCertificate
) -> None:
    trusting = ssl.create_default_context(cafile=authority.certificate_file)
    assert shake_hands(server, trusting, NAME).startswith("TLSv1.")
    assert "unable to get local issuer" in shake_hands(server, ssl.create_default_context(), NAME)
    assert "bank.example" in shake_hands(server, trusting, "bank.example")
