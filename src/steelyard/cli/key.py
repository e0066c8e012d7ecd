"""`steelyard key …`: the workshop's key: shown, printed, copied, brought back, made anew; keys of others."""

import argparse
import sys
from getpass import getpass
from pathlib import Path
from typing import TYPE_CHECKING

from steelyard.cli.files import read_file
from steelyard.cli.folder import folder_argument, opened
from steelyard.cli.new_file import hand_over
from steelyard.cli.sentences import wrapped
from steelyard.errors import InputRefused, NotFound
from steelyard.words import say

if TYPE_CHECKING:
    from collections.abc import Sequence

    from steelyard.bootstrap import Workshop

PAGES = ("a4", "letter")
LARGEST = 100_000
"""Of a file with a key or a pass phrase. [bytes]"""


def arguments(parser: argparse.ArgumentParser) -> None:
    """The tasks and their options."""
    tasks = parser.add_subparsers(dest="task", metavar="|".join(ANSWERS), required=True)
    made = {}
    for task in ANSWERS:
        purpose = say(f"key-task-{task}")
        made[task] = tasks.add_parser(task, help=purpose, description=purpose, allow_abbrev=False)
        folder_argument(made[task])
    made["sheet"].add_argument("--out", type=Path, metavar="FILE", required=True, help=say("option-out"))
    made["sheet"].add_argument("--page", choices=PAGES, help=say("option-page"))
    made["copy"].add_argument("--to", type=Path, metavar="DIR", help=say("option-key-copy-to"))
    made["back"].add_argument("file", type=Path, nargs="?", metavar="FILE", help=say("option-key-file"))
    for task in ("copy", "back"):
        made[task].add_argument("--phrase-file", type=Path, metavar="FILE", help=say("option-phrase-file"))
    made["new"].add_argument("--sure", action="store_true", help=say("option-key-sure"))
    made["accept"].add_argument("file", type=Path, metavar="FILE", help=say("option-proof-file"))
    made["accept"].add_argument("--fingerprint", required=True, metavar="F", help=say("option-fingerprint"))
    made["accept"].add_argument("--name", default="", metavar="NAME", help=say("option-key-name"))
    made["drop"].add_argument("--fingerprint", required=True, metavar="F", help=say("option-fingerprint"))


def answer(read: argparse.Namespace) -> int:
    """Do the task; returns 0."""
    with opened(read) as workshop:
        print("\n".join(wrapped(ANSWERS[read.task](workshop, read))))
    return 0


def show(workshop: "Workshop", read: argparse.Namespace) -> "Sequence[str]":
    """How the key stands, and the keys of others."""
    from steelyard.desk.signing import other_keys
    from steelyard.proof import fingerprint

    said = workshop.keyring.said()
    rows = [say(f"key-state-{said.state}")]
    if said.public:
        rows += [f"{say('key-fingerprint')}: {said.fingerprint}", f"{say('key-public')}: {said.public}"]
    rows.append(f"{say('key-place')} {said.place}")
    if not said.is_private:
        rows.append(say("key-not-private"))
    if said.laid:
        rows += [f"{say('key-laid-title')}: {say('key-laid-why')}", *said.laid]
    return rows + [
        f"{other['name']}: {fingerprint(other['public'])}" for other in other_keys(workshop.ledger)
    ]


def sheet(workshop: "Workshop", read: argparse.Namespace) -> "Sequence[str]":
    """The recovery sheet into a new file that nobody else reads."""
    from steelyard.desk import settings
    from steelyard.paper.recovery import recovery_sheet

    shop = settings(workshop.ledger)
    content = recovery_sheet(
        workshop.keyring.lines(),
        workshop.keyring.said().fingerprint,
        shop=shop.name,
        page=read.page or shop.paper,
        today=workshop.clock.now().date(),
        is_demo=workshop.is_demo,
    )
    hand_over(content, read.out, is_private=True)
    return [say("key-sheet-done", file=read.out)]


def copy(workshop: "Workshop", read: argparse.Namespace) -> "Sequence[str]":
    """A copy under a pass phrase."""
    phrase, again = asked_phrase(read.phrase_file, is_new=True)
    place = workshop.keyring.copy(read.to or workshop.backup_folder, phrase, again)
    return [say("key-copied", place=place)]


def back(workshop: "Workshop", read: argparse.Namespace) -> "Sequence[str]":
    """The key from a copy, or from the lines of its sheet on standard input."""
    if read.file is not None:
        phrase, _ = asked_phrase(read.phrase_file, is_new=False)
        aside = workshop.keyring.back_from_file(read_file(read.file, largest=LARGEST, field="FILE"), phrase)
    else:
        aside = workshop.keyring.back_from_lines(_typed_lines())
    return [say("notice-key-back"), *_laid(aside)]


def new(workshop: "Workshop", read: argparse.Namespace) -> "Sequence[str]":
    """Another key from now on."""
    if not read.sure:
        raise InputRefused("--sure", None, "want-new-key-sure")
    keyring = workshop.keyring
    aside = keyring.new(workshop.acting(device=say("device-command-line")), keyring.said().fingerprint)
    return [say("notice-key-new"), *_laid(aside)]


def accept(workshop: "Workshop", read: argparse.Namespace) -> "Sequence[str]":
    """The key that signed a file is known from now on."""
    from steelyard.desk.signing import accept_key
    from steelyard.proof import fingerprint, read_fingerprint, seen_in
    from steelyard.proof.holding import LARGEST_BYTES

    public = seen_in(read_file(read.file, largest=LARGEST_BYTES, field="FILE")).public
    if public is None or fingerprint(public) != read_fingerprint(read.fingerprint):
        raise InputRefused("--fingerprint", read.fingerprint, "want-that-fingerprint")
    accept_key(workshop.acting(device=say("device-command-line")), {"name": read.name}, public=public)
    return [say("notice-key-accepted")]


def drop(workshop: "Workshop", read: argparse.Namespace) -> "Sequence[str]":
    """A key of somebody else is known no longer."""
    from steelyard.desk.signing import drop_key, other_keys
    from steelyard.proof import fingerprint, read_fingerprint

    mark = read_fingerprint(read.fingerprint)
    for other in other_keys(workshop.ledger):
        if fingerprint(other["public"]) == mark:
            drop_key(workshop.acting(device=say("device-command-line")), other["public"])
            return [say("notice-key-dropped")]
    raise NotFound(mark)


def asked_phrase(file: Path | None, *, is_new: bool) -> tuple[str, str]:
    """A pass phrase, and how it was typed the second time: from a file, else asked for without showing it."""
    if file is not None:
        text = read_file(file, largest=LARGEST, field="FILE").decode(errors="replace")
        first = text.partition("\n")[0].rstrip("\r")
        return first, first
    first = getpass(say("key-ask-phrase"))
    return first, getpass(say("key-ask-again")) if is_new else first


def _laid(aside: Path | None) -> "Sequence[str]":
    """Where the key that was there lies now, and what becomes of it."""
    return [] if aside is None else [say("key-laid", place=aside), say("key-laid-why")]


def _typed_lines() -> str:
    """What stands on standard input up to the first empty line."""
    if sys.stdin.isatty():
        print(say("key-ask-lines"), file=sys.stderr)
    lines: list[str] = []
    for line in sys.stdin:
        if not line.strip() and lines:
            break
        lines.append(line)
    return "".join(lines)


ANSWERS = {
    "show": show,
    "sheet": sheet,
    "copy": copy,
    "back": back,
    "new": new,
    "accept": accept,
    "drop": drop,
}
