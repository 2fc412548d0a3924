"""Routes: tag codes and the sheets they are printed on."""

from __future__ import annotations

from typing import Any

from shedtally.usecases.reserve_tags import reserve_tags
from shedtally.web import guard, schemas
from shedtally.web.answers import answers, blueprint
from shedtally.web.guard import shed

api = blueprint("tags", "Tags")


@api.post(
    "/boats/<string:boat>/tag-blocks",
    responses=answers({201: schemas.TagBlock}, "no-such-boat", "tags-used-up", "wrong-type"),
)
def reserve(path: schemas.BoatPath, body: schemas.TagBlockRequest) -> tuple[dict[str, Any], int]:
    """Give out codes that nobody else will get, for tags to be used while offline."""
    with shed().writing() as uow:
        block, codes = reserve_tags(uow, path.boat, body.count, guard.device().key, shed().now_ms())
    return {"block": block, "codes": codes}, 201
