"""Reading what was frozen, as the lists and the paper want it."""

from __future__ import annotations

import datetime
import json
from collections.abc import Iterable
from typing import Any

from pydantic import TypeAdapter

from shedtally.domain.lists import WasteList
from shedtally.domain.waste.container_lists import FrozenList, Papers
from shedtally.storage.frozen import FrozenRow

_WASTE = TypeAdapter(WasteList)
_PAPERS = TypeAdapter(Papers)


def frozen_lists(rows: Iterable[FrozenRow]) -> dict[str, FrozenList]:
    """The frozen lists by the key of their handover."""
    return {row.handover: _read(row) for row in rows}


def _read(row: FrozenRow) -> FrozenList:
    text: dict[str, Any] = json.loads(row.body)
    waste = _WASTE.validate_python(text["waste"])
    at = datetime.datetime.fromtimestamp(row.frozen_ms / 1000, datetime.UTC)
    return FrozenList(
        digest=row.digest,
        papers=_PAPERS.validate_python(text["handover"]),
        frozen_at=at.isoformat(timespec="seconds"),
        rule_set_name=waste.rule_set_name,
        edition=waste.edition,
        rules_version=text["rules_version"],
        waste=waste,
    )
