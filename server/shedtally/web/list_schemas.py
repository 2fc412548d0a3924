"""The JSON of the lists: what is asked, and what is answered."""

from __future__ import annotations

import datetime as dt
from typing import Any, Literal

from pydantic import BaseModel, Field

from shedtally.domain.lists import LeftList, RenewalList, WasteList


class WasteQuery(BaseModel):
    """By which rules; what is left out is taken from the boat's record."""

    rule_set: str = Field(default="", max_length=40)
    holder: Literal["", "household", "business"] = ""
    on: dt.date | None = None


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
