"""Bringing in a rescue file at the server's own terminal."""

from __future__ import annotations

import time
from collections.abc import Iterator
from pathlib import Path

from shedtally.domain.errors import Refused
from shedtally.domain.stopped import Stopped
from shedtally.serving.application import opened
from shedtally.settings import Settings
from shedtally.usecases.bring_in_rescue import RescueDesk, bring_in
from shedtally.web.problem_kinds import KINDS
from shedtally.web.problems import from_refused
from shedtally.web.rescue import as_json


class RescueRefused(Stopped):
    """The file was not brought in; says why and what to do."""


def rescue(settings: Settings, file: Path, *, from_other_server: bool) -> list[str]:
    """Bring in ``file``; lines that tell what became of it.

    Raises: RescueRefused.
    """
    with opened(settings) as shed:
        now_ms = time.time_ns() // 1_000_000
        desk = RescueDesk(shed.reading, shed.writing, shed.photos, None, now_ms, shed.rules)
        try:
            report = as_json(bring_in(desk, file, from_other_server=from_other_server))
        except Refused as refused:
            problem = from_refused(refused)
            text = f"{KINDS[problem.slug].title}. {problem.detail}"
            raise RescueRefused(text) from refused
    return list(_lines(report))


def _lines(report: dict) -> Iterator[str]:  # type: ignore[type-arg]  # JSON
    yield f"Changes taken in: {report['accepted']}; here already: {report['repeated']}."
    yield f"Photographs taken in: {report['photos_kept']}; here already: {report['photos_known']}."
    for one in report["rejected"]:
        yield f"  change {one['id'] or 'without an id'} not kept: {one['why']}"
    for one in report["photos_refused"]:
        yield f"  photograph {one['sha256']} not kept: {one['why']}"
    for line in report["damaged"]:
        yield f"  {line}"
    if report["rejected"] or report["photos_refused"] or report["damaged"]:
        yield "Keep the file and the phone until what is listed has been looked into."
