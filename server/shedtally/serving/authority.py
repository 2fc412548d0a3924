"""A certificate authority of the shed's own, so that phones on a local network get HTTPS.

The authority signs for this server's name, for names that exist only on local networks and
for private addresses, and for nothing else: the limit is written into the certificate (RFC
5280 section 4.2.1.10), so a stolen key cannot stand in for a bank. Phones are told to trust it
by hand, once. The key never leaves the data folder.
"""

from __future__ import annotations

import datetime as dt
import ipaddress
import os
from dataclasses import dataclass
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec

from shedtally.domain.stopped import Stopped
from shedtally.serving.certificates import as_address, authority_certificate, leaf_certificate

RENEW_UNDER_DAYS = 30


class NameOutsideAuthority(Stopped):
    """The authority may not sign for this name; it was made for other names."""

    def __init__(self, name: str, folder: Path) -> None:
        self.name = name
        self.folder = folder
        super().__init__(
            f"The certificate authority in {folder} may not sign for {name}. "
            "Nothing is lost. Serve under a name it was made for, or move that folder away "
            "so that a new authority is made; every phone must then install the new one."
        )


@dataclass(frozen=True)
class ServerCertificate:
    """The files a TLS listener needs, and what a person wants to know about them."""

    certificate: Path
    key: Path
    names: tuple[str, ...]
    days_left: int
    renewed: bool


class Authority:
    """The authority's certificate and key, as files in one folder."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.certificate_file = folder / "authority.pem"
        self._key_file = folder / "authority.key"
        self.server_certificate_file = folder / "server.pem"
        self._leaf_key_file = folder / "server.key"

    @classmethod
    def open(cls, folder: Path, name: str, now: dt.datetime) -> Authority:
        """Open the authority in the folder, or make one for the name if there is none.

        Args: folder: made with mode 0700 if absent. name: host name or address of the server.
        now: aware, UTC.
        """
        authority = cls(folder)
        if not authority.certificate_file.exists():
            folder.mkdir(mode=0o700, parents=True, exist_ok=True)
            key = ec.generate_private_key(ec.SECP256R1())
            certificate = authority_certificate(key, name, now)
            _write_key(authority._key_file, key)
            authority.certificate_file.write_bytes(_pem(certificate))
        return authority

    @property
    def certificate(self) -> x509.Certificate:
        """The authority's own certificate, the one that phones install."""
        return x509.load_pem_x509_certificate(self.certificate_file.read_bytes())

    @property
    def fingerprint(self) -> str:
        """SHA-256 of the certificate as a phone shows it: 32 pairs of hexadecimal digits."""
        return fingerprint(self.certificate)

    def server_certificate(
        self, name: str, others: tuple[str, ...], now: dt.datetime
    ) -> ServerCertificate:
        """Return a certificate good for the name, making a new one where needed.

        Args: name: the server's name or address. others: former names and the machine's
        addresses; those that the authority may not sign for are left out. now: aware, UTC.
        Raises: NameOutsideAuthority: for the name itself.
        """
        if not self.may_sign_for(name):
            raise NameOutsideAuthority(name, self.folder)
        wanted = [name, *(other for other in others if self.may_sign_for(other))]
        names = tuple(dict.fromkeys([*wanted, "localhost", "127.0.0.1", "::1"]))
        leaf = self._leaf()
        renewed = leaf is None or _must_renew(leaf, self.certificate, names, now)
        if leaf is None or renewed:
            leaf = self._sign(names, now)
        days_left = (leaf.not_valid_after_utc - now).days
        return ServerCertificate(
            self.server_certificate_file, self._leaf_key_file, names, days_left, renewed
        )

    def may_sign_for(self, name: str) -> bool:
        """Whether the limits in the authority's certificate allow the name or address."""
        limits = self.certificate.extensions.get_extension_for_class(x509.NameConstraints)
        permitted = limits.value.permitted_subtrees or []
        address = as_address(name)
        if address is not None:
            networks = [tree.value for tree in permitted if isinstance(tree, x509.IPAddress)]
            return any(
                address in network
                for network in networks
                if isinstance(network, ipaddress.IPv4Network | ipaddress.IPv6Network)
            )
        trees = [tree.value for tree in permitted if isinstance(tree, x509.DNSName)]
        return any(name == tree or name.endswith(f".{tree}") for tree in trees)

    def _leaf(self) -> x509.Certificate | None:
        if not (self.server_certificate_file.exists() and self._leaf_key_file.exists()):
            return None
        leaf = x509.load_pem_x509_certificate(self.server_certificate_file.read_bytes())
        key = serialization.load_pem_private_key(self._leaf_key_file.read_bytes(), None)
        # They differ when the program stopped between writing the one and the other.
        return leaf if leaf.public_key() == key.public_key() else None

    def _sign(self, names: tuple[str, ...], now: dt.datetime) -> x509.Certificate:
        authority_key = serialization.load_pem_private_key(self._key_file.read_bytes(), None)
        if not isinstance(authority_key, ec.EllipticCurvePrivateKey):
            raise TypeError(f"{self._key_file} holds no elliptic curve key")
        key = ec.generate_private_key(ec.SECP256R1())
        leaf = leaf_certificate(key, names, now, self.certificate, authority_key)
        _write_key(self._leaf_key_file, key)
        _replace(self.server_certificate_file, _pem(leaf), 0o644)
        return leaf


def fingerprint(certificate: x509.Certificate) -> str:
    """SHA-256 of a certificate, as pairs of hexadecimal digits with colons between."""
    return certificate.fingerprint(hashes.SHA256()).hex(":").upper()


def _must_renew(
    leaf: x509.Certificate, authority: x509.Certificate, names: tuple[str, ...], now: dt.datetime
) -> bool:
    if leaf.not_valid_after_utc - now < dt.timedelta(days=RENEW_UNDER_DAYS):
        return True
    if leaf.issuer != authority.subject:
        return True
    alternative = leaf.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    return not {str(general.value) for general in alternative} >= set(names)


def _pem(certificate: x509.Certificate) -> bytes:
    return certificate.public_bytes(serialization.Encoding.PEM)


def _write_key(file: Path, key: ec.EllipticCurvePrivateKey) -> None:
    data = key.private_bytes(
        serialization.Encoding.PEM,
        serialization.PrivateFormat.PKCS8,
        serialization.NoEncryption(),
    )
    _replace(file, data, 0o600)


def _replace(file: Path, data: bytes, mode: int) -> None:
    """Write so that a stop half-way leaves the old file, and nobody else reads it meanwhile."""
    part = file.with_suffix(".part")
    part.unlink(missing_ok=True)
    with os.fdopen(os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL, mode), "wb") as stream:
        stream.write(data)
        stream.flush()
        os.fsync(stream.fileno())
    part.replace(file)
