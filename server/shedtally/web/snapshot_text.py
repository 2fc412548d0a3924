"""A snapshot as JSON text, put together from the text that the rows have already.

Ten thousand records would otherwise be read into objects and written out again, which takes a
small server longer than everything else about them.
"""

from __future__ import annotations

import json

from shedtally.storage.packing import split
from shedtally.usecases.send_snapshot import SnapshotPage


def text_of(page: SnapshotPage) -> str:
    """The page as JSON; names of devices and versions stand once each, in lists of their own."""
    devices: dict[str, int] = {}
    versions: dict[str, int] = {}
    version_parts: list[str] = []
    records: list[str] = []

    def place(version: list[object]) -> int:
        stamp, device, change, cursor = version
        known = versions.setdefault(str(change), len(versions))
        if known == len(version_parts):
            number = devices.setdefault(str(device), len(devices))
            version_parts.append(f'["{stamp}",{number},"{change}",{cursor}]')
        return known

    # Tables, keys, stamps and ids were checked on arrival: none holds a sign that JSON escapes.
    for table, key, values, packed in page.records:
        found, of = split(json.loads(packed))
        places = [place(version) for version in found]
        if isinstance(of, int):
            by = str(places[of])
        else:
            by = json.dumps({field: places[at] for field, at in of.items()}, separators=(",", ":"))
        records.append(f'["{table}","{key}",{values},{by}]')
    head = {"epoch": page.epoch, "cursor": page.cursor, "last": page.last, "more": page.more}
    end = "/".join(page.records[-1][:2]) if page.records else None
    return (
        f"{json.dumps({**head, 'after': end, 'devices': list(devices)})[:-1]},"
        f'"versions":[{",".join(version_parts)}],"records":[{",".join(records)}]}}'
    )
