"""Install what is missing and run every check there is: python3 tests/run.py

Needs Python 3.11 or newer and nothing else. Makes .venv beside pyproject.toml, takes Node from
the Python registry, and browsers and PostgreSQL from the system where it can. All steps run, also
after one has failed; the exit code is not zero if any failed.

Name steps to run only these: python3 tests/run.py pytest mypy
"""

from __future__ import annotations

import os
import platform
import re
import shutil
import subprocess
import sys
import time
import venv
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
VENV = ROOT / ".venv"
PWA = ROOT / "pwa"
BIN = VENV / ("Scripts" if os.name == "nt" else "bin")
PYTHON = BIN / "python"
DOMAIN_COVERAGE_PERCENT = 95
# One more than there are cores: a good part of the tests waits for browsers and servers.
WORKERS = (os.cpu_count() or 1) + 1

# Program -> Debian package: three browsers of three engines and a screen that nobody sees, the
# database, the tool that puts an authority into a browser's store, an independent reader of PDF.
SYSTEM_PROGRAMS = {
    "chromium": "chromium",
    "firefox": "firefox-esr",
    "WebKitWebDriver": "webkit2gtk-driver",
    "Xvfb": "xvfb",
    "initdb": "postgresql",
    "certutil": "libnss3-tools",
    "pdftoppm": "poppler-utils",
}
BROWSER_NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome")


class StepFailed(Exception):
    """A step failed; the text says what to do."""


def main(wanted: list[str]) -> int:
    """Run the steps, print their times, return 0 if all passed."""
    if sys.version_info < (3, 11):  # noqa: UP036 - any Python may be asked to run this file
        print(f"Python 3.11 or newer is needed; this is {platform.python_version()}.")
        return 1
    unknown = set(wanted) - set(STEPS)
    if unknown:
        print(f"No such step: {', '.join(sorted(unknown))}. Steps: {', '.join(STEPS)}.")
        return 1
    if not sys.stdout.isatty():
        os.environ["NO_COLOR"] = "1"  # a log is read as text
    results: list[tuple[str, float, str | None]] = []
    for name, step in STEPS.items():
        if wanted and name not in wanted:
            continue
        print(f"\n=== {name} " + "=" * (70 - len(name)), flush=True)
        began = time.monotonic()
        problem = attempt(step)
        results.append((name, time.monotonic() - began, problem))
        if problem:
            print(f"--- {name} failed: {problem}", flush=True)
        if problem and name in NEEDED_BY_ALL:
            break
    return summary(results)


def attempt(step: Callable[[], None]) -> str | None:
    """Run one step; None if it passed, else what went wrong."""
    try:
        step()
    except (StepFailed, OSError, subprocess.CalledProcessError) as error:
        return str(error)
    return None


def summary(results: list[tuple[str, float, str | None]]) -> int:
    """Print one line a step, then the verdict."""
    print("\n=== summary " + "=" * 63)
    for name, seconds, problem in results:
        print(f"{'FAILED' if problem else 'passed'}  {seconds:6.1f} s  {name}")
    failed = [name for name, _, problem in results if problem]
    total = sum(seconds for _, seconds, _ in results)
    for line in CLIENT_FAILED:
        print(f"client tests: {line}")
    for line in CLOSED_WITH:
        print(f"pytest: {line}")
    verdict = f"{len(failed)} failed: {', '.join(failed)}" if failed else "all passed"
    print(f"{len(results)} steps in {total:.0f} s, {verdict}", flush=True)
    return 1 if failed else 0


def make_environment() -> None:
    """Make .venv, with pip."""
    if PYTHON.exists() and quiet([PYTHON, "-m", "pip", "--version"]):
        return
    try:
        venv.create(VENV, with_pip=True, clear=VENV.exists())
    except (subprocess.CalledProcessError, SystemExit):
        # Debian keeps the pip that venv needs in a package of its own.
        version = f"python{sys.version_info.major}.{sys.version_info.minor}-venv"
        install_packages([version])
        venv.create(VENV, with_pip=True, clear=True)


def install_python() -> None:
    """Install the project, editable, with everything that the checks use."""
    # The client is built in a step of its own, so that its failure is not hidden in pip's words.
    environment = {**os.environ, "SHEDTALLY_SKIP_CLIENT": "1"}
    pip: list[str | Path] = [
        PYTHON,
        "-m",
        "pip",
        "install",
        "--quiet",
        "--disable-pip-version-check",
    ]
    requirements = build_requirements()
    run([*pip, *requirements])
    run([*pip, "--no-build-isolation", "--editable", f"{ROOT}[dev]"], environment)


def build_requirements() -> list[str]:
    """What the package needs to be built, as pyproject.toml says."""
    import tomllib  # here, so that an old Python reaches the message above

    with (ROOT / "pyproject.toml").open("rb") as stream:
        requires: list[str] = tomllib.load(stream)["build-system"]["requires"]
    return requires


def install_client() -> None:
    """Fetch the client's packages as locked, and build it."""
    npm("ci", "--no-audit", "--no-fund")
    npm("run", "build")


def install_system() -> None:
    """Find browsers, database and tools; install those that are missing, if that is allowed."""
    missing = [name for name in SYSTEM_PROGRAMS if not is_there(name)]
    if not missing:
        return
    if shutil.which("apt-get"):
        install_packages([SYSTEM_PROGRAMS[name] for name in missing])
        return
    if "chromium" in missing:
        run([PYTHON, "-m", "playwright", "install", "chromium"])
        missing.remove("chromium")
    if missing:
        packages = ", ".join(f"{name} (Debian: {SYSTEM_PROGRAMS[name]})" for name in missing)
        raise StepFailed(f"install by hand, then run again: {packages}")


def is_there(program: str) -> bool:
    """Whether the tests will find it, under any of its names and in any of its places."""
    if program == "chromium":
        return browser() is not None
    if program == "firefox":
        return any(map(shutil.which, ("firefox-esr", "firefox")))
    if program == "initdb" and any(Path("/usr/lib/postgresql").glob("*/bin/initdb")):
        return True  # Debian keeps it off the path, a folder for each version
    return shutil.which(program) is not None


def browser() -> str | None:
    """The browser for the tests: SHEDTALLY_CHROMIUM, or one on the path."""
    named = os.environ.get("SHEDTALLY_CHROMIUM")
    if named:
        if not Path(named).exists():
            raise StepFailed(f"SHEDTALLY_CHROMIUM names {named}, which is not there")
        return named
    return next(filter(None, map(shutil.which, BROWSER_NAMES)), None) or downloaded_browser()


def downloaded_browser() -> str | None:
    """The browser that Playwright fetched earlier, if it did."""
    ask = "from playwright.sync_api import sync_playwright as p\nwith p() as it: "
    ask += "print(it.chromium.executable_path)"
    done = subprocess.run([str(PYTHON), "-c", ask], capture_output=True, text=True, check=False)
    path = done.stdout.strip()
    return path if path and Path(path).exists() else None


def install_packages(packages: list[str]) -> None:
    """Install Debian packages as root or through sudo; else say the command."""
    command = ["apt-get", "install", "--yes", "--no-install-recommends", *packages]
    if os.name == "nt" or not shutil.which("apt-get"):
        raise StepFailed(f"install by hand, then run again: {', '.join(packages)}")
    root = os.geteuid() == 0
    if not root and not (shutil.which("sudo") and quiet(["sudo", "-n", "true"])):
        raise StepFailed(f"run this, then start again: sudo {' '.join(command)}")
    prefix = [] if root else ["sudo", "-n"]
    environment = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    run([*prefix, "apt-get", "update", "--quiet"], environment)
    run([*prefix, *command], environment)


def pytest() -> None:
    """Run all Python tests, browser tests too, and hold the domain to its coverage."""
    environment = {**os.environ, "PYTHONUNBUFFERED": "1"}
    named = browser()
    if named:
        environment["SHEDTALLY_CHROMIUM"] = named
    coverage = ["--cov=shedtally.domain", "--cov-branch", "--cov-report=term:skip-covered"]
    gate = f"--cov-fail-under={DOMAIN_COVERAGE_PERCENT}"
    spread = ["-n", str(WORKERS)]
    command = [str(PYTHON), "-m", "pytest", *spread, "--durations=25", *coverage, gate]
    lines: list[str] = []
    code = tell(command, lines, environment)
    CLOSED_WITH[:] = [line.strip("= ") for line in lines if CLOSING_LINE.search(line)][-1:]
    if code != 0:
        raise StepFailed(f"pytest ended with {code}; its words are above")


def client_tests() -> None:
    """Run the client's tests; those that failed are named again in the summary."""
    lines: list[str] = []
    command = [str(PYTHON), "-c", NPM, str(ROOT / "server"), str(PWA), "run", "test"]
    code = tell(command, lines)
    if code != 0:
        CLIENT_FAILED[:] = [line for line in lines if CLIENT_FAILURE.match(line)]
        raise StepFailed(f"npm run test ended with {code}; its words are above")


def tell(command: list[str], lines: list[str], environment: dict[str, str] | None = None) -> int:
    """Run a command, let it talk, and keep what it said; the code it ended with."""
    process = subprocess.Popen(
        command,
        cwd=ROOT,
        env=environment,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        encoding="utf-8",
    )
    assert process.stdout is not None
    for line in process.stdout:
        print(line, end="", flush=True)
        lines.append(line.strip())
    return process.wait()


def npm(*words: str) -> None:
    """Run npm in pwa/ with the Node that pip installed."""
    run([PYTHON, "-c", NPM, str(ROOT / "server"), str(PWA), *words])


NPM = """
import pathlib, subprocess, sys
sys.path.insert(0, sys.argv[1])
from build_client import run_npm
try:
    run_npm(pathlib.Path(sys.argv[2]), *sys.argv[3:])
except subprocess.CalledProcessError as error:
    sys.exit(error.returncode)
"""


def run(command: list[str | Path], environment: dict[str, str] | None = None) -> None:
    """Run a command in the project's folder and let it talk."""
    words = [str(word) for word in command]
    code = subprocess.run(words, cwd=ROOT, env=environment, check=False).returncode
    if code != 0:
        shown = [word for word in words if "\n" not in word]
        raise StepFailed(f"ended with {code}: {' '.join(shown)}")


def quiet(command: list[str | Path]) -> bool:
    """Whether the command can be run and succeeds."""
    try:
        done = subprocess.run([str(word) for word in command], capture_output=True, check=False)
    except OSError:
        return False
    return done.returncode == 0


def tool(*words: str) -> Callable[[], None]:
    """A step that runs a module of the environment."""
    return lambda: run([PYTHON, "-m", *words])


# "12 passed, 1 warning in 3.21s": what pytest says last.
CLOSING_LINE = re.compile(r"\b(passed|failed|errors?)\b.* in [0-9.]+s")
CLOSED_WITH: list[str] = []
# How the client's tests begin the line of one that failed, and the first line of its reason.
CLIENT_FAILURE = re.compile(r"FAIL |\w*Error: ")
CLIENT_FAILED: list[str] = []
STEPS: dict[str, Callable[[], None]] = {
    "environment": make_environment,
    "python packages": install_python,
    "client build": install_client,
    "browser and tools": install_system,
    "ruff": tool("ruff", "check", "server", "tests", "fixtures"),
    "ruff format": tool("ruff", "format", "--check", "server", "tests", "fixtures"),
    "mypy": tool("mypy"),
    "client types and lint": lambda: npm("run", "check"),
    "client tests": client_tests,
    "pytest": pytest,
}
# Without these nothing else can say anything.
NEEDED_BY_ALL = {"environment", "python packages"}

if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
