"""A table that comes in while the program is killed, and long tables: all or nothing, in little memory."""

import subprocess
import sys
from pathlib import Path

import pytest

from faults.programs import ENVIRONMENT, run_script
from steelyard.bootstrap import workshop
from steelyard.store import SqlLedger, verify_ledger

HEAD = "number,kind,lowest,highest,unit,limit.published,notes"
ONLY_LINUX = pytest.mark.skipif(not Path("/proc/self/status").exists(), reason="measured by the system")
MOST_MB = 160
"""Of the whole program, while it tries a long table."""
MEASURED = """
import re, sys
from pathlib import Path
from steelyard.bootstrap import existing_workshop
from steelyard.bootstrap.taking_in import try_table
from steelyard.sheets.fates_file import fates_file
folder, table, fates = map(Path, sys.argv[1:])
with existing_workshop(folder) as workshop, fates_file(fates) as each:
    tried = try_table(workshop.acting(), table, each=each)
    (peak,) = re.findall(r"VmHWM:\\s*(\\d+) kB", Path("/proc/self/status").read_text())
    print(tried.tally.new, tried.tally.refused, workshop.ledger.head().number, int(peak) / 1024)
"""


def listed(path: Path, count: int, *, bad_every: int = 0) -> Path:
    """A list of tools; every so many rows have a range that cannot be read."""
    with path.open("w", encoding="utf-8") as file:
        file.write(f"{HEAD}\n")
        for i in range(count):
            highest = "much" if bad_every and i % bad_every == 0 else str(60 + i % 400)
            file.write(f"T-{i:06d},click-preset,20,{highest},N·m,iso-6789-1-2017,engine shop {i}\n")
    return path


def made(folder: Path) -> Path:
    with workshop(folder):
        return folder


def test_killed_in_the_middle_the_ledger_is_as_before(tmp_path: Path) -> None:
    folder, table = made(tmp_path / "shop"), listed(tmp_path / "rack.csv", 2500)
    program = [
        sys.executable,
        "-W",
        "error",
        str(Path(__file__).parent / "importer.py"),
        str(folder),
        str(table),
    ]
    with subprocess.Popen(program, stdout=subprocess.PIPE, text=True, env=ENVIRONMENT) as importer:
        assert importer.stdout is not None
        for _ in range(2):
            assert importer.stdout.readline().startswith("written")
        importer.kill()
    with workshop(folder) as opened:
        assert isinstance(opened.ledger, SqlLedger)
        assert opened.ledger.head().number == 0
        assert verify_ledger(opened.ledger).is_whole
    subprocess.run(program, check=True, env=ENVIRONMENT, capture_output=True)
    with workshop(folder) as opened:
        assert isinstance(opened.ledger, SqlLedger)
        assert opened.ledger.head().number == 2500
        assert verify_ledger(opened.ledger).is_whole


def tries_a_long_table(tmp_path: Path, count: int, bad: int) -> None:
    folder = made(tmp_path / "shop")
    table = listed(tmp_path / "rack.csv", count, bad_every=count // bad)
    fates = tmp_path / "fates.csv"
    new, refused, head, peak = run_script(MEASURED, str(folder), str(table), str(fates)).split()
    assert (int(new), int(refused), int(head)) == (count - bad, bad, 0)
    rows = fates.read_text("utf-8-sig").splitlines()
    assert len(rows) == count + 1
    assert all(",refused," in row and ",highest," in row and "much" in row for row in rows[1 : bad + 1])
    assert all(",will be added," in row for row in rows[bad + 1 :])
    assert float(peak) < MOST_MB


@ONLY_LINUX
def test_every_refused_row_of_five_thousand_is_listed_and_nothing_kept(tmp_path: Path) -> None:
    tries_a_long_table(tmp_path, 5000, 50)


@ONLY_LINUX
@pytest.mark.long
def test_every_refused_row_of_a_hundred_thousand_is_listed_and_nothing_kept(tmp_path: Path) -> None:
    tries_a_long_table(tmp_path, 100_000, 1000)
