"""The made-up bench: what is read carries the tool's true deviation through the erring kit."""

import math
from decimal import Decimal

import numpy as np
import pytest

from steelyard.evaluation import PointCase
from steelyard.quantities import Line, Shape
from steelyard.simulation.bench import measured, true_value
from steelyard.simulation.made_up import MadeUp, made_up
from steelyard.simulation.population import (
    NARROWED,
    PARTS,
    USUAL,
    WIDE,
    Part,
    RigKind,
    dominated_by,
    drawn_widths,
)

NEARLY_NOTHING = dict.fromkeys(Part, 1e-9)


def generator(seed: int = 1) -> np.random.Generator:
    """Random numbers of a fixed seed."""
    return np.random.Generator(np.random.SFC64(seed))


def bench(made: MadeUp, *, percent: float = 3.0, pulls: int = 4, seed: int = 1) -> PointCase:
    """A case of a tool that is `percent` off."""
    return measured(
        made, generator(seed), deviation_ratio=percent / 100, pulls=pulls, limit_percent=Decimal(4)
    )


def off_percent(case: PointCase) -> list[float]:
    """ISO deviations as the nominal kit sees them."""
    torques = [case.reference.torque_newton_metre(raw) for raw in case.raws]
    return [100 * (x - t) / t for x, t in zip(case.shown, torques, strict=True)]


@pytest.mark.parametrize("kind", RigKind)
@pytest.mark.parametrize("percent", [-4.0, 0.0, 4.0])
def test_a_kit_with_hardly_any_error_shows_the_true_deviation(kind: RigKind, percent: float) -> None:
    made = made_up(kind, NEARLY_NOTHING, generator())
    assert off_percent(bench(made, percent=percent)) == pytest.approx([percent] * 4, abs=0.25)


@pytest.mark.parametrize("kind", RigKind)
def test_a_kit_with_errors_shows_another_one(kind: RigKind) -> None:
    """One whole and shared error moves all pulls alike."""
    part = {RigKind.PAPER: Part.PAPER, RigKind.STATED: Part.STATED}.get(kind, Part.ARM)
    made = made_up(kind, {**NEARLY_NOTHING, part: 0.02}, generator())
    shown = [np.mean(off_percent(bench(made, seed=seed))) for seed in range(200)]
    assert np.mean(shown) == pytest.approx(3.0, abs=0.3)
    assert np.std(shown) == pytest.approx(2.0 if kind is RigKind.PAPER else 2.0 / math.sqrt(3), rel=0.25)


def test_a_transducers_readings_are_whole_steps() -> None:
    made = made_up(RigKind.STATED, {**dominated_by(Part.STATED), Part.DISPLAY: 0.01}, generator())
    steps = [raw / made.raw_step for raw in bench(made).raws]
    assert steps == pytest.approx([round(each) for each in steps], abs=1e-9)


def test_a_load_in_steps_brackets_the_click() -> None:
    made = made_up(RigKind.STEPS, {**NEARLY_NOTHING, Part.STEP: 0.01}, generator())
    cases = [bench(made, percent=0.0, pulls=5, seed=seed) for seed in range(200)]
    assert all(set(case.half_steps) == {made.load_step / 2} for case in cases)
    assert all(
        np.ptp(case.raws) <= made.load_step * (1 + 1e-9) for case in cases
    )  # the same masses each time
    middles = np.array([np.mean(case.raws) for case in cases])
    assert np.std(middles) == pytest.approx(made.load_step / math.sqrt(12), rel=0.25)


def test_an_indicating_tool_is_read_under_one_known_load() -> None:
    case = bench(made_up(RigKind.KNOWN_MASSES, dominated_by(Part.SPREAD), generator()))
    assert len(set(case.raws)) == 1
    assert len(set(case.shown)) > 1


def test_a_setting_made_once_is_off_alike_for_all_pulls() -> None:
    once = made_up(RigKind.STATED, {**NEARLY_NOTHING, Part.SETTING: 0.02}, generator())
    each = made_up(RigKind.STATED, {**NEARLY_NOTHING, Part.SETTING_EACH: 0.02}, generator())
    assert np.ptp(off_percent(bench(once))) < 0.01 < 0.5 < np.ptp(off_percent(bench(each)))
    assert [line.name for line in bench(once).tool_lines][:1] == ["setting"]


@pytest.mark.parametrize(
    ("shape", "u"),
    [
        (Shape.NORMAL, 1.0),
        (Shape.RECTANGULAR, 1 / math.sqrt(3)),
        (Shape.TRIANGULAR, 1 / math.sqrt(6)),
        (Shape.ARCSINE, 1 / math.sqrt(2)),
    ],
)
def test_true_values_are_spread_as_their_line_says(shape: Shape, u: float) -> None:
    random = generator()
    values = [true_value(Line("any", 5.0, 2.0, shape), random) for _ in range(20_000)]
    assert np.mean(values) == pytest.approx(5.0, abs=0.06)
    assert np.std(values) == pytest.approx(2.0 * u, rel=0.02)
    if shape is not Shape.NORMAL:
        assert max(abs(value - 5.0) for value in values) <= 2.0


@pytest.mark.parametrize("kind", RigKind)
def test_the_dominant_part_alone_is_wide(kind: RigKind) -> None:
    for part in PARTS[kind]:
        widths = dominated_by(part)
        assert widths[part] == WIDE[part]
        others = [each for each in PARTS[kind] if each is not part]
        assert all(widths[each] in (0.0, NARROWED * USUAL[each]) for each in others)


def test_widths_of_the_population_lie_about_the_usual_ones() -> None:
    random = generator()
    for _ in range(200):
        widths = drawn_widths(random)
        assert all(widths[part] <= 3 * USUAL[part] for part in Part)
        assert (widths[Part.SETTING] == 0.0) is not (widths[Part.SETTING_EACH] == 0.0)
        assert widths[Part.PIVOT] <= 0.02
