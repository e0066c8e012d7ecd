"""A verdict in words and picture, from the content that was kept."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from steelyard.charts import Chart, Point, Series, deviation_chart
from steelyard.desk import (
    AS_FOUND,
    AS_LEFT,
    Body,
    ToolKind,
    content_unit,
    in_unit,
    is_estimated,
    standing_verdict,
)
from steelyard.desk.typed_table import as_shown
from steelyard.telling.marks import marked, marked_text, said_in_mark, texts_in
from steelyard.words import bolts_bound, bracket_lines, say

PHASES = (AS_FOUND, AS_LEFT)
DIRECTIONS = ("cw", "ccw")
PULL_OUTSIDE = "pull-outside"


@dataclass(frozen=True)
class JudgedPoint:
    """One point in words: what bolts get, the deviation, the verdict with its cause; of yes/no answers what
    they enclose.
    """

    name: str
    verdict: str
    bolts: str
    deviation: str
    cause: str
    lines: tuple[str, ...]


@dataclass(frozen=True)
class JudgedPhase:
    """One phase in words. is_standing: no later pull or set-up has made it stale."""

    phase: str
    verdict: str
    is_standing: bool
    points: tuple[JudgedPoint, ...]
    doubts: tuple[tuple[str, str], ...]
    restricted: tuple[str, str] | None


def judged_phases(body: Body, decimal_mark: str) -> tuple[tuple[JudgedPhase, ...], Chart | None]:
    """Every phase that was judged, and one picture of them all."""
    said: Mapping[str, Any] = body["verdicts"]
    phases = tuple(_phase(body, phase, decimal_mark) for phase in PHASES if phase in said)
    return phases, deviation_picture({p: said[p]["content"] for p in PHASES if p in said}, decimal_mark)


def deviation_picture(contents: Mapping[str, Mapping[str, Any]], decimal_mark: str) -> Chart | None:
    """Deviation against torque of each phase and direction; None where there is none, but bounds at most."""
    if not contents:
        return None
    first = next(iter(contents.values()))
    unit, measure = content_unit(first), say(f"measure-{first['limit']['measure']}")
    series = [
        Series(phase, direction, points)
        for phase, content in contents.items()
        for direction in DIRECTIONS
        if (points := _points(content["points"], direction, unit))
    ]
    if not series:
        return None
    return deviation_chart(series, unit=unit, measure=measure, decimal_mark=decimal_mark)


def _points(points: Sequence[Mapping[str, Any]], direction: str, unit: str) -> tuple[Point, ...]:
    drawn = [
        Point(
            target=in_unit(point["target_newton_metre"], unit),
            deviation_percent=point["counted"]["deviation_percent"],
            low_percent=point["counted"]["low_percent"],
            high_percent=point["counted"]["high_percent"],
            verdict=point["verdict"],
            limit_percent=float(point["limit_percent"]) if point["limit_percent"] is not None else None,
        )
        for point in points
        if point["direction"] == direction and is_estimated(point)
    ]
    return tuple(sorted(drawn, key=lambda point: point.target))


def _phase(body: Body, phase: str, mark: str) -> JudgedPhase:
    content = body["verdicts"][phase]["content"]
    restricted = content["restricted_range"]
    return JudgedPhase(
        phase=phase,
        verdict=content["verdict"],
        is_standing=standing_verdict(body, phase) is not None,
        points=tuple(_point(point, content, mark) for point in content["points"]),
        doubts=tuple((f["severity"], doubt_said(f["code"], f["facts"], mark)) for f in content["doubts"]),
        restricted=(restricted[0], restricted[1]) if restricted else None,
    )


def _point(point: Mapping[str, Any], content: Mapping[str, Any], mark: str) -> JudgedPoint:
    counted = point["counted"]
    widest = point["budget"][0] if point["budget"] else None
    name = say(f"line-{widest['line']}", detail=widest["detail"]) if widest else ""
    limit, threshold = point["limit_percent"], point.get("threshold")
    limited = "" if limit is None else say("judged-limit", limit=marked_text(limit, mark))
    return JudgedPoint(
        name=f"{point['target']} {say('direction-' + point['direction'])}",
        verdict=point["verdict"],
        bolts=bolts_get(point, content, mark),
        deviation=say(
            "judged-deviation",
            measure=say(f"measure-{counted['measure']}"),
            deviation=marked(counted["deviation_percent"], mark),
            low=marked(counted["low_percent"], mark),
            high=marked(counted["high_percent"], mark),
            limit=limited,
        )
        if is_estimated(point)
        else say("judged-bound", limit=limited),
        cause=cause_said(point, name),
        lines=bracket_lines(threshold, lambda value: marked(value, mark)) if threshold else (),
    )


def cause_said(point: Mapping[str, Any], widest: str) -> str:
    """What stands behind the verdict of a kept point; empty where it is simply in."""
    if point.get("threshold") is not None and point["cause"] == PULL_OUTSIDE:
        return say("outside-by-answer")
    return say(f"cause-{point['cause']}", widest=widest)


def doubt_said(code: str, facts: Mapping[str, Any], mark: str) -> str:
    """A finding as a page says it: the direction as a whole word, numbers in the reader's decimal mark, what
    was typed as it was.
    """
    said = {**facts, **{name: as_shown(facts[name]) for name in texts_in(facts)}}
    if said.get("direction") in DIRECTIONS:
        said["direction"] = say(f"direction-{facts['direction']}")
    if "point" in facts:
        said["point"] = marked_text(str(facts["point"]), mark)
    return said_in_mark(code, said, mark, as_typed=texts_in(said))


def bolts_get(point: Mapping[str, Any], content: Mapping[str, Any], mark: str) -> str:
    """What bolts get, in the big words; of answers of one side alone the bound."""
    if not is_estimated(point):
        return bolts_bound(point["threshold"], lambda value: marked(value, mark))
    get = marked(point["bolts_get_percent"], mark)
    word = "bolts-same" if round(get, 1) == 0 else "bolts-more" if get > 0 else "bolts-less"
    than = say("than-shown" if ToolKind(content["tool"]["kind"]).is_indicating else "than-set")
    return say(word, percent=abs(get), than=than)
