"""Whoever is killed while a whole workshop comes in leaves an empty folder; the next one brings it whole.

The moments are drawn from a seed; SIGKILL leaves the program no time to tidy up.
"""

import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from steelyard.bootstrap import LEDGER_FILE, existing_workshop, take_in_workshop, workshop, workshop_zip
from steelyard.desk.ports import Head
from steelyard.errors import NotFound
from store.entries import STAMP, tool

SEED = 20261125
ENTRIES = 3_000
SHORT, FULL = 3, 60
TAKING = """
import sys
from pathlib import Path
from steelyard.bootstrap import take_in_workshop
print("begun", flush=True)
take_in_workshop(Path(sys.argv[1]), Path(sys.argv[2]))
print("done", flush=True)
"""
"""Says when it begins and when it is done. Arguments: the zip, the folder."""


def whole(folder: Path) -> tuple[Path, Head]:
    """The zip of a workshop that takes a while to come in, and its head."""
    with workshop(folder / "old") as old:
        for start in range(0, ENTRIES, 1000):
            old.ledger.append([tool(f"t{i}", f"T-{i}") for i in range(start, start + 1000)], STAMP)
        (folder / "workshop.zip").write_bytes(b"".join(workshop_zip(old)))
        return folder / "workshop.zip", old.ledger.head()


def killed_after(zip_path: Path, folder: Path, seconds: float) -> bool:
    """Whether it was done before it was killed."""
    command = [sys.executable, "-c", TAKING, str(zip_path), str(folder)]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
    assert process.stdout is not None
    with process, process.stdout:
        assert process.stdout.readline() == "begun\n"
        time.sleep(seconds)
        process.send_signal(signal.SIGKILL)
        return process.stdout.read() == "done\n"


def killed_at_random_moments(tmp_path: Path, *, times: int) -> None:
    """Kill it again and again; raises where a folder is neither empty nor whole afterwards."""
    zip_path, head = whole(tmp_path)
    begun = time.monotonic()
    take_in_workshop(zip_path, tmp_path / "timed")
    usual = time.monotonic() - begun
    moments = random.Random(SEED)
    for i in range(times):
        folder = tmp_path / f"new-{i}"
        is_done = killed_after(zip_path, folder, moments.uniform(0, usual))
        if is_done or (folder / LEDGER_FILE).exists():
            holds_all(folder, head)
            continue
        with pytest.raises(NotFound), existing_workshop(folder):
            pass
        if not {path.name.split("-")[0] for path in folder.iterdir()} <= {"server.txt", f".{LEDGER_FILE}"}:
            raise AssertionError(f"left behind: {sorted(folder.iterdir())}")
        take_in_workshop(zip_path, folder)
        holds_all(folder, head)
        if sorted(path.name for path in folder.iterdir()) != [LEDGER_FILE, "server.txt"]:
            raise AssertionError(f"not cleared away: {sorted(folder.iterdir())}")


def holds_all(folder: Path, head: Head) -> None:
    """Raise where a workshop is not whole."""
    with existing_workshop(folder) as new:
        if new.ledger.head() != head or not new.verify().is_whole:
            raise AssertionError(f"{folder} is not whole")


@pytest.mark.skipif(sys.platform == "win32", reason="no SIGKILL there")
def test_a_killed_taking_leaves_the_folder_empty(tmp_path: Path) -> None:
    killed_at_random_moments(tmp_path, times=SHORT)


@pytest.mark.long
@pytest.mark.skipif(sys.platform == "win32", reason="no SIGKILL there")
def test_a_taking_killed_sixty_times_leaves_the_folder_empty(tmp_path: Path) -> None:
    killed_at_random_moments(tmp_path, times=FULL)
