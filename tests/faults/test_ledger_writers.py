"""Two programs on one ledger, and programs that are killed: what was promised is there, and nothing twice."""

import random
import time
from pathlib import Path

import pytest

from faults.programs import start_writer
from faults.writer import drafts_of
from steelyard.store import open_ledger, verify_ledger
from store.entries import STAMP, tool

SEED = 20261125


def promised(output: str) -> dict[str, list[tuple[int, str]]]:
    """Number and digest of the entries of each token said to be written; a half line is no promise."""
    found = {}
    for line in output.splitlines(keepends=True):
        if line.endswith("\n"):
            token, *entries = line.split()
            found[token] = [(int(number), digest) for number, digest in (e.split(":") for e in entries)]
    return found


def two_writers(path: Path, count: int) -> None:
    with open_ledger(path) as ledger:
        ledger.append([tool("t1", "T-01")], STAMP)
        writers = [start_writer(path, name, count) for name in ("a", "b")]
        outputs = [writer.communicate(timeout=600)[0] for writer in writers]
        assert [writer.returncode for writer in writers] == [0, 0]
        written = [entry for output in outputs for row in promised(output).values() for entry in row]
        stored = {(entry.number, entry.digest) for entry in ledger.entries(after=1)}
        assert set(written) == stored
        assert len(written) == len(stored) == ledger.head().number - 1
        assert [entry.number for entry in ledger.entries()] == list(range(1, len(written) + 2))
        notes = [entry.payload["note"] for entry in ledger.entries(after=1)]
        assert len(set(notes)) == len(notes)
        assert verify_ledger(ledger).is_whole


def killed(path: Path, times: int) -> None:
    """Kill a writer at random moments; each next one goes on where it was."""
    chance = random.Random(SEED)
    with open_ledger(path) as ledger:
        ledger.append([tool("t1", "T-01")], STAMP)
    promises: dict[str, list[tuple[int, str]]] = {}
    for turn in range(times):
        writer = start_writer(path, f"w{turn}", 100_000)
        assert writer.stdout is not None
        first = writer.stdout.readline()
        time.sleep(chance.uniform(0, 0.1))
        writer.kill()
        output = first + writer.communicate(timeout=60)[0]
        promises |= promised(output)
        last = max(int(token.partition("-")[2]) for token in promised(output))
        with open_ledger(path) as ledger:
            stored = {(entry.number, entry.digest) for entry in ledger.entries()}
            assert {entry for row in promises.values() for entry in row} <= stored
            assert verify_ledger(ledger).is_whole
            in_flight, before = f"w{turn}-{last + 1}", ledger.head().number
            drafts = drafts_of(in_flight, last + 1)
            sent = [ledger.append(drafts, STAMP, submission=in_flight) for _ in range(2)]
            assert sent[0] == sent[1]
            assert sent[0][0].number <= before + 1
            assert ledger.head().number <= before + len(drafts)


def test_two_programs_write_without_a_gap_or_a_double(tmp_path: Path) -> None:
    two_writers(tmp_path / "ledger.sqlite3", 200)


@pytest.mark.long
def test_two_programs_write_a_thousand_times_each(tmp_path: Path) -> None:
    two_writers(tmp_path / "ledger.sqlite3", 1000)


def test_what_was_promised_outlives_a_kill(tmp_path: Path) -> None:
    killed(tmp_path / "ledger.sqlite3", 10)


@pytest.mark.long
def test_what_was_promised_outlives_two_hundred_kills(tmp_path: Path) -> None:
    killed(tmp_path / "ledger.sqlite3", 200)
