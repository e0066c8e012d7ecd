"""Pouring until it clicks, from a file: our own example, and runs that never clicked."""

import pytest

from steelyard.desk import JudgedPoint, judge_check

FORM = """
steelyard_check = 1
date = 2026-11-20

[place]
gravity = "9.80665 m/s²"
buoyancy = false

[tool]
number = "T-01"
kind = "click-adjustable"
lowest = "20 N·m"
highest = "100 N·m"
graduation = "1 N·m"
own_reading = "0.636 kg"
own_reading_at = "450 mm"
pivot = "0 mm"

[limit]
percent = 4
source = "our own list"

[kit]
kind = "hung-weight"
name = "W-1"
arm = "450 mm"
droop = "0°"
drop = "0 mm"

[[kit.scale]]
name = "S-2"
knows = "mass"
step = "10 g"
within = "0 g"

[[point]]
target = "45 N·m"
pulls = [{pulls}]
"""
CLICKS = ("9.62 kg", "9.71 kg", "9.66 kg", "9.68 kg", "9.65 kg")


def point(*pulls: str) -> JudgedPoint:
    (judged,) = judge_check(FORM.replace("{pulls}", ", ".join(pulls)).encode()).points
    return judged


def test_the_bucket_at_the_click_gives_mean_and_scatter_of_the_example() -> None:
    """Own example: 450 mm, 0.636 kg of its own at the mark, g_n, no lift of the air: 45.45 N·m, s 0.15."""
    readings = point(*(f'"{kg}"' for kg in CLICKS)).result.readings
    torques = [(float(kg.split()[0]) + 0.636) * 0.45 * 9.80665 for kg in CLICKS]
    assert f"{readings.mean:.2f}" == "45.45"
    assert f"{readings.s:.2f}" == "0.15"
    assert readings.mean == pytest.approx(sum(torques) / 5, abs=1e-9)


def test_a_run_that_never_clicked_moves_the_estimate_up_and_widens_it() -> None:
    told = tuple(f'"{kg}"' for kg in CLICKS)
    full = '{ bucket = "9.70 kg", never_clicked = true }'
    clicked, never = point(*told).result, point(*told, full, full).result
    assert never.threshold is not None and clicked.threshold is None
    assert never.threshold.count == 7
    assert never.bolts_get_percent > clicked.bolts_get_percent
    assert never.iso.expanded_percent > clicked.iso.expanded_percent


def test_nothing_but_full_buckets_is_a_bound_and_never_in() -> None:
    result = point(*['{ bucket = "9.70 kg", never_clicked = true }'] * 3).result
    assert result.threshold is not None and not result.threshold.is_two_sided
    assert result.judged.verdict.value == "cant-tell"
    assert result.judged.cause.value == "never-clicked"
