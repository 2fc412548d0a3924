"""Every kind of problem that the server can report, once: the table behind all error answers.

The phone switches on the kind alone, and treats one that it doesn't know by its status.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

PhoneDoes: TypeAlias = Literal[
    "retry later",
    "ask the person",
    "pair again",
    "set this one aside",
    "read anew",
    "stop and report",
]


@dataclass(frozen=True, slots=True)
class Kind:
    """``slug`` ends the problem's type address; ``meaning`` is what stands on its page."""

    slug: str
    status: int
    title: str
    phone_does: PhoneDoes
    meaning: str


KINDS: dict[str, Kind] = {
    kind.slug: kind
    for kind in (
        Kind("not-paired", 401, "This device is not paired", "pair again",
             "The device has no session here, or its session was ended. Work on it goes on and "
             "is kept; nothing is sent until it is paired again with a new code."),
        Kind("pairing-code", 403, "The code is not valid", "ask the person",
             "A pairing code holds for five minutes and for one device. Ask for a new one on a "
             "paired device, or at the server with: shedtally pair."),
        Kind("too-many-tries", 429, "Too many wrong codes", "retry later",
             "Wrong codes were tried too often. Wait for the time given, then use a new code."),
        Kind("not-from-here", 403, "The request came from another page", "stop and report",
             "Only Shedtally's own pages may write. A request that changes something carries the "
             "header X-Shedtally and comes from the same address."),
        Kind("unknown-host", 400, "The server does not answer to this name", "ask the person",
             "The address in the browser is none that the server knows. Use the one that it "
             "shows at its start."),
        Kind("no-such-page", 404, "There is nothing at this address", "stop and report",
             "The address is misspelt, or belongs to another version of Shedtally."),
        Kind("no-such-boat", 404, "No such boat", "ask the person",
             "This server has no boat with that key. It may be another server than before."),
        Kind("no-such-device", 404, "No such device", "ask the person",
             "No device with that key was ever paired here."),
        Kind("no-such-photo", 404, "The photo is not here yet", "retry later",
             "The bytes of the photo have not arrived from the phone that took it."),
        Kind("no-such-tag-block", 404, "No such block of tags", "ask the person",
             "This block of tags was not given out for this boat."),
        Kind("no-such-rule-set", 404, "No such rule set", "ask the person",
             "The rule set named is none of those that the server has."),
        Kind("no-such-sheet", 404, "No such sheet or roll", "ask the person",
             "The paper size named is none of those that the server prints."),
        Kind("wrong-method", 405, "This can't be done at this address", "stop and report",
             "The address exists, but not for this kind of request."),
        Kind("client-too-old", 426, "The app on the phone is too old", "ask the person",
             "The server no longer understands this version of the app. Reload the app while "
             "connected; what is not yet sent stays on the phone."),
        Kind("length-required", 411, "The length is missing", "stop and report",
             "A photo is sent with its length, so that a cut can be noticed."),
        Kind("too-large", 413, "Too large", "set this one aside",
             "More bytes than the server takes in one go."),
        Kind("wrong-type", 415, "Not in a form that is accepted here", "set this one aside",
             "JSON is expected, or for a photo image/jpeg, image/png or image/webp, and the "
             "content must be what the type says."),
        Kind("unreadable", 400, "The request can't be read", "stop and report",
             "What arrived is no JSON, or no request at all."),
        Kind("invalid", 422, "Something in the request can't be", "ask the person",
             "One or more values are missing, of the wrong kind, or out of range; the list of "
             "errors names each."),
        Kind("photo-cut-short", 422, "The photo arrived incomplete", "retry later",
             "Fewer or more bytes arrived than were announced. Nothing was kept; send it again."),
        Kind("photo-digest", 422, "The photo arrived damaged", "retry later",
             "The bytes do not have the digest in the address. Nothing was kept; send it again."),
        Kind("not-a-picture", 422, "This is not a picture", "set this one aside",
             "The file is no whole JPEG, PNG or WebP picture. Nothing was kept."),
        Kind("too-many-pixels", 422, "The picture has too many pixels", "set this one aside",
             "A picture so large could stop the server. Make it smaller and send it again."),
        Kind("cursor-unknown", 409, "The log is another than the phone has read", "read anew",
             "The phone has read further than this boat's log goes, or read another log, as after "
             "a backup was brought back by hand. It sends again what it holds and reads the boat "
             "from its beginning; nothing on it is deleted."),
        Kind("rescue-unreadable", 422, "This is no rescue file that can be read", "ask the person",
             "The file was not made by a phone's rescue, or is damaged so much that nothing in "
             "it is whole. Nothing was kept."),
        Kind("rescue-other-server", 409, "The rescue file is from another server",
             "ask the person",
             "A phone that belongs to another server made this file. It is brought in only if "
             "somebody says that this is intended."),
        Kind("tags-used-up", 409, "No tag codes are left", "stop and report",
             "Every code that a tag can carry was given out."),
        Kind("not-printable", 422, "This can't be printed", "ask the person",
             "What was asked for does not fit on the paper chosen."),
        Kind("disk-full", 507, "The server's disk is full", "retry later",
             "Nothing was kept, and nothing is lost: the phone keeps its work until there is "
             "room. Somebody must free space on the server."),
        Kind("server-busy", 503, "The server is busy", "retry later",
             "Too much is being written at once. The phone tries again by itself."),
        Kind("server-fault", 500, "Something went wrong in the server", "retry later",
             "This is a fault of the server, not of what was sent. The number given stands in "
             "the server's log too."),
    )
}  # fmt: skip
