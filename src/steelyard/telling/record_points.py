"""The points of a sealed record in words and pictures, from the content that was kept."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from steelyard.charts import Chart, Share, budget_bars
from steelyard.desk import (
    AS_FOUND,
    AS_LEFT,
    Body,
    PointFigures,
    RecordView,
    deciding,
    is_estimated,
    point_figures,
    used_up_percent,
)
from steelyard.desk.typed_table import as_shown
from steelyard.telling.judged import bolts_get, cause_said, deviation_picture, doubt_said
from steelyard.telling.marks import marked, marked_text
from steelyard.telling.record_answers import AnswersWords, answers_words
from steelyard.words import bracket_lines, say

PHASES = (AS_FOUND, AS_LEFT)
LEAST_SHARE_PERCENT = 0.5
"""Below this a line of the budget is not drawn; JSON has them all."""
ESTIMATE = {
    "deviation": "deviation_percent",
    "low": "low_percent",
    "high": "high_percent",
    "expanded": "expanded_percent",
}


@dataclass(frozen=True)
class PullWords:
    """One pull as a row of a table. remark: why it does not count, empty where it does."""

    number: int
    torque: str
    deviation: str
    typed: str
    remark: str


@dataclass(frozen=True)
class PointWords:
    """A point: its head, sentences, pulls as a table or yes/no answers, what makes its ±.

    sources: of the ±, each with its share. decimal_mark: of their picture.
    """

    name: str
    verdict: str
    bolts: str
    verdict_line: str | None
    lines: tuple[str, ...]
    pull_caption: str
    pull_head: tuple[str, ...]
    pulls: tuple[PullWords, ...]
    answers: AnswersWords | None
    sources: tuple[Share, ...]
    decimal_mark: str

    @cached_property
    def budget(self) -> Chart | None:
        """The picture of the sources, drawn where it is asked for."""
        return budget_bars(self.sources, decimal_mark=self.decimal_mark) if self.sources else None


@dataclass(frozen=True)
class PhaseWords:
    """What one phase said. decided: at which point, and a restricted range, where there are such."""

    phase: str
    verdict: str
    points: tuple[PointWords, ...]
    decided: tuple[str, ...]
    left_out: tuple[str, ...]
    pattern: tuple[str, ...]
    doubts: tuple[tuple[str, str], ...]
    method: str


def phases(view: RecordView, decimal_mark: str) -> tuple[PhaseWords, ...]:
    """Every phase that was judged, in order."""
    said = view.body["verdicts"]
    return tuple(_phase(view.body, phase, decimal_mark) for phase in PHASES if phase in said)


def picture(view: RecordView, decimal_mark: str) -> Chart | None:
    """Deviation against torque as found and as left; None where nothing was judged."""
    said = view.body["verdicts"]
    return deviation_picture({p: said[p]["content"] for p in PHASES if p in said}, decimal_mark)


def _phase(body: Body, phase: str, mark: str) -> PhaseWords:
    content = body["verdicts"][phase]["content"]
    method = content["points"][0]["counted"]["method"]
    return PhaseWords(
        phase=phase,
        verdict=content["verdict"],
        points=tuple(_point(body, phase, point, mark) for point in content["points"]),
        decided=tuple(_decided(content)),
        left_out=tuple(_left_out(body, content)),
        pattern=tuple(_pattern(content, mark)),
        doubts=tuple((f["severity"], doubt_said(f["code"], f["facts"], mark)) for f in content["doubts"]),
        method=say("record-method", **{k: method[k] for k in ("version", "draws", "seed", "numpy")}),
    )


def _decided(content: Mapping[str, Any]) -> Iterator[str]:
    point = deciding(content)
    if point is not None:
        cause, code = _cause(point), "check-decides" if _cause(point) else "check-worst"
        yield say(code, point=name_of_point(point), cause=cause, share=used_up_percent(point)).strip()
    if content["restricted_range"]:
        lowest, highest = content["restricted_range"]
        yield say("check-restricted", lowest=lowest, highest=highest).strip()


def _left_out(body: Body, content: Mapping[str, Any]) -> Iterator[str]:
    """Planned points that could not be judged."""
    judged = {(point["target"], point["direction"]) for point in content["points"]}
    for point in body["setup"]["points"]:
        if (point["target"], point["direction"]) not in judged:
            direction = say(f"direction-{point['direction']}")
            yield say("record-not-judged", target=point["target"], direction=direction)


def _pattern(content: Mapping[str, Any], mark: str) -> Iterator[str]:
    yield from (doubt_said(finding["code"], finding["facts"], mark) for finding in content["pattern"])
    for direction, line in content["level_and_slope"].items():
        yield say(
            "level-line",
            direction=say(f"direction-{direction}"),
            level=marked(line["level_percent"], mark),
            level_u=marked(line["level_expanded_percent"], mark),
            slope=marked(line["slope_percent"], mark),
            slope_u=marked(line["slope_expanded_percent"], mark),
        )


def name_of_point(point: Mapping[str, Any]) -> str:
    """A point: target and direction."""
    return f"{point['target']} {say('direction-' + point['direction'])}"


def _point(body: Body, phase: str, point: Mapping[str, Any], mark: str) -> PointWords:
    content = body["verdicts"][phase]["content"]
    figures = point_figures(point, content)
    shown = "record-pull-shown" if figures.is_load_known else "record-pull-torque"
    by_answers = point.get("threshold") is not None
    return PointWords(
        name=name_of_point(point),
        verdict=point["verdict"],
        bolts=bolts_get(point, content, mark),
        verdict_line=_verdict_line(point, mark),
        lines=tuple(_lines(point, figures, mark)),
        pull_caption=say("record-answers" if by_answers else "record-pulls"),
        pull_head=(
            say("record-pull"),
            say(shown, unit=figures.unit),
            say("record-pull-deviation"),
            say("record-pull-typed"),
        ),
        pulls=() if by_answers else tuple(_pulls(point, figures, mark)),
        answers=answers_words(body, phase, point, figures, mark) if by_answers else None,
        sources=tuple(_sources(point)),
        decimal_mark=mark,
    )


def _verdict_line(point: Mapping[str, Any], mark: str) -> str | None:
    """Limit, verdict and its cause; None where no limit applies."""
    if point["limit_percent"] is None:
        return None
    cause = _cause(point)
    verdict = say(f"verdict-{point['verdict']}")
    limit = marked_text(point["limit_percent"], mark)
    return say("point-verdict", limit=limit, verdict=verdict, cause=f" ({cause})" if cause else "").strip()


def _cause(point: Mapping[str, Any]) -> str:
    widest = point["budget"][0] if point["budget"] else None
    return cause_said(point, line_name(widest) if widest else "")


def _lines(point: Mapping[str, Any], figures: PointFigures, mark: str) -> Iterator[str]:
    """Deviation with its interval, mean and spread, first pull and trend; of yes/no answers what they
    enclose.
    """
    threshold = point.get("threshold")
    if not is_estimated(point):
        yield say("point-answers-bound", n=threshold["answers"] if threshold else 0).strip()
        return
    iso, counted = point["iso"], point["counted"]
    u = iso["standard_uncertainty_percent"]
    yield say(
        "point-iso",
        **{short: marked(iso[key], mark) for short, key in ESTIMATE.items()},
        reach=marked(iso["reach_percent"], mark),
        u=say("point-u", u=marked(u, mark)) if u is not None else "",
    ).strip()
    if counted["measure"] != iso["measure"]:
        numbers = {short: marked(counted[key], mark) for short, key in ESTIMATE.items()}
        yield say("point-counted", measure=say(f"measure-{counted['measure']}"), **numbers).strip()
    if threshold is not None:
        yield from _threshold_lines(point, threshold, figures, mark)
        return
    code = "point-numbers-shown" if figures.is_load_known else "point-numbers"
    yield say(
        code,
        mean=_figure(figures.mean, figures, mark),
        s=_figure(figures.spread, figures, mark),
        unit=figures.unit,
        n=sum(pull["counted"] for pull in point["pulls"]),
        target=point["target"],
        true=_figure(figures.true, figures, mark),
    ).strip()
    yield say(
        "point-order",
        first=_figure(figures.first, figures, mark, sign="+"),
        trend=_figure(figures.trend, figures, mark, sign="+"),
        unit=figures.unit,
    ).strip()


def _threshold_lines(
    point: Mapping[str, Any], threshold: Mapping[str, Any], figures: PointFigures, mark: str
) -> Iterator[str]:
    yield say(
        "point-answers",
        n=threshold["answers"],
        mean=_figure(figures.mean, figures, mark),
        unit=figures.unit,
        target=point["target"],
    ).strip()
    yield from bracket_lines(threshold, lambda value: marked(value, mark))


def _pulls(point: Mapping[str, Any], figures: PointFigures, mark: str) -> Iterator[PullWords]:
    for i, (pull, torque) in enumerate(zip(point["pulls"], figures.pulls, strict=True), 1):
        alone = pull["iso_deviation_percent"]
        deviation = "" if alone is None else say("pull-deviation", percent=marked(alone, mark))
        said = _figure(torque, figures, mark), deviation, as_shown(pull["typed"])
        yield PullWords(i, *said, pull_remark(pull))


def pull_remark(pull: Mapping[str, Any]) -> str:
    """Why a kept pull does not count; empty where it does."""
    if pull["struck_out"] is not None:
        return say("pull-struck", reason=pull["struck_out"]).strip()
    return say("pull-never").strip() if pull["never_clicked"] else ""


def _sources(point: Mapping[str, Any]) -> Iterator[Share]:
    for row in point["budget"]:
        if row["share_percent"] >= LEAST_SHARE_PERCENT:
            yield Share(line_name(row), row["share_percent"])


def line_name(row: Mapping[str, Any]) -> str:
    """A line of the budget in words."""
    return say(f"line-{row['line']}", detail=row["detail"])


def _figure(value: float, figures: PointFigures, mark: str, *, sign: str = "") -> str:
    return f"{marked(value, mark):{sign}.{figures.places}f}"
