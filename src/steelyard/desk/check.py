"""Judging one check: from the form to a verdict with all doubts."""

from dataclasses import dataclass

from steelyard.desk.cases import ReadyPoint, ready_point
from steelyard.desk.doubts import doubts
from steelyard.evaluation import (
    BudgetRow,
    Pattern,
    PointResult,
    Verdict,
    budget,
    deciding_point,
    evaluate_point,
    judge_tool,
    pattern,
)
from steelyard.findings import Finding
from steelyard.records import CheckForm, HungKit, TransducerKit, read_check

FEWEST_TARGETS = 2  # that make a range


@dataclass(frozen=True)
class JudgedPoint:
    """A point as read and what it says."""

    ready: ReadyPoint
    result: PointResult

    @property
    def budget(self) -> tuple[BudgetRow, ...]:
        """What makes the ± of the deviation that is held against the limit, largest first."""
        return budget(self.result.counted.first)

    @property
    def used_up(self) -> float:
        """(|d| + U)/limit; 0 where no limit applies."""
        limit, counted = self.result.case.limit_percent, self.result.counted
        return (abs(counted.percent) + counted.expanded_percent) / float(limit) if limit is not None else 0.0


@dataclass(frozen=True)
class JudgedCheck:
    """A check with its verdict.

    worst: the point with the largest (|d| + U)/limit, whatever its verdict; None where no limit applies
    anywhere.
    restricted: targets of the longest run that is in, lowest and highest, where not all points are.
    """

    form: CheckForm
    points: tuple[JudgedPoint, ...]
    verdict: Verdict
    worst: JudgedPoint | None
    restricted: tuple[JudgedPoint, JudgedPoint] | None
    pattern: Pattern
    doubts: tuple[Finding, ...]

    @property
    def certificate(self) -> str | None:
        """Number of the kit's certificate; None: not traceable."""
        kit = self.form.kit
        return kit.paper.certificate if isinstance(kit, TransducerKit) and kit.paper is not None else None

    @property
    def deciding(self) -> JudgedPoint | None:
        """The point that made the verdict; None where no limit applies anywhere."""
        verdicts = [point.result.judged.verdict for point in self.points]
        place = deciding_point(verdicts, [point.used_up for point in self.points])
        return self.points[place] if place is not None else None

    @property
    def has_hung_weight(self) -> bool:
        """Something hangs, so cautions are shown."""
        return isinstance(self.form.kit, HungKit)


def judge_check(content: bytes) -> JudgedCheck:
    """Judge one check.

    content: a check form (TOML, UTF-8, at most 1 MB).
    Raises InputRefused with field, value and what is wanted.
    """
    return judge_form(read_check(content))


def judge_form(form: CheckForm) -> JudgedCheck:
    """Judge a check that was read already."""
    points = tuple(
        JudgedPoint(ready, evaluate_point(ready.case, rule=form.rule, seed=form.seed + i, draws=form.draws))
        for i, ready in enumerate(ready_point(form, point) for point in form.points)
    )
    results = [p.result for p in points]
    shape = pattern(results)
    return JudgedCheck(
        form=form,
        points=points,
        verdict=judge_tool([r.judged.verdict for r in results]),
        worst=_worst(points),
        restricted=_restricted(points),
        pattern=shape,
        doubts=doubts(form, [p.ready for p in points], results),
    )


def _worst(points: tuple[JudgedPoint, ...]) -> JudgedPoint | None:
    limited = [p for p in points if p.result.case.limit_percent is not None]
    return max(limited, key=lambda p: p.used_up) if limited else None


def _restricted(points: tuple[JudgedPoint, ...]) -> tuple[JudgedPoint, JudgedPoint] | None:
    """The longest run of neighbouring targets at which every direction is in; None where all or none are."""
    ordered = sorted(points, key=lambda p: p.result.case.target_newton_metre)
    bad = {p.ready.form.target.exact for p in points if p.result.judged.verdict is not Verdict.IN}
    best: list[JudgedPoint] = []
    run: list[JudgedPoint] = []
    for point in ordered:
        run = [] if point.ready.form.target.exact in bad else [*run, point]
        best = run if len(run) > len(best) else best
    if not bad or len({p.ready.form.target.exact for p in best}) < FEWEST_TARGETS:
        return None
    return best[0], best[-1]
