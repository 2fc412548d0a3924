"""The client's types are generated; a hand edit or a forgotten run shows here."""

import pytest

from shedtally.contract import CLIENT_DOMAIN, client_files
from shedtally.domain import records


@pytest.mark.parametrize("name", ["contract.ts", "fields.ts", "problems.ts"])
def test_the_types_of_the_client_are_those_of_the_records(name: str) -> None:
    written = (CLIENT_DOMAIN / name).read_text(encoding="utf-8")
    assert written == client_files()[name], "run `python -m shedtally.contract`"


def test_every_table_has_a_type_and_the_limits_of_its_fields() -> None:
    files = client_files()
    for table, record in records.TABLES.items():
        assert f"export interface {record.__name__} {{" in files["contract.ts"]
        assert f"\t{table}: {{" in files["fields.ts"]
