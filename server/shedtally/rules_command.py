"""The commands `shedtally rules check`, `add` and `list`: a site's own rules without code."""

from __future__ import annotations

from pathlib import Path

import click

from shedtally.cli_options import DATA

FILE = click.argument("file", type=click.Path(path_type=Path, exists=True, dir_okay=False))


@click.group()
def rules() -> None:
    """Waste rules: those that come with the program, and those of your site."""


@rules.command("check")
@FILE
def check_file(file: Path) -> None:
    """Read FILE and say what is wrong with it, line by line; nothing is changed."""
    told = _faults(file)
    for line in told:
        click.echo(f"  {line}", err=True)
    if told:
        raise click.ClickException(
            f"{file.name} can't be used as it is: {len(told)} to put right, see above. "
            "Nothing was changed."
        )
    click.echo(f"{file.name} can be used. `shedtally rules add {file}` brings it in.")


@rules.command("add")
@FILE
@DATA
def add_file(file: Path, data: Path) -> None:
    """Bring FILE into the data folder; a running server uses it at once."""
    from shedtally.rules.local_folder import FOLDER, put, small

    told = _faults(file)
    if told:
        for line in told:
            click.echo(f"  {line}", err=True)
        raise click.ClickException(
            f"{file.name} was not brought in; what the server has is unchanged. Put right what is "
            "listed above and try again."
        )
    name = file.name if file.name.endswith(".toml") else f"{file.name}.toml"
    target = data.absolute() / FOLDER / name
    was_there = target.exists()
    try:
        put(target, small(file))
    except OSError as error:
        raise click.ClickException(
            f"{error.strerror}: {target}. Nothing was changed; see that you may write there."
        ) from error
    click.echo(f"{'Replaced' if was_there else 'Added'}: {target}")
    click.echo("Phones fetch it at their next sync; choose it there under The boat.")


@rules.command("list")
@DATA
@click.option("--streams", is_flag=True, help="The streams as well, by the ids that FILE uses.")
def list_rules(data: Path, streams: bool) -> None:
    """Name every rule set with its day, and how the local files stand."""
    from shedtally.rules.load import load
    from shedtally.rules.local_folder import LocalFolder, lines_of

    for line in lines_of(LocalFolder(data.absolute(), load()).now(), streams=streams):
        click.echo(line)


def _faults(file: Path) -> tuple[str, ...]:
    from shedtally.rules.load import load
    from shedtally.rules.local import read_local
    from shedtally.rules.local_check import BadLocalRules
    from shedtally.rules.local_folder import small

    try:
        read_local(file.name, small(file), load())
    except BadLocalRules as error:
        return error.faults
    except OSError as error:
        raise click.ClickException(
            f"{error.strerror}: {file}. See that you may read it."
        ) from error
    return ()
