"""Pairing codes made on the server's own terminal, by whoever can start programs there."""

from __future__ import annotations

import time

from shedtally.domain.sync import pairing
from shedtally.serving import announce
from shedtally.serving.application import opened
from shedtally.settings import Settings
from shedtally.storage.unit_of_work import reading, writing
from shedtally.usecases.pair_device import make_code


def new_code(settings: Settings) -> str:
    """Make a code that lets one device in, within five minutes."""
    with opened(settings), writing() as uow:
        return make_code(uow, time.time_ns() // 1_000_000).code


def code_if_nobody_is_paired(settings: Settings) -> list[str]:
    """Lines with a code for the first device; once one is paired, how to get another."""
    with opened(settings), reading() as uow:
        paired = [device for device in uow.devices.all() if device.revoked_ms is None]
    if not paired:
        return ["", "  No device is paired yet.", *code_lines(settings)]
    devices = "1 device is" if len(paired) == 1 else f"{len(paired)} devices are"
    return ["", f"  {devices} paired. For another one: shedtally pair, or ask a paired one."]


def code_lines(settings: Settings, *, qr: bool = False) -> list[str]:
    """A new code, how to type it and where to open it; ``qr`` draws that address too."""
    code = new_code(settings)
    drawn = ["", *announce.qr(link(settings.address, code)), ""] if qr else []
    return [
        announce.row("Pair with the code", pairing.shown(code), "for 5 minutes, for one device"),
        announce.row("or open", link(settings.address, code)),
        *drawn,
        "  Too late for it? shedtally pair makes another.",
    ]


def link(address: str, code: str) -> str:
    """The page that pairs at once. In the fragment the code never reaches a log."""
    return f"{address}/pair#{code}"
