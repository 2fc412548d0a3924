"""Routes: is the server there, pairing, session, devices."""

from __future__ import annotations

from typing import Any

from flask import Response, jsonify, request

from shedtally.domain.errors import WrongCode
from shedtally.domain.sync import pairing
from shedtally.usecases import pair_device
from shedtally.usecases.receive_changes import SCHEMA
from shedtally.usecases.second_copies import second_copies
from shedtally.web import guard, schemas
from shedtally.web.answers import answers, blueprint, iso
from shedtally.web.guard import shed

MOST_GAPS = 20

api = blueprint("pairing", "Letting devices in and out")


@api.get("/ping", responses=answers({200: schemas.Ping}))
def ping() -> dict[str, Any]:
    """Say which server this is; needs no session."""
    with shed().reading() as uow:
        who = uow.server.identity()
    return {
        "server": who.id,
        "epoch": who.epoch,
        "now_ms": shed().now_ms(),
        "schema": SCHEMA,
        "name": shed().name,
    }


@api.post(
    "/pair",
    responses=answers({200: schemas.Session}, "pairing-code", "too-many-tries", "wrong-type"),
)
def pair(body: schemas.PairRequest) -> Response:
    """Pair a device by a one-time code; the answer carries its session cookie."""
    now_ms, address = shed().now_ms(), request.remote_addr or ""
    with shed().reading() as uow:
        pair_device.ensure_may_try(uow, address, now_ms)  # before it may make a writer wait
    with shed().writing() as uow:
        token = pair_device.pair_device(
            uow, body.code, body.device, body.name, address=address, now_ms=now_ms
        )
    if token is None:
        raise WrongCode
    response = jsonify(_session(body.device, body.name))
    guard.set_session(response, token)
    return response


@api.get("/session", responses=answers({200: schemas.Session}))
def session() -> Response:
    """Tell a paired device who it is; also renews its cookie."""
    response = jsonify(_session(guard.device().key, guard.device().name))
    guard.set_session(response, guard.session_token() or "")
    return response


@api.post("/pairing-codes", responses=answers({201: schemas.PairingCode}))
def make_pairing_code() -> tuple[dict[str, Any], int]:
    """Make a code with which one more device can pair, within five minutes."""
    with shed().writing() as uow:
        new = pair_device.make_code(uow, shed().now_ms())
    address = shed().address or request.host_url.rstrip("/")
    return {
        "code": pairing.shown(new.code),
        "expires_at": iso(new.expires_ms),
        "url": f"{address}/pair#{new.code}",
    }, 201


@api.get("/devices", responses=answers({200: schemas.DeviceList}))
def devices() -> list[dict[str, Any]]:
    """List every device that was ever paired."""
    with shed().reading() as uow:
        found = uow.devices.all()
    return [
        {
            "device": one.key,
            "name": one.name,
            "paired_at": iso(one.paired_ms),
            "last_seen": iso(one.last_seen_ms),
            "revoked": one.revoked_ms is not None,
            "last_seq": one.last_seq,
        }
        for one in found
    ]


@api.post("/devices/<string:device>/revoke", responses=answers({204: None}, "no-such-device"))
def revoke(path: schemas.DevicePath) -> tuple[str, int]:
    """Shut a device out from its next request on. What it sent before stays."""
    with shed().writing() as uow:
        pair_device.revoke_device(uow, path.device, shed().now_ms())
    return "", 204


@api.post("/devices/<string:device>/rename", responses=answers({204: None}, "no-such-device"))
def rename(path: schemas.DevicePath, body: schemas.NewName) -> tuple[str, int]:
    """Give a device another name; the history shows what it did under that one from then on."""
    with shed().writing() as uow:
        pair_device.rename_device(uow, path.device, body.name)
    return "", 204


def _session(device: str, name: str) -> dict[str, Any]:
    with shed().reading() as uow:
        boats = [{"key": key, "name": boat_name} for key, boat_name in uow.boats()]
        last_seq, missing = uow.seqs_of(device, MOST_GAPS)
        server = uow.server.identity().id
        copies = second_copies(uow, device)
    return {
        "device": device,
        "name": name,
        "server": server,
        "boats": boats,
        "last_seq": last_seq,
        "complete_to": missing[0][0] - 1 if missing else last_seq,
        "missing": missing,
        "copies": [
            {
                "boat": one.boat,
                "name": one.name,
                "last_seen": iso(one.last_seen_ms),
                "whole": one.whole,
            }
            for one in copies
        ],
    }
