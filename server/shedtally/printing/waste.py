"""The items of the waste list as CSV; on paper it is in `disposal/`."""

from __future__ import annotations

from collections.abc import Iterator

from shedtally.domain.lists import WasteList
from shedtally.domain.records import tag
from shedtally.printing.csv_text import Value, csv_text, several


def waste_csv(waste: WasteList) -> str:
    """The list as CSV, one row an item, by stream."""
    heads = [
        "rule set", "holder", "stream", "code", "title of the code", "hazardous (yes/no)", "item",
        "tag codes", "count (pieces)", "mass low (kg)", "mass likely (kg)", "mass high (kg)",
        "mass got by", "reason", "assumed (yes/no)", "container", "gone (yes/no)", "keep in",
        "transport",
    ]  # fmt: skip
    return csv_text(heads, _csv_rows(waste))


def _csv_rows(waste: WasteList) -> Iterator[list[Value]]:
    for stream in waste.streams:
        for item in stream.items:
            known = item.mass.basis != "unknown"
            yield [
                waste.rule_set_name, waste.holder, stream.name, stream.code, stream.code_title,
                stream.hazardous, item.name, several(tag.shown(code) for code in item.tags),
                item.count, item.mass.low if known else None, item.mass.likely if known else None,
                item.mass.high if known else None, item.mass.basis, item.reason, item.assumed,
                item.container, item.gone, stream.keep_in, stream.transport,
            ]  # fmt: skip
