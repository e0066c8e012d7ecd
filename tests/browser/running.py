"""A real server in a process of its own, on a free port, over a folder that is thrown away."""

import http.client
import os
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

SECONDS_TO_START = 60.0
SECONDS_TO_END = 15.0


@dataclass(frozen=True)
class Workshop:
    """A server that answers."""

    url: str  # where its pages begin, without a slash at the end
    folder: Path  # where its data lie
    process: subprocess.Popen[bytes]
    log: Path  # what it has printed


def free_port() -> int:
    """A port of this machine that nobody listens on."""
    with socket.create_server(("127.0.0.1", 0)) as listener:
        return int(listener.getsockname()[1])


@contextmanager
def running(command: str, folder: Path, *, port: int | None = None) -> Iterator[Workshop]:
    """Start `steelyard <command>` on a folder, wait for its first answer, end it.

    command: `serve` or `demo`.
    folder: for its data; its log and its home lie beside it.
    port: where it listens; a free one where it is left out.
    Raises AssertionError with all it printed when it does not answer, does not end when asked, or wrote a
    traceback.
    """
    port = port or free_port()
    log, home = (folder.with_name(f"{folder.name}.{what}") for what in ("log", "home"))
    home.mkdir(exist_ok=True)
    words = [
        sys.executable,
        "-m",
        "steelyard",
        command,
        "--data",
        str(folder),
        "--port",
        str(port),
        "--no-browser",
    ]
    surround = os.environ | {"HOME": str(home), "XDG_DATA_HOME": str(home), "PYTHONUNBUFFERED": "1"}
    with log.open("ab") as out, subprocess.Popen(words, stdout=out, stderr=out, env=surround) as process:
        try:
            wait_for_an_answer(process, port, log)
            yield Workshop(f"http://127.0.0.1:{port}", folder, process, log)
        finally:
            ended = end(process)
    printed = log.read_text("utf-8", "replace")
    assert ended, f"the server did not end within {SECONDS_TO_END:g} s:\n{printed}"
    assert "Traceback" not in printed, f"the server stumbled:\n{printed}"


def wait_for_an_answer(process: subprocess.Popen[bytes], port: int, log: Path) -> None:
    """Return when `GET /` is answered, whatever it is; raise with the log when the server ends or is slow."""
    until = time.monotonic() + SECONDS_TO_START
    while time.monotonic() < until and process.poll() is None:
        caller = http.client.HTTPConnection("127.0.0.1", port, timeout=SECONDS_TO_START)
        try:
            caller.request("GET", "/")
            caller.getresponse().read()
            return
        except OSError:
            time.sleep(0.05)
        finally:
            caller.close()
    raise AssertionError(f"the server does not answer:\n{log.read_text('utf-8', 'replace')}")


def end(process: subprocess.Popen[bytes]) -> bool:
    """Ask the server to end, then make it; true when asking was enough."""
    process.terminate()
    try:
        process.wait(SECONDS_TO_END)
    except subprocess.TimeoutExpired:
        process.kill()
        process.wait()
        return False
    return True
