"""What a kit can decide before the work: the U to be expected, and improvements ranked by what they bring."""

import statistics
from dataclasses import replace
from decimal import Decimal

import pytest

from steelyard.evaluation import PointCase, fitness, planned_raws
from steelyard.quantities import Line
from steelyard.rigs import Reference
from steelyard.tools import Measure

ARM, STATED = Line("arm", 0.45, 0.005, unit="m"), Line("stated", 0.0, 0.004)


def case(*lines: Line) -> PointCase:
    """A lever of 450 mm with some errors, five pulls planned at 60 N·m with 0.3 % spread."""
    lines = lines or (ARM, STATED)
    model = Reference(lambda maths, raw, arm, stated=0.0: raw * arm * (1 + stated), lines)
    raw = 60.0 / 0.45
    return PointCase(
        target_newton_metre=60.0,
        direction="cw",
        raws=planned_raws(raw, scatter_ratio=0.003, pulls=5),
        shown=(60.0,) * 5,
        half_steps=(0.0,) * 5,
        reference=model,
        tool_lines=(Line("setting", 0.0, 0.002, shared=False),),
        setting_step_ratio=0.0,
        full_scale_newton_metre=100.0,
        measure=Measure.ISO,
        limit_percent=Decimal(4),
    )


@pytest.mark.parametrize("pulls", [2, 3, 5, 10])
def test_planned_readings_have_exactly_the_declared_spread(pulls: int) -> None:
    raws = planned_raws(50.0, scatter_ratio=0.01, pulls=pulls)
    assert statistics.fmean(raws) == pytest.approx(50.0)
    assert statistics.stdev(raws) == pytest.approx(0.5)


def test_improvements_are_ranked_and_each_makes_it_better() -> None:
    got = fitness(case(), scatter_ratio=0.003, seed=1)
    reached = [c.expanded_percent for c in got.improvements]
    assert got.improvements[0].change == "change-arm"
    assert reached == sorted(reached)
    assert max(reached) < got.expanded_percent


def test_what_it_passes_is_limit_less_expanded() -> None:
    got = fitness(case(), scatter_ratio=0.003, seed=1)
    assert got.passes_percent == pytest.approx(4 - got.expanded_percent)
    assert not got.is_hopeless


def test_a_hopeless_kit_is_called_so() -> None:
    got = fitness(case(replace(ARM, width=0.03)), scatter_ratio=0.003, seed=1)
    assert got.is_hopeless


def test_without_a_limit_nothing_is_promised() -> None:
    got = fitness(replace(case(), limit_percent=None), scatter_ratio=0.003, seed=1)
    assert got.passes_percent is None
    assert not got.is_hopeless
