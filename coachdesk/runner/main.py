"""Start the parts in order, say where the site is, watch, and end them all."""

import argparse
import fcntl
import json
import os
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import time
import urllib.error
import urllib.request
from pathlib import Path
from typing import IO, Any

from coachdesk.common.file_modes import restrict_new_files
from coachdesk.common.paths import CHECKOUT, RUNNING
from coachdesk.runner import parts
from coachdesk.runner.children import Child, end_all

READY_SECONDS = 60
PORT_SECONDS = 5
LOOPBACK = {"127.0.0.1", "localhost", "::1"}


def arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(
        prog="bin/run", description="Start Coachdesk with everything it needs on this machine."
    )
    parser.add_argument("--port", type=int, default=8000, help="port of the site (8000)")
    parser.add_argument("--address", default="127.0.0.1", help="address to bind (127.0.0.1)")
    parser.add_argument("--data", type=Path, default=CHECKOUT / "var", help="data folder (var)")
    parser.add_argument("--no-demo", action="store_true", help="start with an empty club")
    return parser.parse_args()


def hold(data: Path) -> IO[str]:
    """The data folder's lock: two servers on one database is one too many."""
    data.mkdir(parents=True, exist_ok=True)
    file = (data / "run.lock").open("w")
    try:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        sys.exit(f"Coachdesk already runs on {data}. Stop it first, or choose another --data.")
    return file


def refuse_taken_port(address: str, port: int) -> None:
    """After a moment: the parts of one that was killed with kill -9 go after it."""
    until = time.monotonic() + PORT_SECONDS
    while (error := _why_taken(address, port)) is not None:
        if time.monotonic() > until:
            sys.exit(f"Port {port} cannot be used ({error.strerror}). Choose another: --port 8001")
        time.sleep(0.1)


def _why_taken(address: str, port: int) -> OSError | None:
    with socket.socket() as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((address, port))
        except OSError as error:
            return error
    return None


def refuse_open_demo(options: argparse.Namespace) -> None:
    """The demo's password is public: its sign-ins stay on this machine."""
    if not options.no_demo and options.address not in LOOPBACK:
        sys.exit("The demo's sign-ins are public. To listen beyond this machine, add --no-demo.")


def environment(data: Path, broker: Path, url: str) -> dict[str, str]:
    """The children's settings; what the caller has set already stands."""
    ours = {
        "COACHDESK_DATA": str(data),
        "COACHDESK_BROKER_URL": f"redis+socket://{broker}",
        "COACHDESK_URL": url,
        "DJANGO_SETTINGS_MODULE": "coachdesk.settings",
        "PYTHONUNBUFFERED": "1",
    }
    return {**ours, **os.environ, "COACHDESK_DATA": str(data)}


def leave_word(data: Path, env: dict[str, str]) -> None:
    """Where the site and its broker are, for commands beside it: their shell does not know."""
    word = {"url": env["COACHDESK_URL"], "broker": env["COACHDESK_BROKER_URL"]}
    fresh = data / "running.json.new"
    fresh.write_text(json.dumps(word))
    fresh.replace(data / RUNNING.name)


def manage(*words: str, env: dict[str, str]) -> None:
    done = subprocess.run([sys.executable, "manage.py", *words], env=env, cwd=CHECKOUT)
    if done.returncode:
        sys.exit(f"manage.py {words[0]} failed; what it said stands above. No data was changed.")


def health(address: str, port: int) -> dict[str, Any]:
    """What /health/ready says, or an empty answer while nobody listens."""
    try:
        with urllib.request.urlopen(f"http://{address}:{port}/health/ready", timeout=5) as answer:
            return dict(json.load(answer))
    except urllib.error.HTTPError as error:
        return dict(json.load(error))
    except (OSError, ValueError):
        return {}


def wait_until_ready(children: list[Child], address: str, port: int, logs: Path) -> None:
    until = time.monotonic() + READY_SECONDS
    answer: dict[str, Any] = {}
    while time.monotonic() < until:
        for child in children:
            if child.has_ended:
                sys.exit(f"{child.name} ended at once. Its words: {logs / child.name}.log")
        answer = health(address, port)
        if answer.get("status") == "ok":
            return
        time.sleep(0.15)
    sys.exit(f"Not ready after {READY_SECONDS} s: {answer or 'no answer'}. Logs: {logs}")


def watch(children: list[Child], start: Any) -> None:
    """Start again what falls over; a part that keeps falling is started at most once in 5 s."""
    started = {child.name: time.monotonic() for child in children}
    while True:
        time.sleep(0.5)
        for child in children:
            if not child.has_ended or time.monotonic() - started[child.name] < 5:
                continue
            if child.name == "demo":
                continue
            print(f"{child.name} ended; starting it again", flush=True)
            started[child.name] = time.monotonic()
            start(child)


def stop_on_signal(number: int, frame: Any) -> None:
    raise KeyboardInterrupt


def main() -> int:
    options = arguments()
    refuse_open_demo(options)
    restrict_new_files()
    data = options.data.resolve()
    lock = hold(data)
    refuse_taken_port(options.address, options.port)
    for number in (signal.SIGTERM, signal.SIGINT):  # also where a shell had SIGINT ignored
        signal.signal(number, stop_on_signal)
    run_folder = Path(tempfile.mkdtemp(prefix="coachdesk-"))  # short: a socket path has 107 bytes
    url = f"http://localhost:{options.port}"
    env = environment(data, run_folder / "valkey", url)
    logs = data / "logs"
    children: list[Child] = []

    def start(child: Child) -> None:
        child.start(log=logs / f"{child.name}.log", environment=env)

    try:
        broker = parts.valkey(run_folder / "valkey", data)
        children.append(broker)
        start(broker)
        manage("upgrade", "--verbosity", "0", env=env)
        manage("collectstatic", "--no-input", "--verbosity", "0", env=env)
        for child in [parts.web(options.address, options.port), *parts.background(data)]:
            children.append(child)
            start(child)
        leave_word(data, env)
        wait_until_ready(children, options.address, options.port, logs)
        greet(options, url, env, data)
        if not options.no_demo:
            children.append(parts.demo())
            start(children[-1])
        watch(children, start)
    except KeyboardInterrupt:
        print("\nStopping", flush=True)
    finally:
        for number in (signal.SIGTERM, signal.SIGINT):  # a second press must not leave parts behind
            signal.signal(number, signal.SIG_IGN)
        end_all(children)
        shutil.rmtree(run_folder, ignore_errors=True)
        lock.close()
    return 0


def greet(options: argparse.Namespace, url: str, env: dict[str, str], data: Path) -> None:
    print(f"\nCoachdesk is ready: {url}\n", flush=True)
    if options.no_demo:
        print("Make the first club: .venv/bin/python manage.py found_club --help")
    else:
        manage("demo", "--people", env=env)
    print(f"\nData and logs: {data}    Stop: Ctrl-C", flush=True)
