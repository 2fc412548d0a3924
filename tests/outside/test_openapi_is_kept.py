"""The API does what its own description says, as judged by an independent tester.

Source: Schemathesis (https://schemathesis.readthedocs.io), which makes requests from the
description, valid and spoilt, and holds the answers to it: no server error, no undocumented
status, type or body, no spoilt request accepted.
"""

from __future__ import annotations

import pytest
import schemathesis
from hypothesis import HealthCheck, given, settings
from schemathesis import GenerationMode

PER_OPERATION = 6

few = settings(
    max_examples=PER_OPERATION,
    deadline=None,
    derandomize=True,
    suppress_health_check=list(HealthCheck),
)


@pytest.fixture
def operations(app, phone, boat) -> list:
    schema = schemathesis.openapi.from_wsgi("/api/openapi.json", app)
    return [result.ok() for result in schema.get_all_operations()]


def headers_of(phone) -> dict[str, str]:
    return {"X-Shedtally": "1", "Cookie": f"shedtally={phone.http.get_cookie('shedtally').value}"}


def test_every_operation_answers_good_requests_as_described(operations, phone, boat) -> None:
    assert len(operations) >= 25
    for operation in operations:
        if operation.path == "/api/devices/{device}/revoke":
            continue  # it could shut out the very device that tests

        @few
        @given(case=operation.as_strategy(generation_mode=GenerationMode.POSITIVE))
        def holds(case) -> None:
            if "boat" in (case.path_parameters or {}):
                case.path_parameters["boat"] = boat
            case.call_and_validate(headers=headers_of(phone))

        holds()


def test_every_operation_refuses_spoilt_requests_as_described(operations, phone) -> None:
    spoilt = [one for one in operations if one.path_parameters or one.query or one.body]
    assert len(spoilt) >= 18
    for operation in spoilt:

        @few
        @given(case=operation.as_strategy(generation_mode=GenerationMode.NEGATIVE))
        def holds(case) -> None:
            case.call_and_validate(headers=headers_of(phone))

        holds()
