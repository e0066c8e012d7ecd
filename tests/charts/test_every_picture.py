"""What holds for every chart and drawing."""

import re
from itertools import combinations
from pathlib import Path

import pytest

import steelyard
from charts.looking import EVERY, MEASURE, SVG, many, places, texts, tree
from steelyard.charts import (
    MARKS,
    PastCheck,
    Share,
    budget_bars,
    deviation_chart,
    history_strip,
    mark,
    rig_drawing,
    tool_drawing,
)
from steelyard.charts.palette import PALETTE

STYLES = (Path(steelyard.__file__).parent / "web" / "static" / "charts.css").read_text("utf-8")
HOSTILE = '<script>alert("1")</script> & \'\x00\x1b\ud800'
SMALLEST = 14

each_picture = pytest.mark.parametrize("name", EVERY)


@each_picture
def test_it_is_an_image_with_a_title_and_a_text_alternative(name: str) -> None:
    chart, root = EVERY[name], tree(EVERY[name])
    assert root.tag == f"{SVG}svg" and root.get("role") == "img"
    assert root[0].tag == f"{SVG}title" and root[0].text
    assert root.get("aria-label") == chart.summary and chart.summary


@each_picture
def test_it_has_no_size_style_script_or_id(name: str) -> None:
    root = tree(EVERY[name])
    assert "width" not in root.attrib and "height" not in root.attrib
    for e in root.iter():
        assert e.tag not in (f"{SVG}style", f"{SVG}script")
        assert not {"style", "id", "href"} & set(e.attrib)
        assert not any(key.startswith("on") for key in e.attrib)


@each_picture
def test_everything_lies_inside_the_view_box(name: str) -> None:
    root = tree(EVERY[name])
    _, _, width, height = map(float, root.get("viewBox", "").split())
    raised = [float(r) for r in re.findall(r"translate\(0 (-?[\d.]+)\)", EVERY[name].svg)]
    for e in root.iter():
        for x, y in places(e):
            assert 0 <= x <= width, (e.tag, e.attrib, e.text)
            assert 0 <= y + sum(raised) <= height, (e.tag, e.attrib, e.text)


@each_picture
def test_no_text_is_tiny(name: str) -> None:
    for e in tree(EVERY[name]).iter(f"{SVG}text"):
        assert float(e.get("font-size", 0)) >= SMALLEST


@each_picture
def test_no_text_lies_on_another(name: str) -> None:
    boxes = [(list(places(e)), e.text) for e in tree(EVERY[name]).iter(f"{SVG}text")]
    for (((left, top), (right, bottom)), one), (((x1, y1), (x2, y2)), other) in combinations(boxes, 2):
        assert right <= x1 or x2 <= left or bottom <= y1 or y2 <= top, (one, other)


@each_picture
def test_numbers_are_rounded(name: str) -> None:
    assert not re.search(
        r"\d\.\d{3}|\de[-+]?\d|nan|inf\b", re.sub(r"<title>.*?</title>", "", EVERY[name].svg)
    )


@each_picture
def test_the_table_has_a_cell_under_every_head(name: str) -> None:
    table = EVERY[name].table
    assert all(len(row) == len(table.head) and all(row) for row in table.rows)


def test_the_same_values_give_the_same_bytes() -> None:
    first, again = (deviation_chart([many(9)], unit="N·m", measure=MEASURE) for _ in range(2))
    assert first == again and first.svg.encode() == again.svg.encode()


def test_hostile_text_stays_text() -> None:
    for chart in (
        deviation_chart([many(2)], unit=HOSTILE, measure=HOSTILE),
        budget_bars([Share(HOSTILE, 100)]),
        history_strip([PastCheck(HOSTILE, "2026-01-01", "in", 1, 1)]),
    ):
        root = tree(chart)
        assert not list(root.iter(f"{SVG}script")) and "<script" not in chart.svg
        assert any("<script>" in said for said in [*texts(root), root.get("aria-label", "")])


def test_every_class_is_drawn_by_the_style_sheet_and_none_besides() -> None:
    assert set(re.findall(r"\.(ch-[a-z-]+)", STYLES)) == set(PALETTE)


def test_style_sheet_and_paper_use_the_same_colours() -> None:
    fallbacks = set(re.findall(r"var\(--[a-z]+, (#[0-9a-f]+)\)", STYLES))
    colours = {v for one in PALETTE.values() for v in one.values() if v.startswith("#")}
    assert fallbacks == colours
    for css, one in PALETTE.items():
        for key, value in one.items():
            if value.startswith("#") or value == "currentColor":
                rule = rf"\.{css}\b[^{{}}]*\{{[^}}]*\b{key}: (?:var\(--[a-z]+, {value}\)|{value});"
                assert re.search(rule, STYLES), (css, key, value)


@pytest.mark.parametrize("name", MARKS)
def test_a_mark_is_hidden_from_readers_that_speak(name: str) -> None:
    root = tree(mark(name))
    assert root.get("aria-hidden") == "true" and root.get("viewBox") == "0 0 24 24"
    assert not {"style", "id"} & {key for e in root.iter() for key in e.attrib}
    assert all(0 <= v <= 24 for e in root.iter() for place in places(e) for v in place)


def test_no_two_marks_have_the_same_shape() -> None:
    shapes = {re.sub(r' (class|fill|stroke|color)="[^"]*"', "", mark(name)) for name in MARKS}
    assert len(shapes) == len(MARKS)


@pytest.mark.parametrize("draw", [mark, tool_drawing, rig_drawing])
def test_an_unknown_name_is_our_bug(draw: object) -> None:
    assert callable(draw)
    with pytest.raises(ValueError, match="spanner"):
        draw("spanner")
