"""The form of a snapshot on the wire, which the phone's code is held to by the same file."""

from __future__ import annotations

import json
from pathlib import Path

from shedtally.usecases.send_snapshot import SnapshotPage
from shedtally.web.columns import text_of

SHARED = Path(__file__).parents[2] / "fixtures" / "contract" / "snapshot.json"


def test_shared_page_is_made_from_the_shared_records() -> None:
    shared = json.loads(SHARED.read_text(encoding="utf-8"))
    rows = []
    for table, key, values, by in shared["records"]:
        versions = [by] if isinstance(by, list) else list(by.values())
        found = [[*one, 7] for one in versions]
        packed = found if isinstance(by, list) else [*found, {name: n for n, name in enumerate(by)}]
        rows.append((table, key, json.dumps(values), json.dumps(packed)))
    page = SnapshotPage("epoch", 9, None, more=True, records=rows)
    made = json.loads(text_of(page))
    assert {name: made[name] for name in ("records", "devices", "versions")} == shared["page"]
    assert (made["epoch"], made["cursor"], made["last"], made["more"]) == ("epoch", 9, None, True)
    assert made["after"] == "/".join(rows[-1][:2])
