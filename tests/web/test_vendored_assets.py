"""Other people's files in the package: each one locked, licensed and untouched, and nothing beside them."""

import hashlib
import json
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parent.parent.parent
VENDOR = ROOT / "src/steelyard/web/static/vendor"
LOCK: dict[str, dict[str, Any]] = json.loads((VENDOR / "vendor.lock").read_text("utf-8"))
# Words that stand in the text of each licence (from memory).
WORDS = {
    "0BSD": "Permission to use, copy, modify, and/or distribute",
    "OFL-1.1": "SIL OPEN FONT LICENSE Version 1.1",
}


def test_nothing_lies_there_but_what_is_locked() -> None:
    assert {path.name for path in VENDOR.iterdir()} == {"vendor.lock", *LOCK}


@pytest.mark.parametrize("name", LOCK)
def test_each_file_is_the_one_that_was_locked(name: str) -> None:
    content = (VENDOR / name).read_bytes()
    assert (hashlib.sha256(content).hexdigest(), len(content)) == (LOCK[name]["sha256"], LOCK[name]["bytes"])


@pytest.mark.parametrize("name", LOCK)
def test_each_file_has_its_licence_beside_it(name: str) -> None:
    text = (VENDOR / LOCK[name]["licence_file"]).read_text("utf-8")
    assert WORDS[LOCK[name]["licence"]] in text


def test_the_lock_names_no_place_in_the_network() -> None:
    assert "://" not in (VENDOR / "vendor.lock").read_text("utf-8")


def verdict(folder: Path) -> tuple[int, str]:
    """Exit and words of the command that checks a folder."""
    command = [sys.executable, str(ROOT / "tools/vendor.py"), "--folder", str(folder)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.stderr == ""
    return done.returncode, done.stdout


def test_the_command_finds_nothing_wrong_here() -> None:
    assert verdict(VENDOR) == (0, f"{len(LOCK)} files are what their lock says\n")


def changed(folder: Path) -> None:
    with (folder / "htmx.min.js").open("ab") as file:
        file.write(b"\n")


def removed(folder: Path) -> None:
    (folder / "htmx.LICENSE.txt").unlink()


def added(folder: Path) -> None:
    (folder / "other.js").write_text("", "utf-8")


def older(folder: Path) -> None:
    path = folder / "vendor.lock"
    lock = json.loads(path.read_text("utf-8"))
    lock["htmx.min.js"]["version"] = "4.0.0"
    path.write_text(json.dumps(lock), "utf-8")


@pytest.mark.parametrize(
    ("harm", "words"),
    [
        (changed, "htmx.min.js: is not the file that was locked"),
        (removed, "htmx.LICENSE.txt: stands in the lock, is not in the folder"),
        (added, "other.js: is in the folder, not in the lock"),
        (older, "htmx.min.js: is not of htmx.org 4.0.1, which vendor.json asks for"),
    ],
)
def test_the_command_finds_harm(harm: Callable[[Path], None], words: str, tmp_path: Path) -> None:
    copy = tmp_path / "vendor"
    shutil.copytree(VENDOR, copy)
    harm(copy)
    assert verdict(copy) == (1, words + "\n")
