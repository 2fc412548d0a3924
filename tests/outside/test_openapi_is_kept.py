"""The API does what its own description says, as judged by an independent tester.

Source: Schemathesis (https://schemathesis.readthedocs.io), which makes requests from the
description, valid and spoilt, and holds the answers to it: no server error, no undocumented
status, type or body, no spoilt request accepted, no valid request refused.
"""

from __future__ import annotations

import pytest
import schemathesis
from hypothesis import HealthCheck, given, settings
from schemathesis import GenerationMode
from schemathesis.specs.openapi.checks import ignored_auth, positive_data_acceptance

schemathesis.serializer.alias("application/zip", "application/octet-stream")

few = settings(
    max_examples=6,
    deadline=None,
    derandomize=True,
    suppress_health_check=list(HealthCheck),
)
# What no schema can say: that the digest in the address is that of the body, that a code has the
# right check character, that a block was given out, that bytes are an archive, that a boat has a
# container to label or a handover of that key.
BEYOND_SCHEMA = {
    "/api/photos/{sha256}",
    "/api/photos/{sha256}/preview",
    "/api/boats/{boat}/tags.pdf",
    "/api/boats/{boat}/lists/waste-labels.pdf",
    "/api/boats/{boat}/handovers/{handover}/sheet.pdf",
    "/api/rescue",
}
# Drawn digests, codes and devices are never those of a photo or a pairing: these can't succeed.
NEVER_FOUND = {
    "/api/pair",
    "/api/photos/{sha256}",
    "/api/photos/{sha256}/preview",
    "/api/photos/{sha256}/original",
    "/api/photos/{sha256}/thumbnail",
    "/api/boats/{boat}/tags.pdf",
    "/api/boats/{boat}/lists/waste-labels.pdf",
    "/api/boats/{boat}/handovers/{handover}/sheet.pdf",
    "/api/rescue",
    "/api/devices/{device}/rename",
}


@pytest.fixture
def operations(app, phone, boat) -> list:
    """All operations but the one that could shut out the very device that tests."""
    schema = schemathesis.openapi.from_wsgi("/api/openapi.json", app)
    found = [result.ok() for result in schema.get_all_operations()]
    return [one for one in found if one.path != "/api/devices/{device}/revoke"]


def judged(case, phone) -> int:
    """Send the request as a paired device would; the status. Raises what is wrong with the answer.

    Whether other sessions are refused is the business of tests/web/test_guard.py.
    """
    unjudged = [ignored_auth]
    if case.operation.path in BEYOND_SCHEMA:
        unjudged.append(positive_data_acceptance)
    reply = case.call_and_validate(
        headers={"X-Shedtally": "1", "Accept-Encoding": "identity"},
        cookies={"shedtally": phone.http.get_cookie("shedtally").value},
        excluded_checks=unjudged,
    )
    return reply.status_code


def statuses(operation, mode: GenerationMode, phone, boat: str | None = None) -> set[int]:
    """Statuses of a few drawn requests, about ``boat`` if one is given; each answer is judged."""
    found: set[int] = set()

    @few
    @given(case=operation.as_strategy(generation_mode=mode))
    def holds(case) -> None:
        if boat is not None and "boat" in (case.path_parameters or {}):
            case.path_parameters["boat"] = boat
        found.add(judged(case, phone))

    holds()
    return found


def test_every_operation_answers_good_requests_as_described(operations, phone, boat) -> None:
    assert len(operations) >= 25
    for operation in operations:
        found = statuses(operation, GenerationMode.POSITIVE, phone, boat)
        if operation.path not in NEVER_FOUND:
            assert found & {200, 201}, operation.label


def test_every_operation_refuses_spoilt_requests_as_described(operations, phone) -> None:
    spoilt = [one for one in operations if one.path_parameters or one.query or one.body]
    assert len(spoilt) >= 18
    for operation in spoilt:
        statuses(operation, GenerationMode.NEGATIVE, phone)
