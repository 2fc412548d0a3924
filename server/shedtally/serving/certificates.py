"""The shapes of the two certificates: the shed's own authority, and the server it vouches for."""

from __future__ import annotations

import datetime as dt
import ipaddress

from cryptography import x509
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

AUTHORITY_DAYS = 3652
# Apple refuses leaves over 825 days, some Chromium builds over one year plus a month
# (support.apple.com/103769, GrapheneOS/Vanadium#320).
LEAF_DAYS = 396
# A phone whose clock runs behind must not find the certificate "not valid yet".
BACKDATE = dt.timedelta(days=1)

# Names that no public registry gives out, and private addresses (RFC 1918, 4193, 3927, 6762, 8375).
LOCAL_NAMES = ("localhost", "local", "lan", "internal", "home.arpa")
PRIVATE_NETWORKS = (
    "127.0.0.0/8",
    "10.0.0.0/8",
    "172.16.0.0/12",
    "192.168.0.0/16",
    "169.254.0.0/16",
    "::1/128",
    "fc00::/7",
    "fe80::/10",
)

Address = ipaddress.IPv4Address | ipaddress.IPv6Address


def as_address(name: str) -> Address | None:
    """The IP address that the text is, or None if it is a name."""
    try:
        return ipaddress.ip_address(name)
    except ValueError:
        return None


def authority_certificate(
    key: ec.EllipticCurvePrivateKey, name: str, now: dt.datetime
) -> x509.Certificate:
    """Make the certificate that phones install: ten years, limited to local names and `name`."""
    # The serial in the name keeps two authorities of one shed apart in a phone's list.
    serial = x509.random_serial_number()
    subject = x509.Name(
        [
            x509.NameAttribute(NameOID.ORGANIZATION_NAME, "Shedtally, local authority"),
            x509.NameAttribute(NameOID.COMMON_NAME, f"{name[:40]} {serial % 0x10000:04X}"),
        ]
    )
    public = key.public_key()
    builder = _builder(subject, subject, public, now, AUTHORITY_DAYS).serial_number(serial)
    return (
        builder.add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_usage(signs_certificates=True), critical=True)
        .add_extension(x509.NameConstraints(_permitted(name), None), critical=True)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(public), critical=False)
        .sign(key, hashes.SHA256())
    )


def leaf_certificate(
    key: ec.EllipticCurvePrivateKey,
    names: tuple[str, ...],
    now: dt.datetime,
    authority: x509.Certificate,
    authority_key: ec.EllipticCurvePrivateKey,
) -> x509.Certificate:
    """Make a server certificate for the names, never outliving its authority."""
    # RFC 5280 allows 64 characters in a common name; browsers read only the alternative names.
    subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, names[0][:64])])
    public = key.public_key()
    ends = (authority.not_valid_after_utc - now).days
    builder = _builder(subject, authority.subject, public, now, min(LEAF_DAYS, ends))
    identifier = authority.extensions.get_extension_for_class(x509.SubjectKeyIdentifier).value
    return (
        builder.serial_number(x509.random_serial_number())
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_usage(signs_certificates=False), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.SubjectAlternativeName(map(_general, names)), critical=False)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(public), critical=False)
        .add_extension(
            x509.AuthorityKeyIdentifier.from_issuer_subject_key_identifier(identifier),
            critical=False,
        )
        .sign(authority_key, hashes.SHA256())
    )


def _builder(
    subject: x509.Name,
    issuer: x509.Name,
    public: ec.EllipticCurvePublicKey,
    now: dt.datetime,
    days: int,
) -> x509.CertificateBuilder:
    begins = now - BACKDATE
    return (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(issuer)
        .public_key(public)
        .not_valid_before(begins)
        .not_valid_after(begins + dt.timedelta(days=days))
    )


def _permitted(name: str) -> list[x509.GeneralName]:
    address = as_address(name)
    names = dict.fromkeys([*LOCAL_NAMES, *([] if address else [name])])
    networks = dict.fromkeys([*PRIVATE_NETWORKS, *([str(address)] if address else [])])
    return [
        *map(x509.DNSName, names),
        *(x509.IPAddress(ipaddress.ip_network(network)) for network in networks),
    ]


def _general(name: str) -> x509.GeneralName:
    address = as_address(name)
    return x509.DNSName(name) if address is None else x509.IPAddress(address)


def _usage(*, signs_certificates: bool) -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=not signs_certificates,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        key_cert_sign=signs_certificates,
        crl_sign=signs_certificates,
        encipher_only=False,
        decipher_only=False,
    )
