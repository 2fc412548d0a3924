"""Settings come from the environment, once, and say what is missing."""

from __future__ import annotations

from pathlib import Path

import pytest

from shedtally.settings import Settings, from_environment


def test_only_the_data_folder_is_required() -> None:
    assert from_environment({"SHEDTALLY_DATA": "/srv/shed"}) == Settings(Path("/srv/shed"))
    with pytest.raises(KeyError, match="SHEDTALLY_DATA"):
        from_environment({})


def test_every_setting_can_be_given() -> None:
    settings = from_environment(
        {
            "SHEDTALLY_DATA": "data",
            "SHEDTALLY_NAME": "Old grain shed",
            "SHEDTALLY_DATABASE_URL": "postgresql+psycopg:///shed",
            "SHEDTALLY_ADDRESS": "https://shed.example/",
            "SHEDTALLY_TRUSTED_HOSTS": "shed.example, 192.0.2.4",
            "SHEDTALLY_PROXIES": "1",
            "SHEDTALLY_KEEP_FREE_MB": "5",
        }
    )
    assert settings.name == "Old grain shed"
    assert settings.database_url == "postgresql+psycopg:///shed"
    assert settings.address == "https://shed.example"
    assert {"localhost", "shed.example", "192.0.2.4"} <= set(settings.trusted_hosts)
    assert (settings.proxies, settings.keep_free_bytes) == (1, 5_000_000)


def test_number_that_is_none_is_refused() -> None:
    with pytest.raises(ValueError, match="invalid literal"):
        from_environment({"SHEDTALLY_DATA": "data", "SHEDTALLY_PROXIES": "one"})
