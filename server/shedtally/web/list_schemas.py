"""The JSON of the lists: what is asked, and what is answered."""

from __future__ import annotations

import datetime as dt
from typing import Any, Literal

from pydantic import BaseModel, Field, RootModel, field_validator

from shedtally.domain.buying.lists import OrderList
from shedtally.domain.lists import LeftList, RenewalList, WasteList
from shedtally.domain.work.ahead import WorkAhead
from shedtally.domain.work.put_back import PutBackList
from shedtally.domain.work.sitting import Sitting
from shedtally.printing.phrases import ENGLISH, languages
from shedtally.web.query import Query


class WasteQuery(Query):
    """By which rules; what is left out is taken from the boat's record."""

    rule_set: str = Field(default="", max_length=40)
    holder: Literal["", "household", "business"] = ""
    on: dt.date | None = None


class PaperQuery(WasteQuery):
    """By which rules, on which paper (empty: the usual of the rule set), in which language."""

    paper: Literal["", "a4", "letter"] = ""
    language: str = Field(default=ENGLISH, json_schema_extra={"enum": list(languages())})

    @field_validator("language")
    @classmethod
    def _can_be_printed(cls, language: str) -> str:
        if language not in languages():
            message = f"papers can be printed in: {', '.join(languages())}"
            raise ValueError(message)
        return language


class LabelQuery(PaperQuery):
    """Which containers, by their keys with commas between; none: all that still stand here."""

    size: str = Field(default="a6", max_length=40)
    containers: str = Field(default="", max_length=20_000)


class LabelSize(BaseModel):
    """A size of label, for people to choose."""

    id: str
    name: str
    about: str


class LabelSizes(RootModel[list[LabelSize]]):
    """All sizes of labels."""


class ListReply(BaseModel):
    """A list, when it was made, and the cursor of the last change that it contains."""

    cursor: int
    made_at: str
    list: Any


class LeftReply(ListReply):
    """What is left to take out."""

    list: LeftList


class WasteReply(ListReply):
    """Waste by stream."""

    list: WasteList


class RenewalReply(ListReply):
    """What is to be renewed."""

    list: RenewalList


class OrderReply(ListReply):
    """What is to be bought, and how far that has got."""

    list: OrderList


class WorkReply(ListReply):
    """The work that is left."""

    list: WorkAhead


class SittingQuery(Query):
    """How long, how many people, and whether hard work is to be followed by lighter."""

    hours: float = Field(default=4.0, gt=0, le=24)
    people: int = Field(default=2, ge=1, le=20)
    mix: bool = False


class SittingReply(ListReply):
    """What to do in one sitting."""

    list: Sitting


class PutBackReply(ListReply):
    """What goes back, and in which order."""

    list: PutBackList
