"""`steelyard adjust FILE`: the next turn of the adjuster, how sure, and whether it can mend the tool."""

import argparse
import json
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from steelyard.cli.files import arguments, read_file
from steelyard.cli.sentences import findings, mark, wrapped
from steelyard.words import say

if TYPE_CHECKING:
    from steelyard.desk import Advice, Guide, GuidedFile

__all__ = ["answer", "arguments", "report"]

DONE, CANNOT, MORE = 0, 10, 11


def answer(read: argparse.Namespace) -> int:
    """Look at the turns, print, return 0 where nothing is to be turned, 10 where no turn can mend it, else
    11."""
    from steelyard.desk import guide_file

    found = guide_file(read_file(read.file))
    if read.json:
        print(json.dumps(_content(found), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        print("\n".join(wrapped(report(found))))
    return _status(found.guide)


def _status(guide: "Guide | None") -> int:
    from steelyard.desk import Mending, TurnSort

    if guide is None or guide.is_locked:
        return DONE
    if guide.outlook.mending is Mending.CANNOT:
        return CANNOT
    is_good = guide.advice is not None and guide.advice.sort is TurnSort.STAY and not guide.unread
    return DONE if is_good else MORE


def _content(found: "GuidedFile") -> dict[str, Any]:
    from steelyard.desk import guide_content

    form = found.judged.form
    return {
        "steelyard_adjust": 1,
        "tool": form.tool.number,
        "kit": form.kit.name,
        "verdict_as_found": found.judged.verdict.value,
        "guide": guide_content(found.guide) if found.guide is not None else None,
    }


def report(found: "GuidedFile") -> Iterator[str]:
    """The guidance in lines of text."""
    form, guide = found.judged.form, found.guide
    yield say("adjust-title", number=form.tool.number, kit=form.kit.name)
    yield say("adjust-manual")
    yield ""
    if guide is None:
        yield say(found.unguided)
        return
    yield from _now(guide, by_trials=any(point.is_threshold for point in form.points))
    yield ""
    yield from _outlook(guide)
    yield ""
    yield say("adjust-points")
    for point in guide.points:
        yield say(
            "adjust-point-line",
            point=point.name,
            now=point.now_percent,
            aim=point.aim_percent,
            limit=point.limit_percent,
        )
    if form.turns:
        yield ""
        yield from _turned(found, guide)
    if guide.doubts and guide.is_locked:
        yield ""
        yield from findings(guide.doubts)


def _now(guide: "Guide", *, by_trials: bool) -> Iterator[str]:
    """What to do now, and how sure."""
    from steelyard.desk import TurnSort, cannot_code, stay_code

    if guide.question is not None and not guide.is_locked:
        way = say(f"chart-way-{guide.question.way}")
        yield say("adjust-now-question", turn=guide.question.turn, way=way)
        yield say("adjust-question-why", way=way)
        yield say("adjust-question-file", turn=guide.question.turn)
        return
    cannot = cannot_code(guide)
    if cannot:
        yield say(cannot, **_stretch(guide))
    if guide.is_locked and guide.shift_percent:
        yield say("adjust-now-done")
    elif guide.is_locked:
        yield say("adjust-now-left")
        yield say("adjust-after-lock")
    elif guide.advice is None:
        yield say("adjust-now-read-yes-no" if by_trials else "adjust-now-read")
    elif guide.advice.sort is TurnSort.STAY and guide.unread:
        yield say("adjust-now-stay-unread", points=", ".join(guide.unread))
    elif guide.advice.sort is TurnSort.STAY:
        yield say(stay_code(guide, is_turning=bool(guide.moved_percent)))
    else:
        yield from _turn(guide, guide.advice)


def _turn(guide: "Guide", advice: "Advice") -> Iterator[str]:
    from steelyard.desk import TurnSort, degrees, said_turns, sense_code, turn_code

    size = abs(advice.turns)
    yield say(turn_code(guide.way, size), turns=said_turns(size), degrees=degrees(size))
    yield say("adjust-sense-how")
    if advice.sort is TurnSort.TEST:
        yield say("adjust-test-turn")
    yield say(sense_code(advice), percent=min(100 * advice.sense_probability, 99))
    if advice.straight_turns is not None:
        ends = {"low": f"{advice.needed_low_turns:.2f}", "high": f"{advice.needed_high_turns:.2f}"}
        yield say("adjust-needed", **ends)
        if advice.is_shortened:
            yield say("adjust-shortened", straight=f"{abs(advice.straight_turns):.2f}")


def _outlook(guide: "Guide") -> Iterator[str]:
    from steelyard.desk import Mending

    seen = guide.outlook
    tightest = min(point.limit_percent for point in guide.points)
    said = {
        "best": f"{seen.best_percent:.1f}",
        "low": f"{tightest * seen.best_low_ratio:.1f}",
        "high": f"{tightest * seen.best_high_ratio:.1f}",
    }
    signs = {Mending.MENDABLE: "in", Mending.CANNOT: "out", Mending.NOT_KNOWN: "cant-tell"}
    yield f"{mark(signs[seen.mending])} {say(f'adjust-{seen.mending}', **said)}"
    if seen.mending is Mending.NOT_KNOWN and guide.lacking:
        yield say("adjust-lacking", points=", ".join(guide.lacking))
    if seen.mending is not Mending.CANNOT:
        return
    yield say("adjust-cannot-ways")
    stretch = _stretch(guide)
    yield say("adjust-stretch", **stretch) if stretch else say("adjust-stretch-none")
    if guide.both_percent is not None:
        yield say("adjust-both", best=f"{guide.both_percent:.1f}")


def _stretch(guide: "Guide") -> dict[str, str]:
    """The part of the range that can be brought in; empty where none."""
    stretch = guide.outlook.stretch
    if stretch is None:
        return {}
    low, high = stretch.low_newton_metre, stretch.high_newton_metre
    return {"low": f"{low:.3g}", "high": f"{high:.3g}", "unit": "N·m"}


def _turned(found: "GuidedFile", guide: "Guide") -> Iterator[str]:
    """Every turn with what it did, then the lock."""
    yield say("adjust-log")
    turned = [turn for turn in found.judged.form.turns if turn.turns is not None]
    for i, turn in enumerate(turned):
        within = guide.moved_within_percent[i]
        did = _changes(guide, guide.moved_percent[i], within) or say("adjust-did-nothing")
        yield say("adjust-turn-line", number=i + 1, turns=turn.turns, way=say(f"way-{turn.way}"), did=did)
    if guide.shift_percent:
        yield say(
            "record-lock-moved", points=_changes(guide, guide.shift_percent, guide.shift_within_percent)
        )


def _changes(guide: "Guide", changes: tuple[float | None, ...], within: tuple[float | None, ...] = ()) -> str:
    """What each point was moved by, with its ± where there is one."""
    said = []
    for i, (point, change) in enumerate(zip(guide.points, changes, strict=True)):
        if change is None:
            continue
        percent, reach = f"{round(change, 1) + 0.0:+.1f}", within[i] if within else None
        if reach is not None:
            percent = say("adjust-within", percent=percent, within=f"{reach:.1f}")
        said.append(say("adjust-did-row", point=point.name, percent=percent))
    return "; ".join(said)
