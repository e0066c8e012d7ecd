"""Level, slope and pattern: shared errors cancel in the slope; each shape of error has its name."""

import math

import pytest

from steelyard.evaluation import PointCase, Rule, evaluate_point, first_order, level_and_slope, pattern
from steelyard.quantities import Line, Shape
from steelyard.rigs import Reference
from steelyard.tools import Measure

TARGETS = (20.0, 60.0, 100.0)


def reference(stated: float = 0.001) -> Reference:
    """A transducer that is right but for a shared stated accuracy. [1]"""
    return Reference(lambda maths, raw, error: raw * (1 + error), (Line("stated", 0.0, stated),))


def point(target: float, torques: list[float], *, direction: str = "cw", stated: float = 0.001) -> PointCase:
    return PointCase(
        target_newton_metre=target,
        direction=direction,
        raws=tuple(torques),
        shown=(target,) * len(torques),
        half_steps=(0.0,) * len(torques),
        reference=reference(stated),
        tool_lines=(),
        setting_step_ratio=0.0,
        full_scale_newton_metre=100.0,
        measure=Measure.ISO,
        limit_percent=None,
    )


def codes(cases: list[PointCase]) -> set[str]:
    results = [evaluate_point(case, rule=Rule.GUARDED, seed=1, draws=20_000) for case in cases]
    return {finding.code for finding in pattern(results).findings}


def pulls(centre: float, spread: float = 0.001) -> list[float]:
    return [centre * (1 + spread * x) for x in (-1.0, 0.5, 0.0, -0.5, 1.0)]


def test_a_shared_error_counts_in_the_level_and_cancels_in_the_slope() -> None:
    shared, free = (
        Line("arm", 0.0, 0.01, Shape.NORMAL),
        Line("spread", 0.0, 0.001, Shape.NORMAL, shared=False),
    )
    results = [first_order(lambda maths, a, b: a + b, [shared, free]) for _ in TARGETS]
    got = level_and_slope(TARGETS, results, [0.01, 0.01, 0.01])
    k = 1.959963984540054
    assert got.level_expanded_percent == pytest.approx(100 * k * 0.01)
    assert got.slope_expanded_percent == pytest.approx(100 * k * 0.001 * math.sqrt(2))
    assert (got.level_percent, got.slope_percent) == pytest.approx((1.0, 0.0))


def test_a_constant_amount_is_called_one() -> None:
    assert "pattern-constant-amount" in codes([point(t, pulls(t - 1.0)) for t in TARGETS])


def test_a_constant_percentage_beyond_the_kit_is_the_tool() -> None:
    assert "pattern-constant-percent" in codes([point(t, pulls(t * 0.95)) for t in TARGETS])


def test_a_constant_percentage_within_the_kit_is_tool_or_kit() -> None:
    found = codes([point(t, pulls(t * 0.984), stated=0.018) for t in TARGETS])
    assert found & {"pattern-tool-or-kit", "pattern-nothing-beyond"}
    assert "pattern-constant-percent" not in found


def test_nothing_is_seen_where_nothing_is() -> None:
    assert codes([point(t, pulls(t)) for t in TARGETS]) == {"pattern-nothing-beyond"}


def test_wide_scatter_is_named() -> None:
    assert "pattern-scatter" in codes([point(t, pulls(t, spread=0.03)) for t in TARGETS])


def test_first_pulls_that_stand_apart_are_named() -> None:
    slow = [[t * 1.04, *pulls(t)[1:]] for t in TARGETS]
    assert "pattern-first-pulls" in codes([point(t, p) for t, p in zip(TARGETS, slow, strict=True)])


def test_directions_that_differ_are_named() -> None:
    cases = [point(t, pulls(t), direction="cw") for t in TARGETS]
    cases += [point(t, pulls(t * 0.97), direction="ccw") for t in TARGETS]
    assert "pattern-directions" in codes(cases)
