"""Everything that can be set from outside, read from the environment once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

MEGABYTE = 1_000_000


@dataclass(frozen=True)
class Settings:
    """Where things lie and what is allowed.

    data_dir: the one folder with everything of this server. database_url: a PostgreSQL database
    for the records; empty means SQLite in that folder. address: what phones open and tags carry,
    like ``https://shed.example:8443``; empty means the address by which the request came.
    trusted_hosts: names under which the server answers, against DNS rebinding. proxies: how many
    reverse proxies stand before it. keep_free_bytes: disk space that photos leave alone, so that
    records can still be written. client_dir: the built client; None means the one in the package.
    """

    data_dir: Path
    name: str = "Shed"
    database_url: str = ""
    address: str = ""
    trusted_hosts: tuple[str, ...] = ("localhost", "127.0.0.1", "[::1]")
    proxies: int = 0
    max_photo_bytes: int = 50 * MEGABYTE
    max_photo_pixels: int = 64_000_000
    keep_free_bytes: int = 100 * MEGABYTE
    client_dir: Path | None = None


def from_environment(environment: Mapping[str, str]) -> Settings:
    """Read the settings from ``SHEDTALLY_...`` variables; only SHEDTALLY_DATA is required.

    Raises: KeyError without SHEDTALLY_DATA; ValueError for a number that is none.
    """
    hosts = environment.get("SHEDTALLY_TRUSTED_HOSTS", "")
    return Settings(
        data_dir=Path(environment["SHEDTALLY_DATA"]),
        name=environment.get("SHEDTALLY_NAME", Settings.name),
        database_url=environment.get("SHEDTALLY_DATABASE_URL", ""),
        address=environment.get("SHEDTALLY_ADDRESS", "").rstrip("/"),
        trusted_hosts=(
            *Settings.trusted_hosts,
            *(host.strip() for host in hosts.split(",") if host.strip()),
        ),
        proxies=int(environment.get("SHEDTALLY_PROXIES", "0")),
        keep_free_bytes=int(environment.get("SHEDTALLY_KEEP_FREE_MB", "100")) * MEGABYTE,
    )
