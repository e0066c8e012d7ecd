"""The yes/no answers of a point of a sealed record: grouped by load, what was struck out, the picture."""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from steelyard.charts import Chart, Found, Trial, trial_levels
from steelyard.desk import AS_FOUND, Body, PointFigures, ReadWhen, Sides, is_estimated, read_when
from steelyard.desk.typed_table import as_shown
from steelyard.telling.marks import marked
from steelyard.words import answer_said, as_set, say

Numbered = tuple[int, Mapping[str, Any]]


@dataclass(frozen=True)
class AnswerRow:
    """Every answer to one load at one setting. hung: its pieces, each of which stays on one line."""

    hung: tuple[str, ...]
    torque: str
    level: str
    answers: tuple[str, ...]


@dataclass(frozen=True)
class StruckAnswers:
    """Answers that were struck out for one reason between the same turns. when: then, and why."""

    when: str
    rows: tuple[AnswerRow, ...]


@dataclass(frozen=True)
class AnswersWords:
    """A point's answers, each once. rows: those that stand, by rising level."""

    head: tuple[str, ...]
    rows: tuple[AnswerRow, ...]
    struck: tuple[StruckAnswers, ...]
    drawn: Chart


def answers_words(
    body: Body, phase: str, point: Mapping[str, Any], figures: PointFigures, mark: str
) -> AnswersWords:
    """The answers of a judged point, numbered in the order they were given."""
    numbered = list(enumerate(point["pulls"], 1))
    stand = [(i, pull) for i, pull in numbered if pull["struck_out"] is None]
    head = (
        say("record-answer-hung"),
        say("record-answer-torque", unit=figures.unit),
        say("record-answer-level"),
        say("record-answer-said"),
    )
    rows = _rows(sorted(stand, key=lambda one: one[1]["torque_newton_metre"] / _set(one)), figures, mark)
    when = read_when(body, phase, target=point["target"], direction=point["direction"])
    struck = _struck(numbered, when, phase, figures, mark)
    return AnswersWords(head, tuple(rows), tuple(struck), _drawn(point, mark))


def _set(one: Numbered) -> float:
    return float(one[1]["shown_newton_metre"])


def _rows(numbered: Iterable[Numbered], figures: PointFigures, mark: str) -> Iterator[AnswerRow]:
    """Grouped by load, setting and mark, each where it came first."""
    groups: dict[tuple[str, str, float], list[Numbered]] = {}
    for i, pull in numbered:
        more = as_shown(as_set(set_to=pull.get("set"), at=pull.get("at")))
        groups.setdefault((as_shown(pull["typed"]), more, figures.pulls[i - 1]), []).append((i, pull))
    for (typed, more, torque), group in groups.items():
        level = 100 * (group[0][1]["torque_newton_metre"] / _set(group[0]) - 1)
        yield AnswerRow(
            hung=tuple((f"{typed}, {more}" if more else typed).split()),
            torque=f"{marked(torque, mark):.{figures.places}f}",
            level=say("pull-deviation", percent=marked(level, mark)),
            answers=tuple(_said(group)),
        )


def _said(group: Sequence[Numbered]) -> Iterator[str]:
    """Each answer that was given, how often, and which of them all."""
    answers: dict[str, list[int]] = {}
    for i, pull in sorted(group, key=lambda one: one[0]):
        said = answer_said(clicked=pull.get("clicked"), never=pull["never_clicked"])
        answers.setdefault(said, []).append(i)
    for said, which in answers.items():
        numbers = ", ".join(map(str, which))
        code = "record-answered-times" if len(which) > 1 else "record-answered-once"
        yield say(code, said=said, numbers=numbers, **({"count": len(which)} if len(which) > 1 else {}))


def _struck(
    numbered: Sequence[Numbered], when: Sequence[ReadWhen], phase: str, figures: PointFigures, mark: str
) -> Iterator[StruckAnswers]:
    struck = [
        (then, one) for one, then in zip(numbered, when, strict=True) if one[1]["struck_out"] is not None
    ]
    reasons = groupby(struck, key=lambda pair: (pair[0], pair[1][1]["struck_out"]))
    for (then, reason), pairs in reasons:
        said = say("record-answers-struck", when=_when(then, phase), reason=reason)
        yield StruckAnswers(said, tuple(_rows((one for _, one in pairs), figures, mark)))


def _when(then: ReadWhen, phase: str) -> str:
    if phase == AS_FOUND or not (then.turns or then.is_locked):
        return say(f"phase-{phase}")
    return say("record-after-lock") if then.is_locked else say("record-after-turn", turn=then.turns)


def _drawn(point: Mapping[str, Any], mark: str) -> Chart:
    """The answers that stand, over the level they were given at."""
    threshold, counted = point["threshold"], [p for p in point["pulls"] if p["counted"]]
    drawn = []
    for pull in counted:
        low, high = pull["between_percent"]
        ends = (-math.inf if low is None else low, math.inf if high is None else high)
        drawn.append(Trial(*ends, as_shown(pull["typed"])))
    low, high = threshold["bracket_percent"]
    estimate = (threshold["low_percent"], threshold["percent"], threshold["high_percent"])
    found = Found(
        bracket_percent=(low, high) if threshold["sides"] == Sides.SEPARATED else None,
        estimate_percent=estimate if is_estimated(point) else None,
    )
    return trial_levels(drawn, found, decimal_mark=mark)
