"""What one start of the server amounts to: settings, listeners, facts for the set-up page."""

from __future__ import annotations

import datetime as dt
import os
from dataclasses import dataclass, replace
from pathlib import Path

from shedtally.domain.stopped import Stopped
from shedtally.serving.address import StableAddress, choose, machine_addresses, read
from shedtally.serving.authority import Authority, ServerCertificate
from shedtally.serving.database_choice import OneWorkerOnly, choose_database, database_of
from shedtally.serving.listen import Listener, ensure_free
from shedtally.settings import Settings, from_environment
from shedtally.web.setup import SetupFacts

AUTHORITY_FOLDER = "authority"
DEFAULT_PLAIN_PORT = 8080


@dataclass(frozen=True)
class Wish:
    """What was asked for on the command line; None = no wish."""

    data: Path
    name: str | None = None
    port: int | None = None
    plain_port: int | None = None
    host: str | None = None
    behind_proxy: bool = False
    database: str | None = None
    workers: int = 1


@dataclass(frozen=True)
class Plan:
    """All that is decided before anything listens."""

    settings: Settings
    facts: SetupFacts
    address: StableAddress
    listener: Listener
    plain: Listener | None
    certificate: ServerCertificate | None
    fingerprint: str | None
    warnings: tuple[str, ...]
    workers: int = 1

    @property
    def setup_url(self) -> str:
        """Where a phone starts that trusts nothing yet."""
        if self.plain is None:
            return f"{self.address.url}/setup"
        return f"{replace(self.address, scheme='http', port=self.plain.port).url}/setup"


class NameNeeded(Stopped):
    """Behind a proxy the server can't know its own name."""

    def __init__(self) -> None:
        super().__init__(
            "Behind a proxy, say under which name phones open the server: "
            "shedtally serve --behind-proxy --name boats.example.org"
        )


class NeverServed(Stopped):
    """The data folder has no address yet, so no phone could reach it."""

    def __init__(self, data: Path) -> None:
        super().__init__(
            f"{data} was never served, so there is nothing to pair with. Start shedtally serve "
            "first, or name the data folder with --data."
        )


def plan_with_authority(wish: Wish, now: dt.datetime) -> Plan:
    """Plan for HTTPS with the shed's own authority, and a plain listener that hands it over.

    Raises: CannotListen, NameOutsideAuthority, DatabaseUnusable, OneWorkerOnly.
    """
    ensure_workers_fit(wish)
    host = wish.host or "0.0.0.0"  # noqa: S104 - phones on the network are the point
    choice = choose(wish.data, wish.name, wish.port)
    address = choice.address
    authority = Authority.open(wish.data / AUTHORITY_FOLDER, address.name, now)
    others = (*address.former, *machine_addresses())
    certificate = authority.server_certificate(address.name, others, now)
    listener = Listener(host, address.port, certificate.certificate, certificate.key)
    plain = Listener(host, wish.plain_port or DEFAULT_PLAIN_PORT)
    ensure_free(listener, "--port")
    ensure_free(plain, "--plain-port")
    warnings = (*choice.warnings, *choose_database(wish.data, wish.database))
    return Plan(
        settings_for(wish.data, address),
        facts_for(wish.data, address),
        address,
        listener,
        plain,
        certificate,
        authority.fingerprint,
        warnings,
        wish.workers,
    )


def plan_behind_proxy(wish: Wish) -> Plan:
    """Plan for plain HTTP to a reverse proxy that holds the certificate.

    Raises: NameNeeded, CannotListen, DatabaseUnusable, OneWorkerOnly.
    """
    ensure_workers_fit(wish)
    known = (wish.data / "address.json").exists()
    if wish.name is None and not known:
        raise NameNeeded
    choice = choose(wish.data, wish.name, 443)
    listener = Listener(wish.host or "127.0.0.1", wish.port or 8443)
    ensure_free(listener, "--port")
    warnings = (*choice.warnings, *choose_database(wish.data, wish.database))
    settings = replace(settings_for(wish.data, choice.address), proxies=1)
    facts = SetupFacts(choice.address.url)
    return Plan(settings, facts, choice.address, listener, None, None, None, warnings, wish.workers)


def ensure_workers_fit(wish: Wish) -> None:
    """Refuse several processes on SQLite. Raises: OneWorkerOnly."""
    if wish.workers > 1 and not (wish.database or database_of(wish.data)):
        raise OneWorkerOnly


def settings_for(data: Path, address: StableAddress) -> Settings:
    """The environment's settings, with this data folder, address and the names it answers to."""
    settings = from_environment({**os.environ, "SHEDTALLY_DATA": str(data)})
    hosts = (*settings.trusted_hosts, address.name, *address.former, *machine_addresses())
    trusted = tuple(dict.fromkeys(hosts))
    return replace(
        settings,
        address=address.url,
        trusted_hosts=trusted,
        database_url=database_of(data),
    )


def settings_of(data: Path) -> Settings:
    """Settings for a data folder that was served before.

    Raises: NeverServed.
    """
    address = read(data)
    if address is None:
        raise NeverServed(data)
    return settings_for(data, address)


def facts_for(data: Path, address: StableAddress) -> SetupFacts:
    """What the set-up page tells where the shed's own authority signs."""
    authority = Authority(data / AUTHORITY_FOLDER)
    return SetupFacts(address.url, authority.certificate_file, authority.server_certificate_file)
