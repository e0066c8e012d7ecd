"""Deviation charts and error curves: values lie where they should, state is told by shape."""

import re
from xml.etree.ElementTree import Element

import pytest

from charts.looking import (
    MEASURE,
    SVG,
    VERDICTS,
    deviations,
    many,
    places,
    point,
    series,
    texts,
    tree,
    with_class,
)
from steelyard.charts import Point, Series, error_curve
from steelyard.charts.points import limit_cells
from steelyard.charts.scale import Scale, spanning, spread, ticks
from steelyard.charts.shapes import stage_marker, verdict_shape

ROUNDED = 0.011  # two coordinates, each rounded to two decimals


def grid(root: Element) -> dict[float, float]:
    """Deviation → height, read from the labels at the left."""
    said = {e.text: float(e.get("y", 0)) - 14 * 0.36 for e in with_class(root, "ch-quiet")}
    return {float(t.replace("−", "-")): y for t, y in said.items() if t and re.fullmatch(r"[+−]?\d+", t)}


def test_the_limit_band_lies_exactly_at_the_limit() -> None:
    root = tree(deviations(series(point(20, -5), point(100, 6))))
    heights = grid(root)
    band = with_class(root, "ch-band")[0]
    (_, upper), (_, lower) = places(band)
    assert upper == pytest.approx(heights[4.0], abs=ROUNDED)
    assert lower == pytest.approx(heights[-4.0], abs=ROUNDED)


def test_each_marker_lies_at_its_deviation_and_its_bar_spans_the_interval() -> None:
    root = tree(deviations(series(point(20, -2, 1.5), point(100, 4, 1, "out"))))
    heights = grid(root)
    zero, per = heights[0.0], (heights[-2.0] - heights[2.0]) / 4
    markers = [e for e in with_class(root, "ch-open") if e.get("r") == "8"]
    assert [(zero - float(e.get("cy", 0))) / per for e in markers] == pytest.approx([-2, 4], abs=0.01)
    bars = [sorted({y for _, y in places(g[0])}) for g in root.iter(f"{SVG}g") if len(g) == 1]
    spans = [((zero - low) / per, (zero - high) / per) for high, low in bars[:2]]
    assert spans == [pytest.approx((-3.5, -0.5), abs=0.01), pytest.approx((3, 5), abs=0.01)]


def test_more_torque_lies_further_right_and_more_deviation_higher() -> None:
    root = tree(deviations(series(*(point(t, t / 30) for t in (90, 8, 33, 34, 61)))))
    at = [
        (float(e.get("cx", 0)), float(e.get("cy", 0)))
        for e in with_class(root, "ch-open")
        if e.get("r") == "8"
    ]
    assert at == sorted(at) and [y for _, y in at] == sorted((y for _, y in at), reverse=True)


def test_no_band_is_drawn_where_no_limit_applies() -> None:
    root = tree(deviations(series(point(5, 1, verdict="no-limit", limit=None))))
    assert not with_class(root, "ch-band") and not with_class(root, "ch-hatch")
    assert "no limit" in texts(root)


def test_a_limit_reaches_half_way_to_its_neighbours() -> None:
    points = [point(10, 0, limit=4), point(20, 0, limit=4), point(40, 0, limit=6), point(60, 0, limit=None)]
    assert list(limit_cells(points, low=5, high=65)) == [(5, 30, 4), (30, 50, 6), (50, 65, None)]


def test_found_and_left_differ_in_outline_and_verdicts_in_sign() -> None:
    found, left = (stage_marker(stage, "in", 0, 0, radius=8) for stage in ("as-found", "as-left"))
    assert "<circle" in found and "ch-open" in found and "<rect" in left and "ch-full" in left
    signs = {re.findall(r' d="([^"]*)"', stage_marker("as-found", v, 0, 0, radius=8))[0] for v in VERDICTS}
    assert len(signs) == len(VERDICTS)
    assert len({re.sub(r'="[^"]*"', "", verdict_shape(v, 0, 0, radius=8)) for v in VERDICTS}) >= 3


def test_the_key_names_in_words_what_occurs_and_nothing_else() -> None:
    said = texts(tree(deviations(series(point(20, 1), point(60, 5, verdict="out")))))
    assert {"as found", "in", "out", "limit ±4 %"} <= set(said)
    assert not {"as left", "can't tell", "no limit"} & set(said)


def test_each_direction_has_a_panel_with_its_own_limit() -> None:
    root = tree(deviations(series(point(20, 1)), series(point(20, 1, limit=6), direction="ccw")))
    assert {"clockwise", "counter-clockwise"} <= set(texts(root))
    bands = [float(e.get("height", 0)) for e in with_class(root, "ch-band")[:2]]
    assert bands[1] / bands[0] == pytest.approx(1.5, abs=0.001)


def test_the_table_repeats_every_point() -> None:
    chart = deviations(many(24), many(3, stage="as-left", direction="ccw"))
    assert len(chart.table.rows) == 27
    assert chart.table.rows[0] == ("as found", "clockwise", "5", "−4.00", "0.80", "±4 %", "in")
    assert chart.table.rows[3][5:] == ("no limit", "no limit")


def test_the_summary_counts_and_names_the_worst() -> None:
    said = deviations(series(point(20, -5.6, 1.1, "out"), point(100, 1))).summary
    assert "2 points from 20 to 100 N·m" in said and "1 in, 1 out" in said
    assert "largest deviation −5.60 % ± 1.10 % at 20 N·m" in said


def test_the_decimal_mark_is_the_workshops() -> None:
    chart = error_curve([series(point(2.5, 0.25))], unit="N·m", measure=MEASURE, decimal_mark=",")
    assert chart.table.rows[0][2:5] == ("2,5", "+0,25", "1,00") and "2,5" in texts(tree(chart))


def test_the_curve_ends_at_its_outermost_points() -> None:
    root = tree(error_curve([series(point(20, 1), point(100, 2), point(60, 0))], unit="N·m", measure=MEASURE))
    middle = [
        (float(e.get("cx", 0)), float(e.get("cy", 0))) for e in root.iter(f"{SVG}circle") if e.get("r") == "5"
    ]
    assert list(places(with_class(root, "ch-curve")[0])) == middle[:3]
    reach = [x for x, _ in places(with_class(root, "ch-reach")[0])]
    assert (min(reach), max(reach)) == (middle[0][0], middle[2][0])


def test_one_point_is_not_joined_to_anything() -> None:
    chart = error_curve([series(point(20, 1))], unit="N·m", measure=MEASURE)
    panel = chart.svg.split("torque in")[0]
    assert "ch-curve" not in panel and "known at 20 N·m only" in panel


@pytest.mark.parametrize("number", [float("nan"), float("inf")])
def test_a_number_that_is_not_finite_is_our_bug(number: float) -> None:
    with pytest.raises(ValueError, match="finite"):
        Point(20, number, 0, 1, "in", 4)


def test_what_cannot_be_drawn_is_our_bug() -> None:
    for wrong in (
        lambda: deviations(),
        lambda: Series("as-found", "cw", ()),
        lambda: many(1, direction="up"),
    ):
        with pytest.raises(ValueError):
            wrong()
    with pytest.raises(ValueError, match="verdict"):
        point(20, 1, verdict="good")
    with pytest.raises(ValueError, match="stage"):
        many(1, stage="later")
    with pytest.raises(ValueError, match="direction"):
        error_curve([many(1), many(2)], unit="N·m", measure=MEASURE)


def test_a_scale_is_straight_and_its_ticks_are_round() -> None:
    assert Scale(0, 10, 100, 0).at(2.5) == 75
    assert ticks(Scale(-4.4, 4.4, 0, 1), most=6) == (-4, -2, 0, 2, 4)
    assert all(len(ticks(Scale(0, high, 0, 1), most=6)) <= 7 for high in (1e-3, 0.7, 9, 11, 123456))
    with pytest.raises(ValueError, match="finite"):
        spanning([], start=0, end=1)


def test_neighbours_are_moved_apart_in_their_order_and_stay_inside() -> None:
    assert spread([5, 5, 50], gap=10, low=0, high=100) == (5, 15, 50)
    assert spread([90, 99, 99], gap=10, low=0, high=100) == (80, 90, 100)
    assert spread([1, 1, 1], gap=100, low=0, high=10) == (0, 5, 10)
