"""Small words that several commands print: findings, lines, bars, torques."""

import re
import shutil
import textwrap
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from steelyard.words import say

if TYPE_CHECKING:
    from steelyard.findings import Finding
    from steelyard.quantities import Line

BAR_WIDTH = 20
WIDEST = 100
HEADING = re.compile(r"\S+ {2,}|  \w+: ")


def wrapped(lines: "Iterable[str]") -> Iterator[str]:
    """Lines no wider than the terminal, continued under the first word after the heading gap."""
    width = min(WIDEST, shutil.get_terminal_size((WIDEST, 24)).columns)
    for line in lines:
        if len(line) <= width:
            yield line
            continue
        head = HEADING.match(line)
        indent = " " * (len(head[0]) if head else len(line) - len(line.lstrip()) + 2)
        yield from textwrap.wrap(line, width, subsequent_indent=indent, drop_whitespace=True)


def findings(found: "Iterable[Finding]") -> Iterator[str]:
    """One line for each finding, or that there are none."""
    rows = [
        say("finding-row", severity=say(f"severity-{f.severity}"), sentence=say(f.code, **f.facts))
        for f in found
    ]
    yield from rows or [f"  {say('no-doubts')}"]


def mark(verdict: str) -> str:
    """The sign in front of a verdict."""
    return say(f"mark-{verdict}")


def line_name(line: "Line") -> str:
    """A budget line in words."""
    return say(f"line-{line.name}", detail=line.detail)


def bar(percent: float) -> str:
    """A bar of at most 20 signs."""
    return "█" * max(1, round(percent / 100 * BAR_WIDTH))
