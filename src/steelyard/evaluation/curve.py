"""The deviation of a tool between the points of its check: a straight line from one to the next."""

import math
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass

from steelyard.evaluation.propagation import FirstOrder, coverage_factor


@dataclass(frozen=True, slots=True)
class CurvePoint:
    """One checked point.

    shown_newton_metre: what was set or shown, X. [N m] > 0
    deviation_ratio: (X − T)/T. [1] > −1
    u_shared_ratio: standard uncertainty that is one and the same error at all points; u_free_ratio: the
        rest. [1] ≥ 0. dof_shared, dof_free: degrees of freedom behind them.
    """

    shown_newton_metre: float
    deviation_ratio: float
    u_shared_ratio: float
    u_free_ratio: float
    dof_shared: float = math.inf
    dof_free: float = math.inf

    @property
    def torque_newton_metre(self) -> float:
        """T = X/(1 + d). [N m]"""
        return self.shown_newton_metre / (1 + self.deviation_ratio)


@dataclass(frozen=True, slots=True)
class OnCurve:
    """A place on the curve.

    shown_newton_metre, torque_newton_metre: X and T there. [N m]
    u_ratio: standard uncertainty of d, dof its degrees of freedom.
    neighbours: places of the points it lies between; the same one twice at a point.
    """

    shown_newton_metre: float
    deviation_ratio: float
    u_ratio: float
    dof: float
    neighbours: tuple[int, int]

    @property
    def torque_newton_metre(self) -> float:
        """T = X/(1 + d). [N m]"""
        return self.shown_newton_metre / (1 + self.deviation_ratio)

    @property
    def expanded_newton_metre(self) -> float:
        """U of T at 95 %: T·k·u/(1 + d). [N m]"""
        spread = coverage_factor(self.dof) * self.u_ratio
        return self.torque_newton_metre * spread / (1 + self.deviation_ratio)


def curve_point(shown_newton_metre: float, first: FirstOrder, *, shift_ratio: float = 0.0) -> CurvePoint:
    """A point of the curve from the budget of its ISO deviation.

    first: of the ISO deviation, a ratio; its lines say whether they are shared.
    shift_ratio: by which curvature moves the deviation; counted with the shared part. [1]
    Source: JCGM 100:2008 5.1.2, G.4.1, for each part.
    """
    shared, dof_shared = _part(first, is_shared=True)
    free, dof_free = _part(first, is_shared=False)
    return CurvePoint(
        shown_newton_metre, first.value, math.hypot(shared, shift_ratio), free, dof_shared, dof_free
    )


def _part(first: FirstOrder, *, is_shared: bool) -> tuple[float, float]:
    """Standard uncertainty and degrees of freedom of the lines of one sort."""
    parts = [
        (u, line.dof)
        for u, line in zip(first.contributions, first.lines, strict=True)
        if line.shared is is_shared
    ]
    return _together(parts)


def _together(parts: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """Root of the sum of squares, and the degrees of freedom by Welch and Satterthwaite."""
    u = math.hypot(*(part for part, _ in parts))
    shares = math.fsum(part**4 / dof for part, dof in parts)
    return u, u**4 / shares if shares else math.inf


def is_rising(points: Sequence[CurvePoint]) -> bool:
    """Setting and torque both rise from each point to the next, so that each torque has one setting."""
    pairs = list(zip(points, points[1:], strict=False))
    return all(
        a.shown_newton_metre < b.shown_newton_metre and a.torque_newton_metre < b.torque_newton_metre
        for a, b in pairs
    )


def at_shown(points: Sequence[CurvePoint], shown_newton_metre: float) -> OnCurve:
    """The deviation at what is set or shown, X.

    points: one or more, rising (`is_rising`). shown_newton_metre: from the first to the last. [N m]
    Returns d on the straight line between the neighbours, t the part of the way. Its u: the shared part on
        the same line, the free part of the neighbour that is known worse, and |d2 − d1|/(2√3)·4t(1 − t) for
        what the tool may do between them.
    Raises ValueError outside the points: nothing is known there.
    Source: own choice, docs/explanation/uncertainty.md: the difference of the neighbours as a rectangle,
        halfway; nothing at a point.
    Left out: a shape between the points that departs by more than that.
    """
    xs = [point.shown_newton_metre for point in points]
    if not xs[0] <= shown_newton_metre <= xs[-1]:
        raise ValueError(f"{shown_newton_metre} lies outside {xs[0]} … {xs[-1]}")
    right = bisect_right(xs, shown_newton_metre)
    if xs[right - 1] == shown_newton_metre:
        left, right = right - 1, right - 1
    else:
        left = right - 1
    a, b = points[left], points[right]
    t = (shown_newton_metre - xs[left]) / (xs[right] - xs[left]) if right > left else 0.0
    step = b.deviation_ratio - a.deviation_ratio
    worse = max(a, b, key=lambda point: point.u_free_ratio)
    u, dof = _together(
        [
            ((1 - t) * a.u_shared_ratio + t * b.u_shared_ratio, min(a.dof_shared, b.dof_shared)),
            (worse.u_free_ratio, worse.dof_free),
            (abs(step) / (2 * math.sqrt(3)) * 4 * t * (1 - t), math.inf),
        ]
    )
    return OnCurve(shown_newton_metre, a.deviation_ratio + t * step, u, dof, (left, right))


def at_torque(points: Sequence[CurvePoint], torque_newton_metre: float) -> OnCurve:
    """The place where the tool gives a torque: X with X = T·(1 + d(X)).

    points: one or more, rising. torque_newton_metre: from the torque of the first to that of the last. [N m]
    Raises ValueError outside the points.
    Source: d(X) straight between neighbours, so X = T·(1 + d1 − s·X1)/(1 − T·s) with its slope s.
    """
    torques = [point.torque_newton_metre for point in points]
    if not torques[0] <= torque_newton_metre <= torques[-1]:
        raise ValueError(f"{torque_newton_metre} lies outside {torques[0]} … {torques[-1]}")
    right = bisect_right(torques, torque_newton_metre)
    a = points[right - 1]
    if torques[right - 1] == torque_newton_metre:
        return at_shown(points, a.shown_newton_metre)
    b = points[right]
    slope = (b.deviation_ratio - a.deviation_ratio) / (b.shown_newton_metre - a.shown_newton_metre)
    shown = (
        torque_newton_metre
        * (1 + a.deviation_ratio - slope * a.shown_newton_metre)
        / (1 - torque_newton_metre * slope)
    )
    return at_shown(points, min(max(shown, a.shown_newton_metre), b.shown_newton_metre))
