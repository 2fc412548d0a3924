"""A real PostgreSQL server for the tests, in a temporary folder, gone with the test run."""

from __future__ import annotations

import contextlib
import os
import pwd
import shutil
import subprocess
import tempfile
import uuid
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import create_engine, delete, text

from processes import free_port
from shedtally.storage.database import postgres_url
from shedtally.storage.tables import db

INSTALL = "apt-get install --yes --no-install-recommends postgresql"
ACCOUNT = "postgres"
DEBIAN = Path("/usr/lib/postgresql")  # where Debian's package puts its programs, by version
# Tests lose nothing that matters when the machine stops; a killed server loses nothing anyway,
# for what it had written stays with the kernel.
QUICK = ("fsync=off", "full_page_writes=off", "max_connections=200", "shared_buffers=64MB")


class PostgresMissing(Exception):
    """The server's programs are not there."""

    def __init__(self) -> None:
        super().__init__(f"PostgreSQL is not installed, and its tests need it. As root: {INSTALL}")


def programs() -> Path:
    """The folder with initdb and pg_ctl. Raises: PostgresMissing."""
    on_path = shutil.which("initdb")
    if on_path:
        return Path(on_path).resolve().parent
    with contextlib.suppress(OSError, subprocess.CalledProcessError):
        asked = subprocess.run(
            ["pg_config", "--bindir"], capture_output=True, text=True, check=True
        ).stdout.strip()
        if (Path(asked) / "initdb").exists():
            return Path(asked)
    versions = sorted(DEBIAN.glob("*/bin/initdb"), key=lambda file: float(file.parts[-3]))
    if not versions:
        raise PostgresMissing
    return versions[-1].parent


@dataclass
class Postgres:
    """A running server; every database in it belongs to one test."""

    folder: Path
    port: int
    bin: Path

    def url(self, database: str) -> str:
        return f"postgresql://{ACCOUNT}@127.0.0.1:{self.port}/{database}"

    def new_database(self, more: str = "") -> str:
        """Make an empty database; its address. ``more``: further words for its making."""
        name = f"t{uuid.uuid4().hex}"
        self.order(f'CREATE DATABASE "{name}" TEMPLATE template0 {more}')
        return self.url(name)

    @contextlib.contextmanager
    def a_database(self) -> Iterator[str]:
        """An empty database for as long as it is needed."""
        url = self.new_database()
        yield url
        self.drop(url)

    def drop(self, url: str) -> None:
        """Remove a database, also when something is still connected to it."""
        self.order(f'DROP DATABASE "{url.rpartition("/")[2]}" WITH (FORCE)')

    def order(self, statement: str) -> None:
        engine = create_engine(postgres_url(self.url(ACCOUNT)), isolation_level="AUTOCOMMIT")
        with engine.connect() as connection:
            connection.execute(text(statement))
        engine.dispose()

    def control(self, *words: str) -> None:
        """Run pg_ctl; the log of the server is in the message if that fails."""
        command = [str(self.bin / "pg_ctl"), "--pgdata", str(self.folder / "data"), *words]
        done = _as_account([*command, "--log", str(self.folder / "log")], self.folder)
        assert done.returncode == 0, done.stdout + (self.folder / "log").read_text()

    def start(self) -> None:
        listen = f"-h 127.0.0.1 -p {self.port} -k {self.folder}"
        options = " ".join([listen, *(f"-c {one}" for one in QUICK)])
        self.control("start", "--wait", "--options", options)

    def stop(self, mode: str = "immediate") -> None:
        self.control("stop", "--mode", mode)


def empty(url: str) -> None:
    """Remove every row; the tables stay."""
    engine = create_engine(postgres_url(url))
    with engine.begin() as connection:
        for table in reversed(db.metadata.sorted_tables):
            connection.execute(delete(table))
    engine.dispose()


@contextlib.contextmanager
def running_postgres() -> Iterator[Postgres]:
    """Start a server of its own, and end it and remove it afterwards.

    Raises: PostgresMissing.
    """
    found = programs()
    folder = Path(tempfile.mkdtemp(prefix="shedtally-postgres-"))
    if os.geteuid() == 0:
        account = pwd.getpwnam(ACCOUNT)
        os.chown(folder, account.pw_uid, account.pw_gid)
    server = Postgres(folder, free_port(), found)
    try:
        words = [str(found / "initdb"), "--pgdata", str(folder / "data"), "--username", ACCOUNT]
        quick = ["--auth", "trust", "--encoding", "UTF8", "--locale", "C.UTF-8", "--no-sync"]
        done = _as_account([*words, *quick], folder)
        assert done.returncode == 0, done.stdout
        server.start()
        yield server
        server.stop()
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _as_account(words: list[str], folder: Path) -> subprocess.CompletedProcess[str]:
    """PostgreSQL refuses to run as root; its package made an account for it."""
    user = ACCOUNT if os.geteuid() == 0 else None
    return subprocess.run(
        words,
        user=user,
        group=user,
        extra_groups=[] if user else None,
        cwd=folder,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        check=False,
    )
