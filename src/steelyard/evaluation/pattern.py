"""What the points say together: constant amount or percentage, scatter, slow first pulls, one side."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from steelyard.evaluation.level import LevelAndSlope, level_and_slope
from steelyard.evaluation.point import PointResult
from steelyard.findings import Finding, Severity

CLEAR = 2.0  # standard uncertainties from which a difference is called one
SCATTER_SHARE = 0.25  # of the limit: a spread above that is named
SCATTER_WITHOUT_LIMIT_PERCENT = 1.0  # own choice where no limit applies
SMALL_SET = 2
Facts = dict[str, str | float | int]


@dataclass(frozen=True)
class Pattern:
    """Level and slope per direction, and what they suggest as findings."""

    lines: dict[str, LevelAndSlope]
    findings: tuple[Finding, ...]


def pattern(points: Sequence[PointResult]) -> Pattern:
    """The pattern over all points of a check. A point known only from one side has no part in it.

    Source: own choice of indicators, docs/explanation/uncertainty.md.
    """
    points = [p for p in points if p.threshold is None or p.threshold.is_two_sided]
    lines: dict[str, LevelAndSlope] = {}
    found: list[Finding] = []
    for direction in dict.fromkeys(p.case.direction for p in points):
        ours = [p for p in points if p.case.direction == direction]
        if len(ours) >= SMALL_SET:
            lines[direction] = level_and_slope(
                [p.case.target_newton_metre for p in ours],
                [p.iso.first for p in ours],
                [p.iso.percent / 100 for p in ours],
            )
            found += _shape(ours, lines[direction], direction)
    found += _scatter(points) + _first_pulls(points) + _directions(points)
    return Pattern(lines, tuple(found))


def _shape(points: Sequence[PointResult], line: LevelAndSlope, direction: str) -> list[Finding]:
    """Constant amount or constant percentage, whichever fits better, where there is anything."""
    facts: Facts = {"direction": direction}
    seen = max(abs(p.iso.percent) / p.iso.expanded_percent for p in points)
    if seen <= 1.0:
        return [Finding("pattern-nothing-beyond", Severity.NOTE, facts)]
    percent_fit, _ = _fit([p.iso.percent for p in points], [_free_percent(p) for p in points])
    amount_fit, amount = _fit(
        [p.iso.percent / 100 * p.case.target_newton_metre for p in points],
        [_free_percent(p) / 100 * p.case.target_newton_metre for p in points],
    )
    if abs(line.slope_percent) > line.slope_expanded_percent and amount_fit < percent_fit:
        return [Finding("pattern-constant-amount", Severity.NOTE, {**facts, "amount_newton_metre": amount})]
    if abs(line.slope_percent) > line.slope_expanded_percent:
        return [Finding("pattern-bent", Severity.NOTE, {**facts, "slope_percent": line.slope_percent})]
    inside = abs(line.level_percent) <= line.level_expanded_percent
    code = "pattern-tool-or-kit" if inside else "pattern-constant-percent"
    return [Finding(code, Severity.NOTE, {**facts, "level_percent": line.level_percent})]


def _free_percent(point: PointResult) -> float:
    """Standard uncertainty that this point shares with no other, in percent."""
    first = point.iso.first
    free = math.fsum(
        (c * line.u) ** 2 for c, line in zip(first.sensitivities, first.lines, strict=True) if not line.shared
    )
    return max(100 * math.sqrt(free), 1e-6)


def _fit(values: Sequence[float], u: Sequence[float]) -> tuple[float, float]:
    """Chi-squared of a constant, and the constant."""
    weights = [1 / x**2 for x in u]
    mean = math.fsum(w * v for w, v in zip(weights, values, strict=True)) / math.fsum(weights)
    return math.fsum(w * (v - mean) ** 2 for w, v in zip(weights, values, strict=True)), mean


def _scatter(points: Sequence[PointResult]) -> list[Finding]:
    found = []
    for p in points:
        limit = float(p.case.limit_percent) if p.case.limit_percent is not None else None
        s_percent = 100 * p.readings.s / p.readings.mean
        sure_percent = s_percent if p.threshold is None else p.threshold.scatter_low_percent
        if sure_percent > (SCATTER_WITHOUT_LIMIT_PERCENT if limit is None else SCATTER_SHARE * limit):
            facts: Facts = {"point": point_name(p), "s_percent": s_percent}
            found.append(Finding("pattern-scatter", Severity.WARN, facts))
    return found


def _first_pulls(points: Sequence[PointResult]) -> list[Finding]:
    """The first pull of most points stands off the others, on the same side; answers have no such order."""
    off = []
    for p in (p for p in points if p.threshold is None):
        series = p.case.series
        rest = series[1:] if p.readings.n > SMALL_SET else ()
        if rest and p.readings.s > 0.0:
            spread = max(rest) - min(rest)
            error = series[0] - math.fsum(rest) / len(rest)
            off.append(math.copysign(1.0, error) if abs(error) > max(spread, 1e-12) else 0.0)
    if len(off) > 1 and abs(math.fsum(off)) > len(off) / 2:
        return [Finding("pattern-first-pulls", Severity.WARN, {"points": len(off)})]
    return []


def _directions(points: Sequence[PointResult]) -> list[Finding]:
    """The two directions of a target differ by more than their free ±."""
    found = []
    for a in points:
        for b in points:
            same = a.case.target_newton_metre == b.case.target_newton_metre
            if not same or a.case.direction >= b.case.direction:
                continue
            apart = a.iso.percent - b.iso.percent
            if abs(apart) > CLEAR * math.hypot(_free_percent(a), _free_percent(b)):
                facts: Facts = {"first": a.case.direction, "second": b.case.direction, "apart_percent": apart}
                found.append(
                    Finding("pattern-directions", Severity.NOTE, {**facts, "target": _torque_name(a)})
                )
    return found


def _torque_name(point: PointResult) -> str:
    return f"{point.case.target_newton_metre:.4g} N·m"


def point_name(point: PointResult) -> str:
    """A point in words: target and direction."""
    return f"{_torque_name(point)} {point.case.direction}"
