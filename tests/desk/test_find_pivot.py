"""The pivot found from clicks at two marks stands in the tool, and checks from then on reckon with it."""

import pytest

from desk.hung_shop import HungShop, hung_shop
from steelyard.desk import (
    AS_FOUND,
    add_tool,
    change_tool,
    close_check,
    judge_phase,
    record_body,
    retire_tool,
    tool_body,
    tool_typed_again,
    tool_view,
)
from steelyard.desk.find_pivot import find_pivot, keep_pivot, may_have_pivot
from steelyard.errors import Conflict, InputRefused, NotFound
from steelyard.records import Kind
from web.shop import make_workshop

# a pivot at 28 mm: 25 kg · 272 mm = 15.384615… kg · 442 mm, own example
CLEAR = {
    "near_load": "25 ± 0.02",
    "near_arm": "300 ± 0.5",
    "far_load": "15.384615 ± 0.02",
    "far_arm": "470 ± 0.5",
}
ALIKE = {"near_load": "25 ± 0.02", "near_arm": "430 ± 1", "far_load": "24.4 ± 0.02", "far_arm": "440 ± 1"}
BELOW = "M-10 + M-2 + M-1 + B-500 + B-200"
# 25 kg · 300 mm = 20 kg · 375 mm is a pivot at 0 mm; more load far out puts it beyond the drive, own example
OUTSIDE = {"near_load": "25 ± 0.01", "near_arm": "300 ± 0.1", "far_load": "22 ± 0.01", "far_arm": "375 ± 0.1"}


@pytest.fixture
def shop() -> HungShop:
    """A wrench with its grip mark, weights and an arm."""
    return hung_shop()


def pivot_of(shop: HungShop) -> str | None:
    pivot: str | None = tool_body(shop.workshop.ledger, shop.tool)["tool"].get("pivot")
    return pivot


def test_what_two_marks_tell_stands_in_the_tool_with_its_plus_minus(shop: HungShop) -> None:
    keep_pivot(shop.acting, shop.tool, CLEAR)
    assert pivot_of(shop) == "28.0 mm ± 1.9 mm"


def test_its_history_says_how_it_was_found(shop: HungShop) -> None:
    keep_pivot(shop.acting, shop.tool, CLEAR)
    view = tool_view(shop.workshop.ledger, shop.tool, shop.acting.today())
    assert view.events[0].what == "pivot-found"
    assert view.events[0].pivot == {
        "pivot": "28.0 mm ± 1.9 mm",
        "near_load": "25 ± 0.02 kg",
        "near_arm": "300 ± 0.5 mm",
        "far_load": "15.384615 ± 0.02 kg",
        "far_arm": "470 ± 0.5 mm",
    }
    (entry,) = (e for e in shop.workshop.ledger.entries() if e.kind == Kind.PIVOT_FOUND)
    assert entry.payload["low_metre"] < 0.028 < entry.payload["high_metre"]


def test_everything_else_of_the_tool_stays(shop: HungShop) -> None:
    before = tool_body(shop.workshop.ledger, shop.tool)
    keep_pivot(shop.acting, shop.tool, CLEAR)
    after = tool_body(shop.workshop.ledger, shop.tool)
    assert {**after["tool"], "pivot": None} == {**before["tool"], "pivot": None}
    assert {n: after[n] for n in ("limit", "next_due", "checks")} == {
        n: before[n] for n in ("limit", "next_due", "checks")
    }


def judged(shop: HungShop) -> tuple[float, list[str]]:
    """A check by clicks at 45 N·m, the load hung at 300 mm: setting over torque, and its doubts."""
    shop.hang(targets="45", droop="0 ± 1", drop="0 ± 5", arm="300 ± 0.5")
    for _ in range(3):
        shop.take({"no_click": BELOW, "click": f"{BELOW} + B-100"})
    judge_phase(shop.acting, shop.check, AS_FOUND, {})
    content = shop.body["verdicts"][AS_FOUND]["content"]
    deviation = content["points"][0]["counted"]["deviation_percent"]
    return 1 + deviation / 100, [doubt["code"] for doubt in content["doubts"]]


def test_a_check_after_it_corrects_to_the_grip_mark_and_an_earlier_record_stays(shop: HungShop) -> None:
    assumed, doubts = judged(shop)
    assert "pivot-unknown" in doubts
    record = close_check(shop.acting, shop.check, {"next_due": "2027-11-25"})
    sealed = record_body(shop.workshop.ledger, record)
    keep_pivot(shop.acting, shop.tool, CLEAR)
    found, clear = judged(shop)
    assert "pivot-unknown" not in clear
    # hung at 300 mm, grip mark at 450 mm: T goes with (300 mm − p)/(450 mm − p); 20 mm was assumed
    assert found / assumed == pytest.approx((280 / 430) / (272 / 422), abs=0.002)
    assert record_body(shop.workshop.ledger, record) == sealed


def test_loads_are_put_together_from_the_weights_and_scales_that_are_here(shop: HungShop) -> None:
    marks = {"near_arm": "300 ± 0.5", "far_arm": "470 ± 0.5"}
    near, far = "M-10 + M-2", "5 kg on S-2 + M-2 + B-200 + B-100"
    by_name = find_pivot(shop.workshop.ledger, shop.tool, {"near_load": near, "far_load": far, **marks})
    # ± of the marks: √(5² + 2²)/√3 g and √(2² + 1² + 1² + 10² + 2.5²)/√3 g as a rectangle's half-width
    summed = {"near_load": "12 kg ± 5.4 g", "far_load": "7.3 kg ± 10.6 g"}
    by_sum = find_pivot(shop.workshop.ledger, shop.tool, {**summed, **marks})
    assert by_name.stands is not None and by_name.stands == by_sum.stands
    assert by_name.typed["near_load"] == near


@pytest.mark.parametrize(
    ("load", "wanted"),
    [
        ("M-10 + M-10", "want-each-piece-once"),
        ("M-10 + M-99", "want-unit"),
        ("M-10 + 2 kg on S-9", "want-scale-name"),
    ],
)
def test_a_load_of_pieces_that_are_not_here_is_refused_at_its_field(
    shop: HungShop, load: str, wanted: str
) -> None:
    with pytest.raises(InputRefused) as refused:
        find_pivot(shop.workshop.ledger, shop.tool, {**CLEAR, "near_load": load})
    assert (refused.value.field, refused.value.wanted) == ("near_load", wanted)


def test_loads_too_alike_offer_nothing_to_note(shop: HungShop) -> None:
    found = find_pivot(shop.workshop.ledger, shop.tool, ALIKE)
    assert found.stands is None
    assert found.answer.lines[0][0] == "reckon-pivot-alike"
    with pytest.raises(InputRefused) as refused:
        keep_pivot(shop.acting, shop.tool, ALIKE)
    assert refused.value.wanted == "want-pivot-told"
    assert pivot_of(shop) is None


def test_loads_that_contradict_every_pivot_offer_nothing_to_note(shop: HungShop) -> None:
    found = find_pivot(shop.workshop.ledger, shop.tool, OUTSIDE)
    assert found.stands is None
    assert found.answer.findings[0].code == "reckon-pivot-outside"
    with pytest.raises(InputRefused):
        keep_pivot(shop.acting, shop.tool, OUTSIDE)


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({}, "near_load"),
        ({**CLEAR, "near_load": "heavy"}, "near_load"),
        ({**CLEAR, "near_arm": ""}, "near_arm"),
        ({**CLEAR, "near_arm": "35"}, "near_arm"),
        ({**CLEAR, "far_arm": "290"}, "far_arm"),
        ({**CLEAR, "far_load": "26"}, "near_load"),
        ({**CLEAR, "far_load": "-1"}, "far_load"),
        ({"near_load": "25", "near_arm": "300", "far_load": "15", "far_arm": "470"}, "near_load"),
    ],
)
def test_what_cannot_be_is_refused_at_its_field(shop: HungShop, typed: dict[str, str], field: str) -> None:
    with pytest.raises(InputRefused) as refused:
        keep_pivot(shop.acting, shop.tool, typed)
    assert refused.value.field == field


def test_a_tool_without_a_pivot_is_not_asked(shop: HungShop) -> None:
    ledger, wrench = shop.workshop.ledger, tool_body(shop.workshop.ledger, shop.tool)
    assert may_have_pivot(wrench)
    typed = tool_typed_again(wrench)
    change_tool(shop.acting, shop.tool, {**typed, "length_independent": "yes"})
    assert not may_have_pivot(tool_body(ledger, shop.tool))
    with pytest.raises(InputRefused) as refused:
        find_pivot(ledger, shop.tool, CLEAR)
    assert refused.value.wanted == "want-pivot-tool"
    change_tool(shop.acting, shop.tool, typed)
    retire_tool(shop.acting, shop.tool, {})
    assert not may_have_pivot(tool_body(ledger, shop.tool))
    beam = {**typed, "number": "T-09", "kind": "beam"}
    assert not may_have_pivot(tool_body(ledger, add_tool(shop.acting, beam)))


def test_a_tool_that_is_not_there_has_no_pivot() -> None:
    with pytest.raises(NotFound):
        find_pivot(make_workshop().ledger, "nobody", CLEAR)


def test_somebody_who_wrote_meanwhile_is_not_written_over(shop: HungShop) -> None:
    body = tool_body(shop.workshop.ledger, shop.tool)
    change_tool(shop.acting, shop.tool, {**tool_typed_again(body), "notes": "oiled"})
    with pytest.raises(Conflict):
        keep_pivot(shop.acting, shop.tool, CLEAR, body["last"])


def test_the_same_submission_notes_it_once(shop: HungShop) -> None:
    seen = tool_body(shop.workshop.ledger, shop.tool)["last"]
    for _ in range(2):
        keep_pivot(shop.workshop.acting(submission="once"), shop.tool, CLEAR, seen)
    assert sum(entry.kind == Kind.PIVOT_FOUND for entry in shop.workshop.ledger.entries()) == 1
