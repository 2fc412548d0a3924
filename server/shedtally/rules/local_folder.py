"""The folder of local rules: read anew when a file changes; a broken file never stops the server.

Of every file that could be used there is a copy in `last-good/`; while the file itself can't be
used, that copy holds, and phones and the log say so.
"""

from __future__ import annotations

import hashlib
import logging
import os
import threading
from collections.abc import Iterator
from pathlib import Path

from shedtally.domain.rulebook import LocalFile, Rules
from shedtally.domain.rulebook.law import RuleSet
from shedtally.rules.local import read_local, with_local
from shedtally.rules.local_check import BadLocalRules

log = logging.getLogger(__name__)

FOLDER = "local-rules"
LAST_GOOD = "last-good"
MOST_BYTES = 1_000_000

Stamp = tuple[tuple[str, int, int], ...]


class LocalFolder:
    """Our rules and those of the folder, as of now; safe for the threads of one process."""

    def __init__(self, data: Path, ours: Rules) -> None:
        self.folder = data / FOLDER
        self._ours = ours
        self._lock = threading.Lock()
        self._stamp: Stamp | None = None
        self._rules = ours

    def now(self) -> Rules:
        """All rules; the folder is looked at each time, its files are read when one changed."""
        stamp = self._seen()
        with self._lock:
            if stamp != self._stamp:
                self._rules = self._read([name for name, _, _ in stamp])
                self._stamp = stamp
            return self._rules

    def _seen(self) -> Stamp:
        try:
            found = [
                (entry.name, entry.stat().st_mtime_ns, entry.stat().st_size)
                for entry in os.scandir(self.folder)
                if entry.name.endswith(".toml") and entry.is_file()
            ]
        except OSError:  # no folder, or one that can't be looked into: no local rules
            return ()
        return tuple(sorted(found))

    def _read(self, names: list[str]) -> Rules:
        sets: dict[str, RuleSet] = {}
        states: list[LocalFile] = []
        digest = hashlib.sha256(self._ours.version.encode())
        for name in names:
            made, state, raw = self._one(name)
            if made is not None and made.id in sets:
                problem = f'its id "{made.id}" is that of another file as well. Change one of them.'
                made, state = None, LocalFile(name, problem)
            if made is not None:
                sets[made.id] = made
            states.append(state)
            digest.update(f"{name}\0{state.problem}\0".encode() + raw + b"\0")
            if state.problem:
                log.warning("local rules %s: %s", name, state.problem)
        if not states:
            return self._ours
        return with_local(self._ours, list(sets.values()), states, digest.hexdigest()[:12])

    def _one(self, name: str) -> tuple[RuleSet | None, LocalFile, bytes]:
        """The rule set of a file, or of its last good copy, and how it stands."""
        try:
            raw = small(self.folder / name)
            made = read_local(name, raw, self._ours)
        except (BadLocalRules, OSError) as error:
            problem = error.faults[0] if isinstance(error, BadLocalRules) else str(error.strerror)
            return self._last_good(name, problem)
        self._remember(name, raw)
        return made, LocalFile(name), raw

    def _last_good(self, name: str, problem: str) -> tuple[RuleSet | None, LocalFile, bytes]:
        try:
            raw = small(self.folder / LAST_GOOD / name)
            made = read_local(name, raw, self._ours)
        except (BadLocalRules, OSError):
            return None, LocalFile(name, problem), b""
        return made, LocalFile(name, problem, older_used=True), raw

    def _remember(self, name: str, raw: bytes) -> None:
        """Keep a copy of what could be used; a full disk must not take the rules away."""
        copy = self.folder / LAST_GOOD / name
        try:
            if copy.is_file() and copy.read_bytes() == raw:
                return
            put(copy, raw)
        except OSError as error:
            log.warning("no copy of the local rules %s was kept: %s", name, error.strerror)


def small(path: Path) -> bytes:
    """The bytes of a file of local rules.

    Raises: OSError; BadLocalRules: larger than any such file is.
    """
    with path.open("rb") as file:
        raw = file.read(MOST_BYTES + 1)
    if len(raw) > MOST_BYTES:
        raise BadLocalRules(path.name, ["line 1: the file is larger than 1 MB; it can't be rules."])
    return raw


def put(path: Path, raw: bytes) -> None:
    """Write a file whole or not at all.

    Raises: OSError.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    part = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        part.write_bytes(raw)
        part.replace(path)
    finally:
        part.unlink(missing_ok=True)


def lines_of(rules: Rules, *, streams: bool = False) -> Iterator[str]:
    """What there is, for the terminal: rule sets with their day, local files and how they stand."""
    for law in rules.rule_sets.values():
        made = f", local, on {law.based_on}" if law.local else ""
        yield f"{law.id:12}  {law.name}, edition of {law.edition.isoformat()}{made}"
    for file in rules.local_files:
        if file.problem:
            then = "its last good state is used" if file.older_used else "it is not used"
            yield f"{file.name}: {file.problem} Until then {then}."
    if streams:
        yield from (f"  {one.id:22}{one.name}" for one in rules.streams.values())
