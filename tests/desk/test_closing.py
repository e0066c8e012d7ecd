"""What closing offers and says: the next date for a verdict, and the point that made it."""

from datetime import date

import pytest

from desk.bench_shop import READINGS, BenchShop, bench_shop
from steelyard.desk import (
    AS_FOUND,
    Body,
    check_view,
    close_check,
    deciding,
    judge_phase,
    look_over,
    offered_due,
    open_check,
    turn_adjuster,
    verdict_at_close,
)

DAY = date(2026, 11, 30)
SCATTERED = "19.3 20.7 19.3 20.7 20.0"
ONE_FAR = "60.0 60.0 60.0 60.0 57.0"
GOOD = "100.0 100.0 100.0 100.0 100.0"


def tool_of(shop: BenchShop) -> Body:
    return check_view(shop.workshop.ledger, shop.check).tool


@pytest.mark.parametrize(
    ("verdict", "interval", "due"),
    [
        (None, None, date(2027, 11, 30)),
        ("in", None, date(2027, 11, 30)),
        ("in", 3, date(2027, 2, 28)),
        ("no-limit", None, date(2027, 11, 30)),
        ("cant-tell", None, date(2026, 12, 30)),
        ("cant-tell", 1, date(2026, 12, 30)),
        ("out", 3, None),
        ("stopped", None, None),
    ],
)
def test_what_is_not_known_good_is_offered_no_long_time(
    verdict: str | None, interval: int | None, due: date | None
) -> None:
    assert offered_due({"interval_months": interval}, DAY, verdict=verdict) == due


def test_the_verdict_at_the_close_is_that_of_the_last_phase_and_none_while_one_is_missing() -> None:
    shop = bench_shop()
    shop.stand()
    assert verdict_at_close(shop.body) is None
    shop.pull(READINGS)
    judge_phase(shop.acting, shop.check, AS_FOUND, {})
    assert verdict_at_close(shop.body) == "cant-tell"
    turn_adjuster(shop.acting, shop.check, {"turns": "1/4", "way": "in"})
    assert verdict_at_close(shop.body) is None


def test_a_damaged_tool_ends_stopped() -> None:
    shop = bench_shop()
    shop.check = open_check(shop.acting, shop.tool, {"why": "due"})
    look_over(shop.acting, shop.check, {"damaged": "yes", "look_note": "bent"})
    assert verdict_at_close(shop.body) == "stopped"


def test_the_point_that_is_out_is_named_though_another_reaches_farther() -> None:
    shop = bench_shop()
    shop.stand()
    shop.pull((SCATTERED, ONE_FAR, GOOD))
    judge_phase(shop.acting, shop.check, AS_FOUND, {})
    content = shop.body["verdicts"][AS_FOUND]["content"]
    assert [point["verdict"] for point in content["points"]] == ["cant-tell", "out", "in"]
    assert content["points"][1]["cause"] == "pull-outside"
    assert content["worst_point"] == "20 N·m cw"
    named = deciding(content)
    assert named is not None
    assert named["target"] == "60 N·m"
    close_check(shop.acting, shop.check, {})
    told = tool_of(shop)["checks"][-1]
    assert told["worst_percent"] == named["counted"]["deviation_percent"]
    assert told["worst_expanded_percent"] == named["counted"]["expanded_percent"]
