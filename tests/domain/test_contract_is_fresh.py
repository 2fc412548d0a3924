"""The client's types are generated; a hand edit or a forgotten run shows here."""

from shedtally.contract import CLIENT_FILE, client_types
from shedtally.domain import records


def test_the_types_of_the_client_are_those_of_the_records() -> None:
    written = CLIENT_FILE.read_text(encoding="utf-8")
    assert written == client_types(), "run `python -m shedtally.contract`"


def test_every_table_has_a_type_and_a_shape() -> None:
    text = client_types()
    for table, record in records.TABLES.items():
        assert f"export interface {record.__name__} {{" in text
        assert f"\t{table}: {{" in text
