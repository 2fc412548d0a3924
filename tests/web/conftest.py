"""What depends on the database is tested on both, with a real PostgreSQL server beside SQLite."""

from __future__ import annotations

import pytest

ON_BOTH = {
    "test_clashes",
    "test_clock_ahead",
    "test_pairing_api",
    "test_pull",
    "test_push",
    "test_restated",
    "test_second_copies",
    "test_snapshot",
    "test_tags_api",
}
# Where most tests of a file are about something else.
ON_BOTH_TOO = {
    "test_photo_may_come_before_its_record_and_the_record_before_its_photo",
    "test_photo_of_a_binned_record_is_not_missed",
    "test_photo_of_a_record_that_came_back_from_the_bin_is_missed_again",
    "test_list_says_as_of_which_change_and_when_it_was_made",
    "test_uploads_of_one_photo_at_once_make_one_file",
    "test_second_upload_is_answered_alike_and_changes_nothing",
}


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    file = metafunc.module.__name__.rpartition(".")[2]
    chosen = file in ON_BOTH or metafunc.definition.name in ON_BOTH_TOO
    if chosen and "settings" in metafunc.fixturenames:
        metafunc.parametrize("database", ["sqlite", "postgres"], indirect=True)
