"""Routes: containers and handovers, as JSON for phones."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from flask import Response

from shedtally.domain.boat import BoatRecords
from shedtally.domain.errors import NoSuchRuleSet
from shedtally.domain.waste.boxes import box_list
from shedtally.domain.waste.by_stream import Case, waste_list, waste_rows
from shedtally.domain.waste.container_lists import BoxList, FrozenList, HandoverList
from shedtally.domain.waste.handovers import handover_list
from shedtally.domain.waste.stream import Row
from shedtally.usecases.read_handovers import frozen_lists
from shedtally.usecases.read_lists import AsOf, make_list, read_boat
from shedtally.web import list_schemas, schemas
from shedtally.web.answers import answers, blueprint, today
from shedtally.web.guard import shed
from shedtally.web.list_answers import Wanted, json_of
from shedtally.web.list_schemas import ListReply

api = blueprint("boxes", "Containers and handovers")

_SLUGS = ("no-such-boat", "no-such-rule-set")


class BoxReply(ListReply):
    """Every container, what is in it and what is odd about it."""

    list: BoxList


class HandoverReply(ListReply):
    """Every handover, with its list as it was frozen."""

    list: HandoverList


@api.get("/boats/<string:boat>/lists/boxes", responses=answers({200: BoxReply}, *_SLUGS))
def boxes(path: schemas.BoatPath, query: list_schemas.WasteQuery) -> Response:
    """Send every container with its content, its limits, bans and faults."""
    return json_of(BoxReply, _wanted(path.boat, "boxes", query, box_list))


@api.get("/boats/<string:boat>/lists/handovers", responses=answers({200: HandoverReply}, *_SLUGS))
def handovers(path: schemas.BoatPath, query: list_schemas.WasteQuery) -> Response:
    """Send every handover; a frozen list never changes."""
    return json_of(HandoverReply, _HandoversWanted(path.boat, query))


def _wanted(
    boat: str,
    name: str,
    query: list_schemas.WasteQuery,
    of: Callable[[Case, list[Row]], object],
) -> Wanted:
    """A list made from the lines of waste."""
    on = query.on or today(shed().now_ms())
    asked = (query.rule_set, query.holder, on)
    return Wanted(boat, name, asked, lambda records: of(*_rows(records, query)))


def _rows(records: BoatRecords, query: list_schemas.WasteQuery) -> tuple[Case, list[Row]]:
    on = query.on or today(shed().now_ms())
    rule_set, holder = rule_set_of(records, query), query.holder or records.boat.holder or ""
    case, rows, _ = waste_rows(records, shed().rules, rule_set, holder, on)
    return case, rows


def rule_set_of(records: BoatRecords, query: list_schemas.WasteQuery) -> str:
    """The rule set that is asked for, else the boat's, else the first. Raises: NoSuchRuleSet."""
    rules = shed().rules
    rule_set = query.rule_set or records.boat.rule_set or next(iter(rules.rule_sets))
    if rule_set not in rules.rule_sets:
        raise NoSuchRuleSet(rule_set)
    return rule_set


@dataclass(frozen=True, slots=True)
class _HandoversWanted:
    """The list of handovers: records and frozen lists read in one transaction."""

    boat: str
    query: list_schemas.WasteQuery

    def read(self) -> AsOf[Any]:
        """The list as it is now."""
        with shed().reading() as uow:
            boat = read_boat(uow, shed().lists, self.boat)
            frozen = frozen_lists(uow.frozen(self.boat).all())
        on = self.query.on or today(shed().now_ms())
        asked = (shed().rules.version, self.query.rule_set, self.query.holder, on)
        return make_list(
            shed().lists, boat, "handovers", asked, lambda records: self._make(records, frozen)
        )

    def _make(self, records: BoatRecords, frozen: dict[str, FrozenList]) -> HandoverList:
        case, rows = _rows(records, self.query)
        waste = waste_list(records, shed().rules, case.law.id, case.holder, case.on)
        return handover_list(case, rows, waste, frozen)
