"""What the labels of containers say, taken from a waste list and the rules."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence

from shedtally.domain.lists import WasteContainer, WasteList, WasteStream
from shedtally.domain.rulebook import Rules
from shedtally.printing.labels import LabelFace
from shedtally.printing.phrases import Phrases


def label_faces(
    waste: WasteList, rules: Rules, boat_name: str, wanted: Sequence[str], say: Phrases
) -> list[LabelFace]:
    """A label for each container of ``wanted`` keys; for none: each that is still here."""
    inside: dict[str, list[WasteStream]] = {}
    boxes: dict[str, WasteContainer] = {}
    for stream in waste.streams:
        for box in stream.containers:
            boxes[box.key] = box
            inside.setdefault(box.key, []).append(stream)
    keys = (
        [key for key in wanted if key in boxes]
        if wanted
        else [key for key, box in boxes.items() if not box.gone]
    )
    return [_face(boxes[key], inside[key], waste, rules, boat_name, say) for key in keys]


def _face(  # noqa: PLR0917
    box: WasteContainer,
    streams: Sequence[WasteStream],
    waste: WasteList,
    rules: Rules,
    boat_name: str,
    say: Phrases,
) -> LabelFace:
    """Of several streams the hazardous one stands on the label, then that of the container."""
    first = min(streams, key=lambda one: (not one.hazardous, one.id != box.stream))
    signs = rules.signs_of(first.id)
    return LabelFace(
        band=say.text(rules.label_words(waste.rule_set).words),
        hazardous=first.hazardous,
        stream=say.text(first.name),
        code=first.code,
        code_title=say.text(first.code_title),
        ghs=signs.ghs,
        road=signs.road,
        note=say.text(signs.note),
        caution=say.text(first.cautions[0]) if first.cautions else "",
        container=box.name,
        tag=box.tags[0] if box.tags else "",
        boat=boat_name,
        owner=waste.owner,
        lies_at=waste.lies_at,
        opened=_day(box.opened),
        capacity_l=box.capacity_l,
        also=tuple(say.text(one.name) for one in streams if one is not first),
    )


def _day(text: str) -> dt.date | None:
    return dt.date.fromisoformat(text) if text else None
