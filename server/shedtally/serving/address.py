"""The one stable address of a server.

A browser keeps a phone's unsent work under scheme, name and port. Change one of them and the
phone opens an empty app, while its photographs wait under the old address. So the address is
chosen once, kept in the data folder, and used at every later start; former names stay in the
certificate, so that a phone can still open them and send.
"""

from __future__ import annotations

import json
import socket
from dataclasses import asdict, dataclass
from pathlib import Path

from shedtally.serving.certificates import as_address

FILE_NAME = "address.json"
DEFAULT_PORT = 8443
# RFC 5737: never routed. Connecting a datagram socket sends nothing; it picks the interface.
NOWHERE = ("192.0.2.1", 9)


@dataclass(frozen=True)
class StableAddress:
    """What phones open. `former` holds names that phones may still know."""

    name: str
    port: int
    scheme: str = "https"
    former: tuple[str, ...] = ()

    @property
    def url(self) -> str:
        """Scheme, name and port, without a slash at the end; the usual port is left out."""
        usual = {"https": 443, "http": 80}[self.scheme]
        return f"{self.scheme}://{_bracketed(self.name)}" + (
            "" if self.port == usual else f":{self.port}"
        )


@dataclass(frozen=True)
class Choice:
    """An address, and what the person who starts the server should be told about it."""

    address: StableAddress
    warnings: tuple[str, ...] = ()


def choose(data: Path, name: str | None, port: int | None, scheme: str = "https") -> Choice:
    """Choose the address: what was asked for, else what was kept, else what the machine has.

    Args: data: the data folder; the choice is kept in it. name, port: None = no wish.
    """
    kept = read(data)
    if kept is None:
        chosen, warnings = (name, ()) if name else machine_name()
        address = StableAddress(chosen, port or DEFAULT_PORT, scheme)
        _write(data, address)
        return Choice(address, warnings)
    address = StableAddress(name or kept.name, port or kept.port, scheme, kept.former)
    if address.url == kept.url:
        return Choice(kept)
    if address.name != kept.name:
        others = [other for other in (*kept.former, kept.name) if other != address.name]
        address = StableAddress(address.name, address.port, scheme, tuple(dict.fromkeys(others)))
    _write(data, address)
    return Choice(address, (_moved(kept, address),))


def read(data: Path) -> StableAddress | None:
    """The address kept in the data folder, None before the first start."""
    file = data / FILE_NAME
    if not file.exists():
        return None
    kept = json.loads(file.read_text(encoding="utf-8"))
    return StableAddress(kept["name"], kept["port"], kept["scheme"], tuple(kept["former"]))


def machine_name() -> tuple[str, tuple[str, ...]]:
    """A name under which phones can find this machine, else its address and a warning."""
    host = socket.gethostname().lower().rstrip(".")
    candidates = [host] if "." in host else [f"{host}.local"]
    own = set(machine_addresses())
    for candidate in candidates:
        if own & set(_resolved(candidate)):
            return candidate, ()
    address = next(iter(machine_addresses()), "127.0.0.1")
    return address, (_nameless(host, address),)


def machine_addresses() -> tuple[str, ...]:
    """The IPv4 addresses of this machine on its networks, the one used first; no loopback."""
    found = list(_resolved(socket.gethostname()))
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(NOWHERE)
        except OSError:
            pass  # no route at all: the machine stands alone
        else:
            found.insert(0, str(probe.getsockname()[0]))
    addresses = {text: as_address(text) for text in found}
    return tuple(t for t, a in addresses.items() if a and not a.is_loopback and a.version == 4)


def _resolved(name: str) -> list[str]:
    try:
        return [str(entry[4][0]) for entry in socket.getaddrinfo(name, None, socket.AF_INET)]
    except OSError:
        return []


def _moved(old: StableAddress, new: StableAddress) -> str:
    text = (
        f"The address changes from {old.url} to {new.url}. Phones keep what they have not sent "
        "yet under the old address, and will open an empty app under the new one. Nothing is "
        "deleted. Before you go on, let every phone open the old address once and send. "
    )
    if (old.port, old.scheme) == (new.port, new.scheme):
        return text + f"The certificate still holds {old.name}, so the old address works here too."
    return text + f"To do that, start again with --name {old.name} --port {old.port}."


def _nameless(host: str, address: str) -> str:
    return (
        f"No name of this machine can be looked up on the network, so phones will open {address}. "
        "If the router hands out another address one day, phones must start under a new one, and "
        "what they have not sent stays under the old. Better now, before the first phone is "
        f"paired: switch on the system's .local names ({host.partition('.')[0]}.local), or give a "
        "name with --name; and ask the router to keep this machine's address."
    )


def _bracketed(name: str) -> str:
    address = as_address(name)
    return f"[{name}]" if address is not None and address.version == 6 else name


def _write(data: Path, address: StableAddress) -> None:
    data.mkdir(mode=0o700, parents=True, exist_ok=True)
    part = data / f"{FILE_NAME}.part"
    part.write_text(json.dumps(asdict(address), indent=2) + "\n", encoding="utf-8")
    part.replace(data / FILE_NAME)
