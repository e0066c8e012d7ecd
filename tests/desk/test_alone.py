"""What a scale or a weight knows by itself."""

from typing import Any

import pytest

from steelyard.desk import (
    Acting,
    Body,
    MassAlone,
    ScaleAlone,
    ability,
    add_rig,
    add_tool,
    alone,
    here,
    rig_body,
)
from steelyard.desk.ability import tools_for
from steelyard.store import MemoryLedger
from web.shop import HOUR, CountingDice, StandingClock

WRENCH = {
    "number": "T-01",
    "kind": "click-adjustable",
    "lowest": "20",
    "highest": "100",
    "graduation": "1",
    "grip_mark": "450 ± 2",
    "mass": "1.300 ± 0.005",
    "balance_point": "220 ± 3",
    "limit": "own",
    "limit.percent": "4",
    "limit.source": "our own list",
}


@pytest.fixture
def acting() -> Acting:
    return Acting(MemoryLedger(), StandingClock(), CountingDice())


def rig(acting: Acting, sort: str, **typed: str) -> Body:
    return rig_body(acting.ledger, add_rig(acting, sort, typed))


def asked(acting: Acting, body: Body) -> Any:
    return alone(body, here(acting.ledger), tools_for(acting.ledger, body))


def test_a_scale_knows_a_heavier_load_better(acting: Acting) -> None:
    found = asked(acting, rig(acting, "scale", name="S-2", step="5", knows="mass", within="10"))
    assert isinstance(found, ScaleAlone)
    ten = next(known for known in found.loads if known.kilogram == 10)
    # by hand: 10 g and half of 5 g, both rectangular, k = 2: 2 √(10² + 2.5²) / √3 = 11.90 g of 10 kg
    assert ten.expanded_percent == pytest.approx(0.1190, abs=5e-5)
    assert [known.expanded_percent for known in found.loads] == sorted(
        (known.expanded_percent for known in found.loads), reverse=True
    )


def test_from_which_load_a_scale_is_good_enough(acting: Acting) -> None:
    found = asked(acting, rig(acting, "scale", name="S-2", step="5", knows="mass", within="10"))
    # by hand: 11.90 g is 1 % of 1.19 kg and 4 % of 0.298 kg
    assert (found.quarter_kilogram, found.whole_kilogram) == (
        pytest.approx(1.19, rel=0.06),
        pytest.approx(0.298, rel=0.06),
    )
    assert found.quarter_kilogram >= 1.19
    assert found.whole_kilogram >= 0.297


@pytest.mark.parametrize(("within", "quarter", "whole"), [("30 kg", False, False), ("2 kg", False, True)])
def test_a_coarse_scale_is_good_enough_at_no_load(
    acting: Acting, within: str, quarter: bool, whole: bool
) -> None:
    found = asked(acting, rig(acting, "scale", name="S-1", step="100", knows="mass", within=within))
    assert (found.quarter_kilogram is not None, found.whole_kilogram is not None) == (quarter, whole)


def test_a_weight_makes_a_torque_at_the_arms_here_or_at_the_handles(acting: Acting) -> None:
    mass = rig(acting, "mass", name="M-10", value="10 kg ± 10 g")
    assert asked(acting, mass).arms == ()
    add_tool(acting, WRENCH)
    (handle,) = asked(acting, mass).arms
    assert (handle.name, handle.newton_metre) == ("T-01", pytest.approx(44.13, abs=0.005))
    add_rig(acting, "hung-weight", {"name": "W-1", "arm": "500 ± 1"})
    found = asked(acting, mass)
    assert isinstance(found, MassAlone)
    assert [(arm.name, round(arm.newton_metre, 2)) for arm in found.arms] == [("W-1", 49.03)]
    # by hand: 10 g rectangular of 10 kg, k = 2: 0.2 / √3 %
    assert found.known.expanded_percent == pytest.approx(0.11547, abs=5e-6)


def test_an_arm_is_a_kit_of_its_own(acting: Acting) -> None:
    assert asked(acting, rig(acting, "hung-weight", name="W-1", arm="450 ± 1")) is None


def test_a_weight_decides_with_the_handle_and_everything_else_that_hangs(acting: Acting) -> None:
    tool = add_tool(acting, WRENCH)
    mass = rig(acting, "mass", name="M-10", value="10 kg ± 10 g")
    rig(acting, "mass", name="M-20", value="20 kg ± 20 g")
    found = ability(acting.ledger, mass["id"], tool, today=HOUR.date())
    assert found.arm is None
    assert found.is_hung
    assert [point.able is not None for point in found.points] == [True, True, True]
