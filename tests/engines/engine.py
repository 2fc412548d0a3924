"""What the tests ask of a browser, whichever engine it has inside.

Places on the page are named by XPath, because both drivers find those themselves.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any, Protocol


class Engine(Protocol):
    """A browser with one page. Clicks and keys come from the driver, as a person's would."""

    name: str

    def open(self, address: str) -> None:
        """Go to an address and wait until its page is loaded."""

    def reload(self) -> None:
        """Load the page again."""

    def ask(self, function: str, argument: object = None) -> Any:
        """What an asynchronous JavaScript function of one argument answers in the page."""

    def click(self, xpath: str) -> None:
        """Press on the first such element that can be seen."""

    def type(self, xpath: str, text: str) -> None:
        """Replace the text of a field."""

    def choose_file(self, xpath: str, file: Path) -> None:
        """Answer a file picker."""

    def close(self) -> None:
        """End the browser."""


class NotThere(Exception):
    """What was to be pressed or filled in is not on the page yet, or went away meanwhile."""


class NotInstalled(Exception):
    """An engine is missing; the text says the command that brings it."""

    def __init__(self, program: str, package: str) -> None:
        super().__init__(
            f"{program} is not installed. Run: apt-get install --no-install-recommends {package}"
            " (or python3 tests/run.py 'browser and tools', which does it where it may)"
        )
