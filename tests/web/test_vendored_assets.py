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
PACKAGE = ROOT / "src/steelyard"
FOLDERS = ("web/static/vendor", "paper/fonts")
LOCKS: dict[str, dict[str, dict[str, Any]]] = {
    folder: json.loads((PACKAGE / folder / "vendor.lock").read_text("utf-8")) for folder in FOLDERS
}
EACH = [(folder, name) for folder, lock in LOCKS.items() for name in lock]
# Words that stand in the text of each licence (from memory), capitals aside.
WORDS = {
    "0BSD": "Permission to use, copy, modify, and/or distribute",
    "OFL-1.1": "SIL OPEN FONT LICENSE Version 1.1",
}


@pytest.mark.parametrize("folder", FOLDERS)
def test_nothing_lies_there_but_what_is_locked(folder: str) -> None:
    assert {path.name for path in (PACKAGE / folder).iterdir()} == {"vendor.lock", *LOCKS[folder]}


@pytest.mark.parametrize(("folder", "name"), EACH)
def test_each_file_is_the_one_that_was_locked(folder: str, name: str) -> None:
    content, locked = (PACKAGE / folder / name).read_bytes(), LOCKS[folder][name]
    assert (hashlib.sha256(content).hexdigest(), len(content)) == (locked["sha256"], locked["bytes"])


@pytest.mark.parametrize(("folder", "name"), EACH)
def test_each_file_has_its_licence_beside_it(folder: str, name: str) -> None:
    locked = LOCKS[folder][name]
    text = (PACKAGE / folder / locked["licence_file"]).read_text("utf-8")
    assert WORDS[locked["licence"]] in text


@pytest.mark.parametrize("folder", FOLDERS)
def test_the_lock_names_no_place_in_the_network(folder: str) -> None:
    assert "://" not in (PACKAGE / folder / "vendor.lock").read_text("utf-8")


def verdict(package: Path) -> tuple[int, str]:
    """Exit and words of the command that checks the folders in a package."""
    command = [sys.executable, str(ROOT / "tools/vendor.py"), "--package", str(package)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.stderr == ""
    return done.returncode, done.stdout


def test_the_command_finds_nothing_wrong_here() -> None:
    assert verdict(PACKAGE) == (0, f"{len(EACH)} files are what their lock says\n")


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


def swapped(folder: Path) -> None:
    (folder / "noto-sans-400.ttf").write_bytes((folder / "noto-sans-700.ttf").read_bytes())


@pytest.mark.parametrize(
    ("harm", "folder", "words"),
    [
        (changed, FOLDERS[0], "htmx.min.js: is not the file that was locked"),
        (removed, FOLDERS[0], "htmx.LICENSE.txt: stands in the lock, is not in the folder"),
        (added, FOLDERS[0], "other.js: is in the folder, not in the lock"),
        (added, FOLDERS[1], "other.js: is in the folder, not in the lock"),
        (swapped, FOLDERS[1], "noto-sans-400.ttf: is not the file that was locked"),
        (older, FOLDERS[0], "htmx.min.js: is not of htmx.org 4.0.1, which vendor.json asks for"),
    ],
)
def test_the_command_finds_harm(
    harm: Callable[[Path], None], folder: str, words: str, tmp_path: Path
) -> None:
    for each in FOLDERS:
        shutil.copytree(PACKAGE / each, tmp_path / each)
    harm(tmp_path / folder)
    assert verdict(tmp_path) == (1, words + "\n")
