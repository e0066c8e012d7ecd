"""A file of every form stays readable, and the same file still gives the same digits.

The golden result was printed by `steelyard check tests/formats/check_1.toml --json`. Analytic digits must
come back as they are; drawn ones within twice their stored numerical tolerance, whatever NumPy draws.
"""

import json
from pathlib import Path
from typing import Any

import pytest

from steelyard.desk import check_content, judge_check

HERE = Path(__file__).parent
DRAWN = {"low_percent", "high_percent", "expanded_percent", "expanded_kit_percent", "reach_percent"}
OF_THE_RUN = {"numpy", "tolerance_percent", "inside_probability"}


@pytest.fixture(scope="module")
def golden() -> dict[str, Any]:
    content: dict[str, Any] = json.loads((HERE / "result_1.json").read_text("utf-8"))
    return content


@pytest.fixture(scope="module")
def now() -> dict[str, Any]:
    return check_content(judge_check((HERE / "check_1.toml").read_bytes()))


def test_the_first_check_form_gives_the_same_result(golden: dict[str, Any], now: dict[str, Any]) -> None:
    tolerance = max(point["counted"]["method"]["tolerance_percent"] for point in golden["points"])
    agrees(now, golden, tolerance=tolerance, place="result")


def agrees(got: Any, want: Any, *, tolerance: float, place: str) -> None:
    """Raise unless two contents agree: drawn numbers within twice the tolerance, all else to the digit."""
    key = place.rsplit(".", 1)[-1]
    if isinstance(want, dict):
        assert got.keys() >= want.keys(), place
        for name in want.keys() - OF_THE_RUN:
            agrees(got[name], want[name], tolerance=tolerance, place=f"{place}.{name}")
    elif isinstance(want, list):
        assert len(got) == len(want), place
        for i, (one, other) in enumerate(zip(got, want, strict=True)):
            agrees(one, other, tolerance=tolerance, place=f"{place}[{i}]")
    elif isinstance(want, float):
        bound = 2 * tolerance if key in DRAWN else 1e-12 * max(1.0, abs(want))
        assert abs(got - want) <= bound, f"{place}: {got} is not {want}"
    else:
        assert got == want, place
