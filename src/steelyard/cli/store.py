"""`steelyard store …`: the ledger looked after: verified, its documents made anew, moved."""

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from steelyard.cli.folder import folder_argument, opened
from steelyard.cli.progress import stoppable_steps
from steelyard.cli.sentences import findings, wrapped
from steelyard.errors import InputRefused
from steelyard.words import say

if TYPE_CHECKING:
    from steelyard.bootstrap import Workshop

FOUND = 5


def arguments(parser: argparse.ArgumentParser) -> None:
    """The three tasks and their options."""
    tasks = parser.add_subparsers(dest="task", metavar="verify|rebuild|move", required=True)
    for task in ANSWERS:
        purpose = say(f"store-task-{task}")
        one = tasks.add_parser(task, help=purpose, description=purpose, allow_abbrev=False)
        folder_argument(one)
        if task == "verify":
            one.add_argument("--entry", type=int, metavar="N", help=say("option-entry"))
            one.add_argument("--digest", metavar="D", help=say("option-digest"))
        if task == "move":
            one.add_argument("to", type=Path, metavar="DIR", help=say("option-move-to"))


def answer(read: argparse.Namespace) -> int:
    """Do the task; returns 0, or 5 where the ledger is not what was written."""
    return ANSWERS[read.task](read)


def verify(read: argparse.Namespace) -> int:
    """Everything against everything, and against what was printed."""
    if (read.entry is None) != (read.digest is None):
        missing = "--entry" if read.entry is None else "--digest"
        raise InputRefused(missing, None, "want-entry-and-digest")
    with opened(read) as workshop:
        lines, is_whole = _verified(workshop, read)
    print("\n".join(wrapped(lines)))
    return 0 if is_whole else FOUND


def _verified(workshop: "Workshop", read: argparse.Namespace) -> tuple[list[str], bool]:
    lines = []
    cut = [] if read.entry is None else workshop.verify_against(read.entry, read.digest)
    with stoppable_steps() as steps:
        found = workshop.verify(steps)
    if not found.is_finished:
        raise KeyboardInterrupt
    if found.is_whole:
        head = workshop.ledger.head()
        lines.append(say("store-whole", count=found.entries))
        if head.number:
            lines.append(say("store-head", number=head.number, digest=head.digest))
    else:
        lines += [say("store-found", count=found.count), *findings(found.findings)]
        if found.count > len(found.findings):
            lines.append(say("store-found-more", count=found.count - len(found.findings)))
        lines.append(say("store-what-now"))
    if read.entry is not None:
        lines += findings(cut) if cut else [say("store-entry-there", number=read.entry)]
    return lines, found.is_whole and not cut


def rebuild(read: argparse.Namespace) -> int:
    """All documents anew from the entries."""
    with opened(read) as workshop:
        with stoppable_steps() as steps:
            is_finished = workshop.rebuild(steps)
        if not is_finished:
            raise KeyboardInterrupt
        print(say("store-rebuilt", count=workshop.ledger.head().number))
    return 0


def move(read: argparse.Namespace) -> int:
    """The ledger to another folder; the old one stays behind, set aside."""
    from steelyard.bootstrap import find_folder, move_workshop

    folder, to = find_folder(read.data), read.to.absolute()
    aside = move_workshop(folder, to)
    print(say("store-moved", to=to))
    print(say("store-moved-old", aside=aside))
    return 0


ANSWERS = {"verify": verify, "rebuild": rebuild, "move": move}
