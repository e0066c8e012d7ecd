"""The realistic point that every ratio is taken on: a click wrench at 60 N·m, a weight hung on its handle."""

from typing import Any

from steelyard.quantities import Line, Shape
from steelyard.rigs import Air, HungWeight, Load, OwnWeight, Pivot, hung_weight_reference

NOMINAL_NEWTON_METRE = 60.0
LOAD_KILOGRAM = 14.55


def realistic_point(*, pivoted: bool = False) -> tuple[Any, tuple[Line, ...]]:
    """Deviation model and its lines, 13 of them with a width (18 with the pivot)."""
    rig = HungWeight(
        arm=Line("arm", 0.41, 0.001),
        droop=Line("droop", 0.0, 0.035),
        drop=Line("drop", 0.0, 0.01),
        gravity=Line("gravity", 9.81, 0.0005),
        gravity_adjust=Line("gravity-adjust", 9.81),
        air=Air(Line("air-density", 1.2, 0.05), Line("load-density", 7200.0, 300.0)),
    )
    own = OwnWeight(Line("own-mass", 0.9, 0.005), Line("own-arm", 0.18, 0.005))
    head = Pivot(
        place=Line("pivot", 0.02, 0.02),
        mark=Line("mark", 0.40, 0.002),
        tool=Line("tool-mass", 0.9, 0.005),
        outer_ratio=Line("outer", 0.8, 0.2),
        head_place_ratio=Line("head", 0.5, 0.5),
    )
    placements = Line("placements", 0.0, 0.01, Shape.NORMAL, dof=9)
    load = Load(LOAD_KILOGRAM, (Line("scale", 0.0, 0.05), placements))
    reference = hung_weight_reference(rig, load, own=own, pivot=head if pivoted else None)
    torque, count = reference.model, len(reference.lines)

    def deviation(maths: Any, *v: Any) -> Any:
        mean, spread, setting = v[count:]
        shown = (1 + mean + spread + setting) * NOMINAL_NEWTON_METRE
        return shown / torque(maths, LOAD_KILOGRAM, *v[:count]) - 1

    pulls = (
        Line("mean", 0.0, 0.004, Shape.NORMAL, dof=4, shared=False),
        Line("reproducibility", 0.0, 0.003),
        Line("setting", 0.0, 0.0048, shared=False),
    )
    return deviation, (*reference.lines, *pulls)
