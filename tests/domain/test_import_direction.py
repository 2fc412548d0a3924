"""The folders depend on each other in one direction; the map in DEVELOPERS.md stays true."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

import shedtally

PACKAGE = Path(shedtally.__file__).parent

# Folder -> the folders of ours that it may import. The joins (app.py, cli.py ...) may import all.
MAY_IMPORT = {
    "domain": {"domain"},
    "rules": {"rules", "domain"},
    "storage": {"storage", "domain"},
    "printing": {"printing", "domain"},
    "usecases": {"usecases", "storage", "rules", "domain"},
    "web": {"web", "usecases", "printing", "rules", "domain"},
}
# The folders of the domain from the ground up; each may import those before it.
DOMAIN_FOLDERS = (
    "errors",
    "stopped",
    "records",
    "lists",
    "boat",
    "measures",
    "rulebook",
    "sync",
    "aboard",
    "masses",
    "tanks",
    "wiring",
    "renewals",
    "cutting",
    "buying",
    "schedules",
    "work",
    "waste",
    "lifting",
    "floating",
    "tally",
)
# Outside the standard library, the domain may use what only calculates: units, tables, a solver.
DOMAIN_LIBRARIES = {"pint", "numpy", "highspy"}


def imported_modules(path: Path) -> set[str]:
    """Absolute names of everything that the file imports, also inside functions."""
    names: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names.update(alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path} imports relatively; write the whole name"
            names.update(f"{node.module}.{alias.name}" for alias in node.names)
    return names


@pytest.mark.parametrize("folder", sorted(MAY_IMPORT))
def test_folder_imports_only_what_lies_below_it(folder: str) -> None:
    files = list((PACKAGE / folder).rglob("*.py"))
    assert files, f"no code in {folder}: this test would pass on nothing"
    wrong = [
        f"{path.relative_to(PACKAGE)} imports {name}"
        for path in files
        for name in imported_modules(path)
        if name.startswith("shedtally.") and name.split(".")[1] not in MAY_IMPORT[folder]
    ]
    assert wrong == []


def test_the_folders_of_the_domain_build_on_each_other() -> None:
    domain = PACKAGE / "domain"
    assert {path.stem for path in domain.iterdir()} - {"__init__", "__pycache__"} == set(
        DOMAIN_FOLDERS
    ), "name each folder of the domain in DOMAIN_FOLDERS, above those that use it"
    wrong = []
    for path in domain.rglob("*.py"):
        own = path.relative_to(domain).parts[0].removesuffix(".py")
        allowed = {*DOMAIN_FOLDERS[: DOMAIN_FOLDERS.index(own) + 1]} if own != "__init__" else set()
        wrong += [
            f"{path.relative_to(domain)} imports {name}"
            for name in imported_modules(path)
            if name.startswith("shedtally.domain.") and name.split(".")[2] not in allowed
        ]
    assert wrong == []


def test_domain_uses_no_framework_no_clock_and_no_files() -> None:
    import sys

    allowed = sys.stdlib_module_names | DOMAIN_LIBRARIES | {"shedtally"}
    forbidden = {
        "os",
        "pathlib",
        "io",
        "time",
        "random",
        "sqlite3",
        "socket",
        "urllib",
        "subprocess",
    }
    for path in (PACKAGE / "domain").rglob("*.py"):
        for name in imported_modules(path):
            if name == "random.Random":
                continue  # a generator that is given its seed; the shared one has none
            top = name.split(".")[0]
            assert top in allowed, f"{path.name} imports {name}"
            assert top not in forbidden, f"{path.name} imports {name}"
        text = path.read_text(encoding="utf-8")
        for call in (".now(", ".today(", "open("):
            assert call not in text, f"{path.name} calls {call}...): pass the value in"
