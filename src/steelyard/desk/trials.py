"""Yes/no trials at the bench: what to try next, the answer, and what all answers say so far."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from steelyard.desk.adjuster_belief import Stands, stands
from steelyard.desk.cases import ReadPull, answer_of, read_pulls, ready_point
from steelyard.desk.ports import Body
from steelyard.desk.running import inside_between, point_form
from steelyard.desk.trial_begin import begin_trials, known_best
from steelyard.desk.trial_doubts import LEAST_REACH, trial_doubts, trial_mark_doubts
from steelyard.desk.trial_loads import Makeable, Way, makeable, ways_of
from steelyard.desk.typed_table import with_unit
from steelyard.errors import InputRefused
from steelyard.evaluation import Enough, PointResult, enough, evaluate_point
from steelyard.findings import Finding
from steelyard.readings.threshold import (
    Answer,
    Steadiness,
    Threshold,
    estimate_threshold,
    expected_gain,
    steadiness,
)
from steelyard.records import (
    AS_LEFT,
    CheckForm,
    HungKit,
    PointForm,
    PullForm,
    pulls_by_point,
)

DRAWS = 10_000  # for the ± that is shown meanwhile; the verdict draws more
MOST_CANDIDATES = 97
REACH_U = 3.0  # standard uncertainties of the threshold within which a trial is worth considering
MARK_UNIT = "mm"  # of a bare number
FEWEST = 2  # answers, or pulls, that say something together
AS_GOOD = 0.95  # of the best gain, from which the smaller change of what hangs decides


@dataclass(frozen=True)
class Trials:
    """A point seen through yes/no answers, as it stands.

    threshold: what the answers say of the tool alone. result: with the kit in the ±, quick and approximate;
    None before two answers. steady: over the trials; None before six. enough: why more would not help.
    each: what every pull says, struck out or not.
    next: the most telling thing that can be tried; None where nothing near can be made.
    ways: what can be stepped; way: what `next` steps. at: the mark it hangs at, None for the kit's own.
    inside_percent: between which levels a threshold is inside the limit; None where none applies.
    """

    point: PointForm
    pulls: tuple[ReadPull, ...]
    each: tuple[Answer, ...]
    numbers: tuple[int, ...]
    threshold: Threshold
    result: PointResult | None
    limit_percent: float | None
    steady: Steadiness | None
    enough: Enough | None
    ways: tuple[Way, ...]
    way: Way | None
    at: str | None
    next: Makeable | None
    inside_percent: tuple[float, float] | None
    kit: HungKit
    doubts: tuple[Finding, ...]

    @property
    def hangs(self) -> ReadPull | None:
        """The trial made last: what hung then, hangs still."""
        return next((read for read in reversed(self.pulls) if read.form.pull.clicked is not None), None)

    @property
    def low_percent(self) -> float | None:
        """Lower end of what bolts get against what was set, the kit's ± included. [%]"""
        return self._with_kit(-1)

    @property
    def high_percent(self) -> float | None:
        """Upper end of the same. [%]"""
        return self._with_kit(1)

    def _with_kit(self, side: int) -> float | None:
        if self.result is None:
            return None
        iso = self.result.iso
        iso_end = iso.low_percent if side > 0 else iso.high_percent  # more delivered: a lower ISO deviation
        return 100 * (1 / (1 + iso_end / 100) - 1)


def trials_at(
    body: Body,
    phase: str,
    point: int,
    *,
    way: Way | None = None,
    at: str | None = None,
    load: str | None = None,
) -> Trials:
    """A point of a check in hand by its yes/no answers, with the next trial.

    way: what to step; None: as the last trial, else the handiest. at: another mark, empty for the kit's own;
    load: what stays hanging where the setting is stepped; both as typed, None: as at the last trial.
    Raises InputRefused with the field `at` or `load`, and where kit or tool lack something.
    """
    rows = pulls_by_point(body, phase)[point]
    form = point_form(body, point, rows)
    numbers = tuple(int(row["number"]) for row in rows)
    stood = stands(body, point) if phase == AS_LEFT else None
    return trials_of(form, form.points[0], numbers=numbers, way=way, at=at, load=load, stood=stood)


def trials_of(
    form: CheckForm,
    planned: PointForm,
    *,
    numbers: tuple[int, ...] = (),
    way: Way | None = None,
    at: str | None = None,
    load: str | None = None,
    stood: Stands | None = None,
) -> Trials:
    """The same of a point of any check. numbers: of the entries behind its pulls, where there are such.

    stood: read as left, where it was believed to stand before; the trials begin there.
    """
    at = with_unit(at, MARK_UNIT) if at else at
    if not isinstance(form.kit, HungKit) or form.tool.kind.is_indicating:
        raise InputRefused("kit", form.kit.name, "want-trial-kit")
    reads, each = _read(form, planned)
    answers = tuple(a for a, read in zip(each, reads, strict=True) if read.form.pull.is_said)
    threshold = estimate_threshold(answers)
    limit = _limit(form, planned)
    about = (stood.percent if stood is not None else None) or 0.0
    near, last = makeable(form, planned, Way.LOAD, about_percent=about), _last(reads)
    ways = ways_of(form, near)
    stepped = way if way in ways else _way(last, ways)
    if last is not None:
        at = last.arm_typed if at is None else at
        load = last.loads[0] if load is None else load
    is_near = stepped is Way.LOAD and not at
    other: tuple[Makeable, ...] = ()
    if stepped and not is_near:
        other = makeable(form, planned, stepped, at=at, hanging=load, about_percent=about)
    found = near if is_near else other
    begun = begin_trials(answers, threshold.sides, limit, found, stood) if stood is not None else None
    hangs = last.loads[0] if last is not None else None
    return _seen(
        form,
        planned,
        _Answered(reads, each, numbers, answers, threshold),
        stepped=_Stepped(ways, stepped, at or None, found, begun or _next(answers, threshold, found, hangs)),
    )


@dataclass(frozen=True)
class _Answered:
    """What was tried, and what it says."""

    reads: tuple[ReadPull, ...]
    each: tuple[Answer, ...]
    numbers: tuple[int, ...]
    answers: tuple[Answer, ...]
    threshold: Threshold


@dataclass(frozen=True)
class _Stepped:
    """What can be stepped, what is, and what comes next."""

    ways: tuple[Way, ...]
    way: Way | None
    at: str | None
    found: Sequence[Makeable]
    next: Makeable | None


def _seen(form: CheckForm, planned: PointForm, said: _Answered, *, stepped: _Stepped) -> Trials:
    """All that is known of a point, put together. The kit is one on which weights hang."""
    kit = form.kit
    if not isinstance(kit, HungKit):
        raise TypeError(f"{kit.name} is no kit to hang on")
    threshold, limit = said.threshold, _limit(form, planned)
    result = _result(form, planned, said.answers)
    steady = steadiness(said.answers)
    doubts = trial_doubts(
        form, planned, threshold, steady, stepped.found, stepped.next, said.reads, said.each
    )
    marks = trial_mark_doubts(form, planned, said.reads, stepped.at)
    return Trials(
        point=planned,
        pulls=said.reads,
        each=said.each,
        numbers=said.numbers,
        threshold=threshold,
        result=result,
        limit_percent=float(limit) if limit is not None else None,
        steady=steady,
        enough=_enough(threshold, result, limit),
        ways=stepped.ways,
        way=stepped.way,
        at=stepped.at,
        next=stepped.next,
        inside_percent=_inside(form, planned, limit),
        kit=kit,
        doubts=(*marks, *doubts),
    )


def _read(form: CheckForm, point: PointForm) -> tuple[tuple[ReadPull, ...], tuple[Answer, ...]]:
    """Every pull of a point with what it says, struck out or not; none before the first."""
    if not point.pulls:
        return (), ()
    reference, reads = read_pulls(form, point)
    return reads, tuple(answer_of(reference, read) for read in reads)


def _result(form: CheckForm, point: PointForm, answers: Sequence[Answer]) -> PointResult | None:
    if len(answers) < FEWEST:
        return None
    return evaluate_point(ready_point(form, point).case, rule=form.rule, seed=form.seed, draws=DRAWS)


def _enough(threshold: Threshold, result: PointResult | None, limit: Any) -> Enough | None:
    if result is None:
        return None
    percent = float(limit) if limit is not None else None
    kit = result.counted.expanded_kit_percent
    return enough(threshold, result.judged, kit_percent=kit, limit_percent=percent)


def _way(last: PullForm | None, ways: Sequence[Way]) -> Way | None:
    """As the last trial was made, else the first way there is."""
    if last is not None and last.set_typed is not None and Way.SETTING in ways:
        return Way.SETTING
    if last is not None and " on " in last.loads[0] and Way.POURED in ways:
        return Way.POURED
    return ways[0] if ways else None


def goes_by_trials(body: Body, phase: str, point: int) -> bool:
    """A point is being looked at by yes/no answers: its own last pull was one, or where there is none, the
    last of the phase; as left before the first pull, as it was found."""
    rows = [row for row in body["pulls"] if row["phase"] == phase]
    rows = rows or (body["pulls"] if phase == AS_LEFT else [])
    own = [row for row in rows if row["point"] == point]
    return any("clicked" in row["pull"] for row in (own or rows)[-1:])


def _last(reads: Sequence[ReadPull]) -> PullForm | None:
    """The trial made last."""
    return next((read.form for read in reversed(reads) if read.form.pull.clicked is not None), None)


def _inside(form: CheckForm, point: PointForm, limit: Any) -> tuple[float, float] | None:
    """Between which levels a threshold is inside the limit. [%]"""
    if limit is None:
        return None
    target = point.target.base
    low, high = inside_between(form, point, target, float(limit))
    return 100 * (low / target - 1), 100 * (high / target - 1)


def _limit(form: CheckForm, planned: PointForm) -> Decimal | None:
    """The limit at a point. [%]"""
    return form.limit.percent_at(
        planned.target.base,
        maximum_newton_metre=form.tool.highest.base,
        is_main_direction=planned.direction == form.tool.directions[0],
    )


def _next(
    answers: Sequence[Answer], threshold: Threshold, found: Sequence[Makeable], last: str | None
) -> Makeable | None:
    """The most telling of what can be made; of nearly equal ones the one that changes least of what hangs.

    Of those the nearest to the estimate until there are clicks and no-clicks, then the farthest, see
    `most_telling`.
    """
    reach = max(REACH_U * threshold.sd_percent, LEAST_REACH)
    near = [m for m in found if abs(m.level_percent - threshold.percent) <= reach]
    if not near and any(m.level_percent < threshold.percent for m in found):  # coarse, but on both sides
        near = list(found) if any(m.level_percent > threshold.percent for m in found) else []
    near = [m for m in near if not m.is_heavy] or near
    near = known_best(near, threshold.percent)
    near = near[:: max(1, math.ceil(len(near) / MOST_CANDIDATES))]
    if not near:
        return None
    gains = expected_gain(answers, [m.level_percent for m in near])
    most = float(gains.max())
    good = [m for m, gain in zip(near, gains, strict=True) if float(gain) >= AS_GOOD * most]
    side = -1 if threshold.is_two_sided else 1
    return min(good, key=lambda m: (_changes(m.load, last), side * abs(m.level_percent - threshold.percent)))


def _changes(load: str, last: str | None) -> int:
    """Pieces to take off or hang on."""
    if last is None:
        return 0
    return len(set(load.split(" + ")) ^ set(last.split(" + ")))
