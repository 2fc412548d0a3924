"""Options that several commands share."""

from __future__ import annotations

from pathlib import Path

import click

DATA = click.option(
    "--data",
    type=click.Path(path_type=Path, file_okay=False),
    envvar="SHEDTALLY_DATA",
    default=lambda: Path.home() / "shedtally",
    show_default="~/shedtally",
    help="The one folder with everything of this server.",
)
