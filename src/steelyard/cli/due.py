"""`steelyard due`: what the day asks for."""

import argparse
from collections.abc import Iterator
from typing import TYPE_CHECKING

from steelyard.cli.folder import folder_argument, opened
from steelyard.cli.sentences import wrapped
from steelyard.words import say

if TYPE_CHECKING:
    from steelyard.desk import Today

NEAR = {-1: "due-yesterday", 0: "due-now", 1: "due-tomorrow"}
"""What is said of a day close by, by the days until then."""


def arguments(parser: argparse.ArgumentParser) -> None:
    """The options of this part."""
    folder_argument(parser)


def answer(read: argparse.Namespace) -> int:
    """Look, print; returns 0 whatever is due."""
    from steelyard.desk import look_at_today

    with opened(read) as workshop:
        today = look_at_today(workshop.ledger, workshop.clock.now().date())
    print("\n".join(wrapped(report(today))))
    return 0


def report(today: "Today") -> Iterator[str]:
    """One line for each tool, check and paper, the most pressing first."""
    lines = [*_tools(today), *_checks(today), *_papers(today)]
    yield from lines or [say("due-nothing")]
    if today.more_due or today.more_checks or today.more_set_aside or today.more_papers:
        yield say("due-more")


def _tools(today: "Today") -> Iterator[str]:
    due = (*today.check_first, *today.overdue, *today.soon)
    for fallen in (tool for tool in due if tool.check_first):
        yield say("due-check-first", number=fallen.number, what=say(f"rack-state-{fallen.check_first}"))
    for tool in (tool for tool in due if not tool.check_first):
        code = NEAR.get(tool.days) or ("due-overdue" if tool.days < 0 else "due-soon")
        yield say(code, number=tool.number, day=tool.due.isoformat(), days=abs(tool.days))
    for aside in today.set_aside:
        note = say("rack-by-look", note=aside.note) if aside.is_damage else aside.note
        yield say("due-set-aside", number=aside.number, day=aside.since, note=note).rstrip()


def _checks(today: "Today") -> Iterator[str]:
    for check in today.open_checks:
        yield say("due-open-check", number=check.number, day=check.day, pulls=check.pulls)


def _papers(today: "Today") -> Iterator[str]:
    for paper in today.papers:
        code = "due-paper-over" if paper.days < 0 else "due-paper"
        yield say(code, name=paper.name, day=paper.due.isoformat())
