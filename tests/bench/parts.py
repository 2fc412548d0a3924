"""What the benchmark starts: our server, the yardstick's, a browser, and a counter of bytes."""

from __future__ import annotations

import contextlib
import http.client
import json
import os
import re
import shutil
import signal
import socket
import subprocess
import sys
import threading
import time
import urllib.request
import uuid
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent / "sync"
ROOT = Path(__file__).parents[2]
BIN = Path(sys.executable).parent
STARTS_WITHIN_S = 60

OUR_SERVER = """
import sys
from pathlib import Path
from shedtally.serving.application import application
from shedtally.serving.listen import Listener, listen
from shedtally.settings import Settings
from shedtally.web.setup import SetupFacts
data, port, client = sys.argv[1:]
settings = Settings(Path(data), keep_free_bytes=0, client_dir=Path(client) if client else None)
listen(Listener("127.0.0.1", int(port)), lambda: application(settings, SetupFacts("http://127.0.0.1")))
"""
NEW_CODE = """
import sys
from pathlib import Path
from shedtally.serving.pairing import new_code
from shedtally.settings import Settings
print(new_code(Settings(Path(sys.argv[1]))))
"""


def free_port() -> int:
    with contextlib.closing(socket.socket()) as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@contextlib.contextmanager
def running(words: list[str], url: str) -> Iterator[subprocess.Popen[bytes]]:
    """A process that serves ``url``, until the block ends."""
    # A group of its own, because the command `node` is a small program that starts the real one.
    process = subprocess.Popen(words, start_new_session=True)
    try:
        deadline = time.monotonic() + STARTS_WITHIN_S
        while True:
            try:
                urllib.request.urlopen(url, timeout=5).close()
                break
            except OSError:
                if process.poll() is not None or time.monotonic() > deadline:
                    raise
                time.sleep(0.1)
        yield process
    finally:
        os.killpg(process.pid, signal.SIGTERM)
        process.wait(20)


@contextlib.contextmanager
def our_server(data: Path, client: Path | None = None) -> Iterator[tuple[int, int]]:
    """Our server as it is served to phones, over plain HTTP. Gives its port and process id."""
    port = free_port()
    words = [sys.executable, "-c", OUR_SERVER, str(data), str(port), str(client or "")]
    with running(words, f"http://127.0.0.1:{port}/api/ping") as process:
        yield port, process.pid


def pairing_code(data: Path) -> str:
    """A code that lets one more browser in."""
    words = [sys.executable, "-c", NEW_CODE, str(data)]
    return subprocess.run(words, check=True, capture_output=True, text=True).stdout.strip()


@contextlib.contextmanager
def yardstick_server(modules: Path) -> Iterator[int]:
    """The yardstick's server with its store in memory. Gives its port."""
    port = free_port()
    words = [str(BIN / "node"), str(HERE / "yardstick/server.cjs"), str(port), str(modules)]
    with running(words, f"http://127.0.0.1:{port}/"):
        yield port


def install_yardstick() -> Path:
    """Install it beside the tools, where git does not look; once. Gives its folder."""
    folder = BIN.parent / "yardstick"
    folder.mkdir(exist_ok=True)
    wanted = (HERE / "yardstick/package.json").read_text(encoding="utf-8")
    done = folder / "installed.json"
    if not done.exists() or done.read_text(encoding="utf-8") != wanted:
        shutil.copy(HERE / "yardstick/package.json", folder)
        _npm(folder, "install", "--no-audit", "--no-fund", "--ignore-scripts", "--silent")
        done.write_text(wanted, encoding="utf-8")
    return folder


def vite_program() -> Path:
    """What builds the client; installed as locked if it is not there."""
    vite = ROOT / "pwa/node_modules/vite/bin/vite.js"
    if not vite.exists():
        _npm(ROOT / "pwa", "ci", "--no-audit", "--no-fund", "--silent")
    return vite


def build_ours(folder: Path) -> Path:
    """Our client's storage and sync as a page without screens."""
    vite = vite_program()
    words = [str(BIN / "node"), str(vite), "build", "--config", str(HERE / "vite.config.mjs")]
    subprocess.run([*words, "--outDir", str(folder)], check=True, cwd=ROOT / "pwa")
    icon, script = 'rel="icon" href="data:,"', 'type="module" src="/assets/bench.js"'
    page = f"<!doctype html><link {icon}><script {script}></script>"
    (folder / "index.html").write_text(page, encoding="utf-8")
    return folder


def build_app(folder: Path) -> Path:
    """The whole client as it is served, away from the one that others may be building."""
    vite = vite_program()
    words = [str(BIN / "node"), str(vite), "build", "--logLevel", "warn", "--emptyOutDir"]
    # The plugin that lists the files joins the folder to that of the sources.
    out = os.path.relpath(folder, ROOT / "pwa")
    subprocess.run([*words, "--outDir", out], check=True, cwd=ROOT / "pwa")
    return folder


def node_yardstick(modules: Path, port: int, records: Path) -> dict[str, float]:
    """One run of the yardstick without a browser: milliseconds by piece of work."""
    script = str(HERE / "yardstick/node.cjs")
    words = [str(BIN / "node"), script, f"http://127.0.0.1:{port}", str(modules), str(records)]
    said = subprocess.run(words, check=True, capture_output=True, text=True).stdout
    return dict(json.loads(said))


def _npm(folder: Path, *words: str) -> None:
    environment = {**os.environ, "PATH": f"{BIN}{os.pathsep}{os.environ['PATH']}"}
    subprocess.run([str(BIN / "npm"), *words], check=True, cwd=folder, env=environment)


@dataclass
class Api:
    """A paired device without a browser."""

    port: int
    data: Path
    device: str = field(default_factory=lambda: str(uuid.uuid4()))
    seq: int = 0
    cookie: str = ""

    def __post_init__(self) -> None:
        body = {"code": pairing_code(self.data), "device": self.device, "name": "seed"}
        with self.send("POST", "/api/pair", json.dumps(body).encode()) as answer:
            self.cookie = answer.headers["Set-Cookie"].split(";")[0]

    def send(
        self, method: str, path: str, body: bytes | None = None, kind: str = "application/json"
    ) -> http.client.HTTPResponse:
        """One request, answered or raised."""
        headers = {"X-Shedtally": "1", "Content-Type": kind, "Cookie": self.cookie}
        url = f"http://127.0.0.1:{self.port}{path}"
        request = urllib.request.Request(url, data=body, headers=headers, method=method)
        found: http.client.HTTPResponse = urllib.request.urlopen(request, timeout=300)
        return found

    def get(self, path: str) -> Any:
        """The JSON at an address."""
        with self.send("GET", path) as answer:
            return json.load(answer)

    def push(self, boat: str, edits: Sequence[dict[str, Any]]) -> None:
        """Send edits as changes, 500 at a time."""
        for at in range(0, len(edits), 500):
            changes = [self._change(edit) for edit in edits[at : at + 500]]
            body = json.dumps({"schema": 1, "changes": changes}).encode()
            with self.send("POST", f"/api/boats/{boat}/changes", body) as answer:
                results = json.load(answer)["results"]
            refused = [one for one in results if one["outcome"] != "accepted"]
            assert not refused, refused[0]

    def _change(self, edit: dict[str, Any]) -> dict[str, Any]:
        self.seq += 1
        stamp = f"{time.time_ns() // 1_000_000:012x}{self.seq % 65_536:04x}"
        own = {"id": str(uuid.uuid4()), "device": self.device, "seq": self.seq}
        return {**own, "stamp": stamp, "base": 0, **edit}


def resident_mb(pid: int) -> float:
    """Megabytes of memory in use by a process and its children; Linux only."""
    ids = [pid, *_children(pid)]
    found = 0.0
    for one in ids:
        status = Path(f"/proc/{one}/status").read_text(encoding="utf-8")
        match = re.search(r"VmRSS:\s+(\d+) kB", status)
        found += int(match[1]) / 1000 if match else 0
    return found


def processor_s(pid: int) -> float:
    """Seconds of the processor that a process and its children have used; Linux only."""
    ticks = 0
    for one in [pid, *_children(pid)]:
        # After the name in brackets, which may hold anything: fields 14 and 15 of proc(5).
        fields = Path(f"/proc/{one}/stat").read_text(encoding="utf-8").rpartition(")")[2].split()
        ticks += int(fields[11]) + int(fields[12])
    return ticks / os.sysconf("SC_CLK_TCK")


def _children(pid: int) -> list[int]:
    text = Path(f"/proc/{pid}/task/{pid}/children").read_text(encoding="utf-8")
    return [int(one) for one in text.split()]


@dataclass
class Counter:
    """Passes bytes on to a port of this machine, and counts them; headers count too."""

    to: int
    up: int = 0
    down: int = 0
    port: int = 0
    lock: threading.Lock = field(default_factory=threading.Lock)

    def __post_init__(self) -> None:
        self.listener = socket.create_server(("127.0.0.1", 0))
        self.port = self.listener.getsockname()[1]
        threading.Thread(target=self._accept, daemon=True).start()

    def take(self) -> tuple[int, int]:
        """Bytes up and down since the last time."""
        with self.lock:
            found = (self.up, self.down)
            self.up = self.down = 0
        return found

    def close(self) -> None:
        self.listener.close()

    def _accept(self) -> None:
        with contextlib.suppress(OSError):
            while True:
                near, _ = self.listener.accept()
                far = socket.create_connection(("127.0.0.1", self.to))
                for ends in ((near, far, True), (far, near, False)):
                    threading.Thread(target=self._pass_on, args=ends, daemon=True).start()

    def _pass_on(self, source: socket.socket, to: socket.socket, is_up: bool) -> None:
        with contextlib.suppress(OSError):
            while data := source.recv(65_536):
                with self.lock:
                    if is_up:
                        self.up += len(data)
                    else:
                        self.down += len(data)
                to.sendall(data)
            to.shutdown(socket.SHUT_WR)
