"""`steelyard next FILE`: at each point of a check the most telling yes/no trial, or that it is enough."""

import argparse
import json
from collections.abc import Iterator
from typing import TYPE_CHECKING

from steelyard.cli.answers import bound, plain, threshold_lines
from steelyard.cli.files import arguments, read_file
from steelyard.cli.sentences import findings, mark, wrapped
from steelyard.words import bolts_estimate, cautions, say

if TYPE_CHECKING:
    from steelyard.desk import NextTrials, Trials

__all__ = ["answer", "arguments", "report"]

DONE, MORE = 0, 11


def answer(read: argparse.Namespace) -> int:
    """Look at the answers, print, return 0 where more would change nothing at any point, else 11."""
    from steelyard.desk import next_content, next_trials

    found = next_trials(read_file(read.file))
    if read.json:
        print(json.dumps(next_content(found), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        print("\n".join(wrapped(report(found))))
    return DONE if found.is_enough else MORE


def report(found: "NextTrials") -> Iterator[str]:
    """The answer in lines of text."""
    tool = found.form.tool
    yield say("next-title", number=tool.number, kit=found.form.kit.name)
    for point in found.points:
        yield ""
        yield from _point(point)
    yield ""
    yield say("next-ritual" if tool.kind.is_adjustable else "next-ritual-preset")
    yield ""
    yield say("section-cautions")
    yield from (f"  {say(code)}" for code in cautions(signals=True))


def _point(point: "Trials") -> Iterator[str]:
    facts = {"target": point.point.target.typed, "direction": point.point.direction}
    verdict = point.result.judged.verdict if point.result is not None else "cant-tell"
    yield say("next-point", mark=mark(verdict), said=_said(point), **facts)
    if point.threshold.count:
        yield from threshold_lines(point.threshold)
    if point.enough is not None and point.result is not None:
        expanded = point.result.counted.expanded_percent
        yield say("point-more", line=say(f"trials-enough-{point.enough}", expanded=expanded))
    yield _try(point)
    if point.doubts:
        yield from findings(point.doubts)


def _said(point: "Trials") -> str:
    found = point.threshold
    if not found.count:
        return say("next-nothing-yet")
    if point.low_percent is None or point.high_percent is None or not found.is_two_sided:
        return bound(found)
    return bolts_estimate(found.percent, point.low_percent, point.high_percent, plain)


def _try(point: "Trials") -> str:
    following = point.next
    if following is None:
        return say("next-none")
    return say(
        "next-try" if point.enough is None else "next-try-all-the-same",
        load=following.load,
        at=f" {say('trials-at', at=following.at)}" if following.at else "",
        kilogram=following.kilogram,
        set=following.set_typed,
        level=following.level_percent,
    )
