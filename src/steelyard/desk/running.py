"""How a point stands while it is being read: quick figures for the page at the vice, marked approximate."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from steelyard.desk.cases import ReadPull, point_reference, read_pulls, ready_point
from steelyard.desk.hanging import (
    Hanging,
    coarse_step,
    hanging,
    heavy_doubts,
    known_load_doubts,
    mark_doubts,
    piece_doubts,
)
from steelyard.desk.point_doubts import unit_suspicion
from steelyard.desk.ports import Body
from steelyard.desk.typed_table import as_shown
from steelyard.desk.usual import exercise_after_lock, usual_exercise
from steelyard.evaluation import evaluate_point
from steelyard.findings import Finding, Severity
from steelyard.records import (
    AS_FOUND,
    CheckForm,
    HungKit,
    PointForm,
    TransducerKit,
    counted,
    pull_as_written,
    pulls_by_point,
    read_table,
)
from steelyard.tools import Measure

QUICK_DRAWS = 20_000
FEWEST = 2
LONG_PAUSE_SECONDS = 3600
FAR_OFF = 1.5  # times the target, or of it: no tool is out by as much, our choice
FOLLOWED_RATIO = 0.03  # above the pulls before: more than tools of this sort scatter, our choice


@dataclass(frozen=True)
class RunningPull:
    """One pull with what the kit makes of it.

    number: of its entry. loads: what hung, as typed; kilogram: in all, between the two where there are two;
    half_step_kilogram: half of what lies between them. None where nothing hung.
    clicked: the answer of a yes/no trial, None where it is none; set, at_mark: of it, as typed, None where as
    planned.
    """

    number: int
    typed: str
    torque_newton_metre: float
    shown_newton_metre: float
    iso_percent: float | None
    struck_out: str | None
    never_clicked: bool
    at: str
    loads: tuple[str, ...] = ()
    kilogram: float | None = None
    half_step_kilogram: float = 0.0
    clicked: bool | None = None
    set: str | None = None
    at_mark: str | None = None


@dataclass(frozen=True)
class Running:
    """A point as it stands.

    limit_percent: of the reading to either side, None where none applies.
    held: what the pulls are held against: the target, or the known torque where the tool shows it. [N m]
    low, high: between which a pull is inside the limit. [N m]
    deviation_percent, expanded_percent: ISO, approximate; None before two counted pulls.
    hanging: what hangs and should; None where nothing does.
    """

    point: PointForm
    pulls: tuple[RunningPull, ...]
    planned: int
    limit_percent: float | None
    held_newton_metre: float
    low_newton_metre: float | None
    high_newton_metre: float | None
    mean_newton_metre: float | None
    deviation_percent: float | None
    low_percent: float | None
    high_percent: float | None
    expanded_percent: float | None
    bolts_get_percent: float | None
    doubts: tuple[Finding, ...]
    hanging: Hanging | None = None

    @property
    def counted(self) -> int:
        """Pulls that count."""
        return sum(p.struck_out is None and not p.never_clicked for p in self.pulls)

    @property
    def last(self) -> RunningPull | None:
        """The pull read last."""
        return self.pulls[-1] if self.pulls else None

    @property
    def last_loads(self) -> tuple[str, ...]:
        """As typed: the loads between which it clicked last, or the one at the click; empty before that."""
        stand = (p for p in reversed(self.pulls) if p.struck_out is None and not p.never_clicked)
        clicked = (p.loads for p in stand if p.clicked is None)
        return next(clicked, ())


def running_point(body: Body, phase: str, point: int) -> Running:
    """A point of a check in hand, with the doubts that show at once.

    Source: docs/explanation/uncertainty.md; 20 000 draws in place of 1 350 000, for the display alone.
    """
    pulls = pulls_by_point(body, phase)[point]
    form = point_form(body, point, pulls)
    planned = form.points[0]
    reference, read = read_pulls(form, planned) if pulls else (None, ())
    shown = tuple(_running(pull, one) for pull, one in zip(pulls, read, strict=True))
    held = planned.target.base if planned.load is None else _known_torque(form, planned)
    limit = form.limit.percent_at(
        planned.target.base,
        maximum_newton_metre=form.tool.highest.base,
        is_main_direction=planned.direction == form.tool.directions[0],
    )
    low, high = inside_between(form, planned, held, float(limit)) if limit is not None else (None, None)
    figures = _figures(form, planned) if len(counted(pulls)) >= FEWEST else _NOTHING
    hangs = hanging(form, planned)
    doubts = [*_hung_doubts(form, planned, hangs, shown), *_doubts(body, form, phase, planned, shown)]
    if read and reference is not None and limit is not None and read[-1].form.pull.is_counted:
        facts = _facts(planned, shown)
        doubts += coarse_step(
            read[-1], reference, between=(low, high), limit_percent=float(limit), facts=facts
        )
    return Running(
        point=planned,
        pulls=shown,
        planned=int(body["setup"]["points"][point]["planned_pulls"]),
        limit_percent=float(limit) if limit is not None else None,
        held_newton_metre=held,
        low_newton_metre=low,
        high_newton_metre=high,
        **figures,
        doubts=tuple(doubts),
        hanging=hangs,
    )


def _known_torque(form: CheckForm, point: PointForm) -> float:
    """The torque of a load that is known beforehand. [N m]"""
    load = point.load
    return point_reference(form, point, point.target.base).torque_newton_metre(load.kilogram if load else 0.0)


def inside_between(form: CheckForm, point: PointForm, held: float, percent: float) -> tuple[float, float]:
    """Between which torques a pull is inside the limit, in the limit's own way of counting. [N m]

    Source: the measures of `deviation`, solved for what is read: the torque T at a setting X, or X at a
    known T.
    """
    ratio, reach = percent / 100, percent / 100 * form.tool.highest.base
    measure = form.limit.measure
    if measure in (Measure.FULL_SCALE_ISO, Measure.FULL_SCALE_APPLIED):
        return held - reach, held + reach
    is_known = point.load is not None
    if (measure is Measure.ISO) is is_known:
        return held * (1 - ratio), held * (1 + ratio)
    return held / (1 + ratio), held / (1 - ratio) if ratio < 1 else math.inf


_NOTHING: Mapping[str, Any] = {
    "mean_newton_metre": None,
    "deviation_percent": None,
    "low_percent": None,
    "high_percent": None,
    "expanded_percent": None,
    "bolts_get_percent": None,
}


def point_form(body: Body, point: int, pulls: Sequence[Mapping[str, Any]]) -> CheckForm:
    """The form of one planned point with these of its pulls."""
    setup = body["setup"]
    table = {**setup["points"][point]}
    if pulls:
        table["pulls"] = [pull_as_written(pull) for pull in pulls]
    return read_table({"steelyard_check": 1, "date": body["day"], **setup["form"], "point": [table]})


def _running(pull: Mapping[str, Any], read: ReadPull) -> RunningPull:
    return RunningPull(
        number=int(pull["number"]),
        typed=as_shown(read.form.pull.typed),
        torque_newton_metre=read.torque_newton_metre,
        shown_newton_metre=read.shown_newton_metre,
        iso_percent=read.iso_percent,
        struck_out=pull["struck_out"],
        never_clicked=read.form.pull.never_clicked,
        at=str(pull["at"]),
        loads=read.form.loads,
        kilogram=read.form.pull.raw if read.form.loads else None,
        half_step_kilogram=read.form.pull.half_step,
        clicked=read.form.pull.clicked,
        set=read.form.set_typed,
        at_mark=read.form.arm_typed,
    )


def _figures(form: CheckForm, point: PointForm) -> dict[str, Any]:
    result = evaluate_point(ready_point(form, point).case, rule=form.rule, seed=form.seed, draws=QUICK_DRAWS)
    iso = result.iso
    return {
        "mean_newton_metre": result.readings.mean,
        "deviation_percent": iso.percent,
        "low_percent": iso.low_percent,
        "high_percent": iso.high_percent,
        "expanded_percent": iso.expanded_percent,
        "bolts_get_percent": result.bolts_get_percent,
    }


def _hung_doubts(
    form: CheckForm, point: PointForm, hangs: Hanging | None, pulls: Sequence[RunningPull]
) -> Iterator[Finding]:
    """What to mind before anything is hung, and of what hung last."""
    if hangs is None:
        return
    planned = hangs.load_kilogram if hangs.load_kilogram is not None else hangs.target_kilogram
    last = [p.kilogram for p in pulls[-1:] if p.struck_out is None]
    yield from heavy_doubts(point, max(kilogram or 0.0 for kilogram in (planned, *last)))
    yield from mark_doubts(form, point)


def _doubts(
    body: Body, form: CheckForm, phase: str, point: PointForm, pulls: Sequence[RunningPull]
) -> Iterator[Finding]:
    """What should be looked at before the next pull."""
    yield from _exercise_doubts(body, form, phase)
    yield from known_load_doubts(form, point)
    if not pulls:
        return
    last = pulls[-1]
    if last.struck_out is not None:
        return
    reading = last.shown_newton_metre if point.load is not None else last.torque_newton_metre
    facts = _facts(point, pulls)
    if isinstance(form.kit, HungKit):
        yield from piece_doubts(form.kit, last.loads, facts, of="pull")
    suspected = tuple(unit_suspicion(reading, point.target.base, facts))
    yield from suspected
    if not suspected and not 1 / FAR_OFF <= reading / point.target.base <= FAR_OFF:
        yield Finding("far-from-target", Severity.WARN, facts)
    yield from _followed(form, pulls, facts)


def _facts(point: PointForm, pulls: Sequence[RunningPull]) -> dict[str, str | float | int]:
    """What a doubt says of the pull read last."""
    return {"point": point.name, "pull": len(pulls), "typed": pulls[-1].typed}


def _followed(
    form: CheckForm, pulls: Sequence[RunningPull], facts: Mapping[str, str | float | int]
) -> Iterator[Finding]:
    """A peak reading above the others, on a tool that signals: the hand may not have stopped at the click."""
    kit = form.kit
    if not isinstance(kit, TransducerKit) or kit.mode != "peak" or form.tool.kind.is_indicating:
        return
    before = [p.torque_newton_metre for p in pulls[:-1] if p.struck_out is None]
    if before and pulls[-1].torque_newton_metre > sum(before) / len(before) * (1 + FOLLOWED_RATIO):
        yield Finding("followed-through", Severity.WARN, facts)


def _exercise_doubts(body: Body, form: CheckForm, phase: str) -> Iterator[Finding]:
    """Too few pulls before the first reading or after the lock of the adjuster, or an hour of pause since."""
    usual = usual_exercise(form.tool.kind)
    done = sum(row["pulls"] for row in body["exercise"])
    if phase == AS_FOUND and done < usual:
        yield Finding("exercise-skipped", Severity.NOTE, {"usual": usual, "done": done})
    locked = body.get("locked")
    if phase != AS_FOUND and locked is not None:
        since = sum(row["pulls"] for row in body["exercise"] if row["number"] > locked["number"])
        if since < exercise_after_lock(form.tool.kind):
            yield Finding("lock-not-exercised", Severity.NOTE)
    moments = [row["at"] for row in (*body["exercise"], *body["pulls"])]
    if len(moments) > 1:
        first, last = (datetime.fromisoformat(moment) for moment in sorted(moments)[-2:])
        if (last - first).total_seconds() > LONG_PAUSE_SECONDS:
            yield Finding("paused-long", Severity.NOTE)
