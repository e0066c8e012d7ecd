"""A point known from yes/no answers, in lines of text: for a judged check and for the next trial."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from steelyard.desk import threshold_content, torque_in
from steelyard.words import answer_said, as_set, bolts_bound, bracket_lines, say

if TYPE_CHECKING:
    from steelyard.desk import JudgedPoint, Threshold


def plain(value: float) -> float:
    """A number as it is printed here."""
    return value


def bound(found: "Threshold") -> str:
    """What answers of one side alone say; empty where there is an estimate."""
    return bolts_bound(threshold_content(found), plain)


def threshold_lines(found: "Threshold") -> Iterator[str]:
    """Bracket and scatter."""
    for line in bracket_lines(threshold_content(found), plain):
        yield say("point-more", line=line)


def answer_lines(point: "JudgedPoint", found: "Threshold") -> Iterator[str]:
    """From how many answers it is known, where it trips, what they enclose."""
    target = point.ready.form.target
    if not found.is_two_sided:
        yield say("point-answers-bound", n=found.count)
        return
    mean = torque_in(point.result.readings.mean, target)
    yield say("point-answers", n=found.count, mean=mean, unit=target.unit.symbol, target=target.typed)
    yield from threshold_lines(found)


def trial_lines(point: "JudgedPoint") -> Iterator[str]:
    """Every answer: what was tried, its level, what hung, struck-out ones with their reason."""
    target = point.ready.form.target
    for i, read in enumerate(point.ready.pulls, 1):
        pull = read.form.pull
        more = as_set(set_to=read.form.set_typed, at=read.form.arm_typed)
        level = 100 * (read.torque_newton_metre / read.shown_newton_metre - 1)
        yield say(
            "point-trial",
            i=i,
            torque=torque_in(read.torque_newton_metre, target),
            unit=target.unit.symbol,
            level=say("pull-deviation", percent=level),
            said=answer_said(clicked=pull.clicked, never=pull.never_clicked),
            typed=pull.typed,
            more=f", {more}" if more else "",
            remark=say("pull-struck", reason=pull.struck_out) if pull.struck_out is not None else "",
        )
