"""`steelyard check FILE`: a judged check in words, kept as a record where that is asked for."""

import argparse
import hashlib
import json
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from steelyard.cli import files
from steelyard.cli.answers import answer_lines, bound, trial_lines
from steelyard.cli.folder import folder_argument
from steelyard.cli.sentences import bar, findings, line_name, mark, wrapped
from steelyard.desk import torque_in
from steelyard.words import cautions, say

if TYPE_CHECKING:
    from steelyard.desk import JudgedCheck, JudgedPoint

__all__ = ["answer", "arguments", "report"]

EXIT = {"in": 0, "no-limit": 0, "out": 10, "cant-tell": 11}
PULL_OUTSIDE = "pull-outside"
LEAST_SHARE = 0.5  # percent of the variance below which a line is not printed; JSON has them all


class Kept(NamedTuple):
    """A record that was kept: its number, its digest, the folder of its workshop.

    is_new: it was not there before.
    """

    record: int
    digest: str
    folder: Path
    is_new: bool


def arguments(parser: argparse.ArgumentParser) -> None:
    """The options of this part."""
    files.arguments(parser)
    parser.add_argument("--keep", action="store_true", help=say("option-keep"))
    folder_argument(parser)


def answer(read: argparse.Namespace) -> int:
    """Judge the file, keep it where that is asked for, print, return the exit status of the verdict."""
    from steelyard.desk import check_content, judge_check, judge_left, turns_content

    file = files.read_file(read.file)
    judged = judge_check(file)
    left = judge_left(judged)
    kept = _keep(file, read.data) if read.keep else None
    if read.json:
        record = {"record": {"number": kept.record, "digest": kept.digest}} if kept else {}
        content = check_content(judged) | turns_content(judged, left) | record
        print(json.dumps(content, indent=2, ensure_ascii=False, allow_nan=False))
    else:
        print("\n".join(wrapped((*report(judged), *adjusted_lines(judged, left)))))
        if kept:
            print(f"\n{say('check-kept' if kept.is_new else 'check-kept-before', **kept._asdict())}")
    return EXIT[(left or judged).verdict]


def adjusted_lines(judged: "JudgedCheck", left: "JudgedCheck | None") -> Iterator[str]:
    """What a file with turns adds: the turns, and the check as left; nothing where there was no turn."""
    turns = judged.form.turns
    if not turns:
        return
    said = ", ".join(f"{turn.turns} {say(f'way-{turn.way}')}" for turn in turns if turn.turns is not None)
    is_locked = turns[-1].is_locked
    yield ""
    yield say("check-adjusted-locked" if is_locked else "check-adjusted", turns=said)
    yield ""
    if left is None:
        yield say("check-not-left")
    else:
        yield say("check-left")
        yield from report(left)


def _keep(file: bytes, data: Path | None) -> Kept:
    """Keep a check in the workshop, unless a record says the same already. Raises InputRefused,
    StoreTrouble."""
    from steelyard.bootstrap import find_folder, workshop
    from steelyard.desk import record_body, record_file, same_record

    folder = find_folder(data)
    with workshop(folder) as opened:
        token = f"file-{hashlib.sha256(file).hexdigest()}"
        acting = opened.acting(device=say("device-command-line"), submission=token)
        same = same_record(acting, file)
        record = record_file(acting, file) if same is None else same
        return Kept(record, record_body(opened.ledger, record)["closed"]["digest"], folder, same is None)


def report(judged: "JudgedCheck") -> Iterator[str]:
    """The whole check in lines of text."""
    yield from _head(judged)
    yield ""
    yield from _verdict(judged)
    for point in judged.points:
        yield ""
        yield from _point(judged, point)
    yield ""
    yield say("section-pattern")
    yield from findings(judged.pattern.findings)
    for direction, line in judged.pattern.lines.items():
        level = say(
            "level-line",
            direction=direction,
            level=line.level_percent,
            level_u=line.level_expanded_percent,
            slope=line.slope_percent,
            slope_u=line.slope_expanded_percent,
        )
        yield f"  {level}"
    yield ""
    yield say("section-doubts")
    yield from findings(judged.doubts)
    if judged.has_hung_weight:
        yield ""
        yield say("section-cautions")
        yield from (f"  {say(code)}" for code in cautions(signals=not judged.form.tool.kind.is_indicating))
    yield ""
    yield say("check-claims")


def _head(judged: "JudgedCheck") -> Iterator[str]:
    form, tool, limit = judged.form, judged.form.tool, judged.form.limit
    yield say("check-title", number=tool.number) + (f" — {form.title}" if form.title else "")
    make = f", {tool.make}" if tool.make else ""
    yield say(
        "check-tool",
        number=tool.number,
        kind=tool.kind,
        make=make,
        lowest=tool.lowest.typed,
        highest=tool.highest.typed,
    )
    number = judged.certificate
    paper = say("paper-traceable", certificate=number) if number else say("paper-none")
    yield say("check-kit", kit=form.kit.name, paper=paper)
    yield say("check-day", day=form.day.isoformat(), person=f", {form.person}" if form.person else "")
    of = say("of-full-scale" if limit.measure.startswith("full-scale") else "of-reading")
    yield say(
        "check-limit",
        percent=limit.percent,
        of=of,
        measure=say(f"measure-{limit.measure}"),
        source=limit.source,
    )
    rule = say(f"rule-{form.rule}")
    is_answered = any(point.result.threshold is not None for point in judged.points)
    yield say("check-rule", rule=say("of-answers", rule=rule) if is_answered else rule)


def _point(judged: "JudgedCheck", point: "JudgedPoint") -> Iterator[str]:
    result, form = point.result, point.ready.form
    verdict, found = result.judged.verdict, result.threshold
    yield say(
        "point-head",
        mark=mark(verdict),
        target=form.target.typed,
        direction=form.direction,
        bolts=(bound(found) if found is not None else "") or _bolts(judged, result.bolts_get_percent),
    )
    if found is not None:
        yield from answer_lines(point, found)
    else:
        yield from _numbers(point)
    if found is None or found.is_two_sided:
        yield from _deviation(point)
    limit = result.case.limit_percent
    if limit is not None:
        cause = _cause(point)
        yield say(
            "point-verdict",
            limit=limit,
            verdict=say(f"verdict-{verdict}"),
            cause=f" ({cause})" if cause else "",
        )
    yield from _pulls(point) if found is None else trial_lines(point)
    yield say("budget-head")
    for row in point.budget:
        if row.share_percent >= LEAST_SHARE:
            label = line_name(row.line)
            yield say("budget-row", label=label, bar=bar(row.share_percent), share=row.share_percent)


def _numbers(point: "JudgedPoint") -> Iterator[str]:
    """Mean and spread, first pull and trend."""
    result, form = point.result, point.ready.form
    unit, readings, shown = form.target.unit, result.readings, form.load is not None
    yield say(
        "point-numbers-shown" if shown else "point-numbers",
        mean=torque_in(readings.mean, form.target),
        s=torque_in(readings.s, form.target),
        unit=unit.symbol,
        n=readings.n,
        target=form.target.typed,
        true=torque_in(result.torques[0], form.target),
    )
    yield say(
        "point-order",
        first=torque_in(readings.first_error, form.target, signed=True),
        trend=torque_in(readings.trend, form.target, signed=True),
        unit=unit.symbol,
    )


def _bolts(judged: "JudgedCheck", get: float) -> str:
    """What bolts get, in percent of what was set or shown."""
    word = "bolts-same" if round(get, 1) == 0 else "bolts-more" if get > 0 else "bolts-less"
    than = say("than-shown" if judged.form.tool.kind.is_indicating else "than-set")
    return say(word, percent=abs(get), than=than)


def _cause(point: "JudgedPoint") -> str:
    """What stands behind a point's verdict; empty where it is simply in."""
    if point.result.threshold is not None and point.result.judged.cause == PULL_OUTSIDE:
        return say("outside-by-answer")
    widest = line_name(point.budget[0].line) if point.budget else ""
    return say(f"cause-{point.result.judged.cause}", widest=widest)


def _deviation(point: "JudgedPoint") -> Iterator[str]:
    iso, counted = point.result.iso, point.result.counted
    yield say(
        "point-iso",
        deviation=iso.percent,
        low=iso.low_percent,
        high=iso.high_percent,
        expanded=iso.expanded_percent,
        reach=iso.reach_percent,
        u=say("point-u", u=iso.u_percent) if iso.u_percent is not None else "",
    )
    if counted is not iso:
        yield say(
            "point-counted",
            measure=say(f"measure-{counted.measure}"),
            deviation=counted.percent,
            low=counted.low_percent,
            high=counted.high_percent,
            expanded=counted.expanded_percent,
        )


def _pulls(point: "JudgedPoint") -> Iterator[str]:
    """Every pull, struck-out ones with their reason."""
    target, shown = point.ready.form.target, point.ready.form.load is not None
    for i, read in enumerate(point.ready.pulls, 1):
        pull, remark = read.form.pull, ""
        if pull.struck_out is not None:
            remark = say("pull-struck", reason=pull.struck_out)
        elif pull.never_clicked:
            remark = say("pull-never")
        yield say(
            "point-pull",
            i=i,
            typed=pull.typed,
            torque=torque_in(read.shown_newton_metre if shown else read.torque_newton_metre, target),
            unit=target.unit.symbol,
            deviation="" if read.iso_percent is None else say("pull-deviation", percent=read.iso_percent),
            remark=remark,
        )


def _verdict(judged: "JudgedCheck") -> Iterator[str]:
    number = judged.form.tool.number
    yield say(
        "check-verdict", mark=mark(judged.verdict), number=number, verdict=say(f"verdict-{judged.verdict}")
    )
    if judged.deciding is not None:
        point, cause = judged.deciding, _cause(judged.deciding)
        code = "check-decides" if cause else "check-worst"
        yield say(code, point=point.ready.form.name, cause=cause, share=100 * point.used_up)
    if judged.restricted is not None:
        lowest, highest = (p.ready.form.target.typed for p in judged.restricted)
        yield say("check-restricted", lowest=lowest, highest=highest)
