"""An S3-compatible server for tests: rclone's, from its wheel, over a folder, on loopback."""

import os
import signal
import socket
import subprocess
import sysconfig
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from coachdesk.runner.children import dies_with_parent

RCLONE = Path(sysconfig.get_path("scripts")) / "rclone"
KEY, SECRET = "CLUBSTORAGEKEY000001", "a-secret-of-the-usual-length-of-forty-ch"
BUCKET = "clips"
START_SECONDS = 20


@contextmanager
def server(folder: Path, port: int) -> Iterator[str]:
    """Serve one bucket that lies in `folder`; its COACHDESK_STORAGE_URL. Ends with the block."""
    (folder / BUCKET).mkdir(parents=True)
    words = ["serve", "s3", "--auth-key", f"{KEY},{SECRET}", "--addr", f"127.0.0.1:{port}"]
    with (folder / "rclone.log").open("wb") as log:
        process = subprocess.Popen(
            [str(RCLONE), *words, "--config", os.devnull, str(folder)],
            stdout=log,
            stderr=subprocess.STDOUT,
            preexec_fn=dies_with_parent(os.getpid(), signal.SIGKILL),
        )
    try:
        _wait(process, port)
        yield f"s3://{KEY}:{SECRET}@127.0.0.1:{port}/{BUCKET}?tls=no"
    finally:
        process.kill()
        process.wait()


def _wait(process: subprocess.Popen[bytes], port: int) -> None:
    until = time.monotonic() + START_SECONDS
    while process.poll() is None and time.monotonic() < until:
        with socket.socket() as probe:
            if probe.connect_ex(("127.0.0.1", port)) == 0:
                return
        time.sleep(0.05)
    raise RuntimeError("rclone did not start; its words are in rclone.log")
