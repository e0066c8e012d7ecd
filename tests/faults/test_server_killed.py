"""The server is killed at random moments of a check: acknowledged pulls are there, the same page comes back.

The moments are drawn from a seed; SIGKILL leaves the program no time to tidy up.
"""

import http.client
import os
import random
import signal
import subprocess
import sys
import threading
import time
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import urlencode

import pytest

from browser.running import free_port
from desk.bench_shop import WRENCH
from steelyard.bootstrap import workshop
from steelyard.desk import (
    add_rig,
    add_tool,
    choose_kit,
    exercise,
    here,
    look_over,
    open_check,
    set_up,
)

SHORT, FULL = 6, 200
LONGEST_LIFE = 0.6  # after the first answer. [s]
PULLS, PLANNED = 99, 100  # one more is planned than is sent, so that the same page comes back to the end
ADAPTER = {"name": "A-1", "resolution": "0.1", "stated_of_reading": "0.5"}
SEED = 20261125


@dataclass
class Sender:
    """Sends one pull after another, and remembers what was acknowledged and which token had no answer."""

    port: int
    check: str
    acknowledged: list[str] = field(default_factory=list)
    unanswered: tuple[str, str] | None = None
    sent: int = 0

    def post(self, line: str, token: str) -> int:
        """Send one line; returns the status. Raises OSError or HTTPException where no answer comes."""
        link = http.client.HTTPConnection("127.0.0.1", self.port, timeout=20)
        try:
            body = urlencode({"line": line, "point": "0", "submission": token})
            origin = f"http://127.0.0.1:{self.port}"
            kind = "application/x-www-form-urlencoded"
            link.request(
                "POST", f"/bench/{self.check}/as-found", body, {"Origin": origin, "Content-Type": kind}
            )
            answer = link.getresponse()
            answer.read()
            return answer.status
        finally:
            link.close()

    def send_on(self) -> None:
        """Send until the server is gone."""
        while self.sent < PULLS:
            line, token = self.unanswered or (f"{50 + self.sent / 100:.2f}", f"{self.check} {self.sent}")
            self.unanswered = (line, token)
            try:
                status = self.post(line, token)
            except (OSError, http.client.HTTPException):
                return
            if status != 303:
                raise AssertionError(f"{line}: {status}")
            self.acknowledged.append(line)
            self.unanswered = None
            self.sent += 1


def a_check(folder: Path, number: str) -> str:
    """A check of a new tool with its kit set up and one long point."""
    with workshop(folder) as opened:
        acting = opened.acting()
        tool = add_tool(acting, {**WRENCH, "number": number})
        shelf = here(opened.ledger).transducers
        rig = shelf[0]["id"] if shelf else add_rig(acting, "transducer", ADAPTER)
        check = open_check(acting, tool, {"why": "due"})
        look_over(acting, check, {"damaged": "no"})
        choose_kit(acting, check, {"rig": rig, "plan": "own", "targets": "50", "pulls": str(PLANNED)})
        set_up(acting, check, {"axis": "vertical", "zeroed": "with-tool", "is_ready": "yes"})
        exercise(acting, check, {"exercise_pulls": "5"})
    return check


def started(folder: Path, port: int) -> subprocess.Popen[bytes]:
    """The server, once it answers."""
    words = ["serve", "--data", str(folder), "--port", str(port), "--no-browser"]
    home = folder.with_name(f"{folder.name}.home")
    home.mkdir(exist_ok=True)
    surround = os.environ | {"HOME": str(home), "XDG_DATA_HOME": str(home)}
    process = subprocess.Popen(
        [sys.executable, "-m", "steelyard", *words],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        env=surround,
    )
    for _ in range(600):
        if process.poll() is not None:
            raise AssertionError(f"the server ended with {process.returncode}")
        try:
            page_now(port, "/bench")
            return process
        except OSError:
            time.sleep(0.05)
    process.kill()
    raise AssertionError("the server never answered")


def page_now(port: int, path: str) -> tuple[int, str]:
    """Status and target of a page. Raises OSError where nobody answers."""
    link = http.client.HTTPConnection("127.0.0.1", port, timeout=20)
    try:
        link.request("GET", path)
        answer = link.getresponse()
        answer.read()
        return answer.status, answer.headers.get("location", "")
    finally:
        link.close()


def killed_at_random_moments(folder: Path, *, times: int) -> None:
    """Kill and start again; raises where a pull is lost or doubled, or another page comes back."""
    moments = random.Random(SEED)
    check = a_check(folder, "T-0")
    sender = Sender(free_port(), check)
    for i in range(1, times + 1):
        process = started(folder, sender.port)
        sending = threading.Thread(target=sender.send_on)
        try:
            if page_now(sender.port, f"/bench/{check}") != (303, f"/bench/{check}/as-found"):
                raise AssertionError("another page came back")
            sending.start()
            time.sleep(moments.uniform(0, LONGEST_LIFE))
        finally:
            process.send_signal(signal.SIGKILL)
            process.wait(20)
        sending.join(30)
        if sender.sent >= PULLS:
            pulls_are_all_there(folder, sender)
            check = a_check(folder, f"T-{i}")
            sender = Sender(sender.port, check)
    pulls_are_all_there(folder, sender)


def pulls_are_all_there(folder: Path, sender: Sender) -> None:
    """Every acknowledged pull once, in order; at most the one without an answer on top; the chain holds."""
    with workshop(folder) as opened:
        body = opened.ledger.document(f"check:{sender.check}")
        if body is None:
            raise AssertionError("the check is gone")
        kept = [pull["pull"]["reading"].removesuffix(" N·m") for pull in body["pulls"]]
        in_flight = [sender.unanswered[0]] if sender.unanswered else []
        if kept not in (sender.acknowledged, [*sender.acknowledged, *in_flight]):
            raise AssertionError(f"kept {kept}, acknowledged {sender.acknowledged}")
        if opened.verify().findings:
            raise AssertionError(f"the chain does not hold: {opened.verify().findings}")


def test_a_killed_server_loses_no_acknowledged_pull(tmp_path: Path) -> None:
    killed_at_random_moments(tmp_path / "shop", times=SHORT)


@pytest.mark.long
def test_a_server_killed_two_hundred_times_loses_no_acknowledged_pull(tmp_path: Path) -> None:
    killed_at_random_moments(tmp_path / "shop", times=FULL)
