"""Numbers in the decimal mark and with the minus of the reader, on every page of a workshop with a comma.

The workshop is invented here; all that is typed in it has a comma, so that every point in a number is ours.
"""

import random
import re
from collections.abc import Iterator
from html import unescape

import pytest

from desk.hung_shop import HungShop, hung_shop
from steelyard.desk import (
    AS_FOUND,
    add_rig,
    add_tool,
    answer_trial,
    close_check,
    end_run,
    judge_phase,
    say_water,
    set_workshop,
    trials_at,
    waive_adjusting,
)
from steelyard.desk.typed_table import Column
from steelyard.telling import marked_again, marked_text, said_in_mark
from web.shop import Shop, shop

POINT = re.compile(r"(?<![\d.])\d+\.\d+(?!\.?\d)")  # what has two of them is the number of an edition
HYPHEN = re.compile(r"(?<![\w−–-])-\d")
NOT_SAID = re.compile(r"<(script|style|template)\b.*?</\1>|<p class=\"hint\"[^>]*>.*?</p>", re.DOTALL)
WRENCH = {
    "number": "T-44",
    "kind": "click-adjustable",
    "lowest": "20",
    "highest": "100",
    "graduation": "0,5",
    "directions": "cw",
    "grip_mark": "450,5 ± 1,5",
    "mass": "1,300 ± 0,005",
    "balance_point": "220,5 ± 3",
    "limit.published": "own",
    "limit.percent": "2,5",
    "limit.source": "our own list",
}
PIVOT = {
    "near_load": "25 ± 0,02",
    "near_arm": "300,5 ± 0,5",
    "far_load": "15,3846 ± 0,02",
    "far_arm": "470 ± 0,5",
}
TRUE_PERCENT, SCATTER_PERCENT = -5.1, 0.4


@pytest.fixture(scope="module")
def desk() -> HungShop:
    """A check with answers at one point and poured runs at the other, sealed; a weight from the scale."""
    ready = hung_shop()
    set_workshop(ready.acting, {"decimal_mark": ","})
    add_rig(ready.acting, "mass", {"name": "P-1", "value": "12,19 ± 0,28"})
    ready.tool = add_tool(ready.acting, WRENCH)
    ready.hang(targets="62,5; 80", arm="450,5 ± 0,5")
    dice = random.Random(2)
    for _ in range(8):
        wanted = trials_at(ready.body, AS_FOUND, 0).next
        assert wanted is not None
        clicked = dice.gauss(TRUE_PERCENT, SCATTER_PERCENT) <= wanted.level_percent
        typed = {"load": wanted.load, "clicked": "yes" if clicked else "no"}
        answer_trial(ready.acting, ready.check, AS_FOUND, 0, typed)
    say_water(ready.acting, ready.check, {"dribble": "20,5"})
    for shows in ("7,55", "7,615", "7,6"):
        run = {"shows": shows, "scale": "S-2", "beside": "M-10", "ended": "clicked"}
        end_run(ready.acting, ready.check, AS_FOUND, 1, run)
    return ready


@pytest.fixture(scope="module")
def open_shop(desk: HungShop) -> Iterator[Shop]:
    with shop(desk.workshop) as opened:
        yield opened


def not_ours(text: str) -> list[str]:
    """The numbers of a page that have a point or a hyphen for a minus; hints, which are fixed, left out."""
    plain = re.sub(r"<[^>]*>", "\n", NOT_SAID.sub(" ", text))
    values = re.findall(r'(?:value|aria-label)="([^"]*)"', text)
    lines = [line for line in unescape("\n".join([plain, *values])).splitlines() if line.strip()]
    return [line for line in lines if POINT.search(line) or HYPHEN.search(line)]


def test_no_number_of_the_trials_and_of_poured_runs_has_a_point(desk: HungShop, open_shop: Shop) -> None:
    place = f"/bench/{desk.check}"
    pages = [f"{place}/as-found/trials?point=0{way}" for way in ("", "&way=poured")]
    pages += [f"{place}/as-found/pour?point=1", f"{place}/as-found?point=1", f"{place}/adjust"]
    assert {page: found for page in pages if (found := not_ours(open_shop.page(page)))} == {}


def test_no_number_of_a_verdict_and_its_record_has_a_point(desk: HungShop, open_shop: Shop) -> None:
    judge_phase(desk.acting, desk.check, AS_FOUND, {"incomplete": "yes"})
    assert not_ours(open_shop.page(f"/bench/{desk.check}/verdict")) == []
    waive_adjusting(desk.acting, desk.check, {"waive_reason": "shown as it is"})
    record = close_check(desk.acting, desk.check, {"next_due": "2027-11-25"})
    text = open_shop.page(f"/book/{record}")
    assert not_ours(text) == []
    assert "limit ±2,5 %" in unescape(text)
    assert "7,615 kg on S-2" in text and "07,6" not in text  # as it was typed


def test_no_number_of_a_weighing_a_rig_and_a_pivot_has_a_point(desk: HungShop, open_shop: Shop) -> None:
    (scale,) = re.findall(r'href="/rigs/(\w+)">S-2<', open_shop.page("/rigs"))
    weighed = {"scale": scale, "with": "92,8", "without": "80,6"}
    kept = open_shop.send("/rigs/weigh/difference", 303, name="P-7", **weighed)
    tool = f"/rack/{desk.tool}"
    open_shop.send(f"{tool}/pivot", 303, **PIVOT)
    pages = ["/rigs", kept, f"{kept}/change", f"/rigs/weigh?mass={kept.rpartition('/')[2]}"]
    coarse = add_rig(desk.acting, "scale", {"name": "S-9", "step": "0,1 kg", "knows": "force"})
    pages += [f"/rigs/{one}?tool={desk.tool}" for one in (scale, coarse)]
    pages += [tool, f"{tool}/change", f"{tool}/pivot", "/rigs/weigh"]
    assert {page: found for page in pages if (found := not_ours(open_shop.page(page)))} == {}
    answered = ((f"{tool}/pivot", PIVOT), ("/rigs/weigh/difference", weighed))
    answers = [open_shop.client.get(page, params=typed).text for page, typed in answered]
    assert [found for text in answers if (found := not_ours(text))] == []


@pytest.mark.parametrize(
    ("text", "comma", "point"),
    [
        ("-5.08 % and 1.9 times", "−5,08 % and 1,9 times", "−5.08 % and 1.9 times"),
        ("12.19 kg ± 0.28 kg", "12,19 kg ± 0,28 kg", "12.19 kg ± 0.28 kg"),
        ("M-10 + B-200 on 2026-11-25", "M-10 + B-200 on 2026-11-25", "M-10 + B-200 on 2026-11-25"),
        ("edition 1.2.3", "edition 1.2.3", "edition 1.2.3"),
        ("1.234,5 kg", "1.234,5 kg", "1.234,5 kg"),
    ],
)
def test_a_text_has_the_readers_mark_and_a_true_minus(text: str, comma: str, point: str) -> None:
    assert (marked_text(text, ","), marked_text(text, ".")) == (comma, point)


def test_of_a_sentence_what_was_typed_stays_as_it_is() -> None:
    facts = {"point": "S 2.5", "drift_percent": -0.25, "now_percent": 1.5}
    text = said_in_mark("trials-drift", facts, ",", as_typed=("point",))
    assert text.startswith("S 2.5: the click moves by −0,25 % a trial and stands at +1,5 % now.")


@pytest.mark.parametrize(
    ("kept", "mark", "shown"),
    [
        ("012.200 ± 0.015", ",", "12,200 ± 0,015"),
        ("012.200 ± 0.015", ".", "12.200 ± 0.015"),
        ("012,200 ± 0,015", ",", "12,200 ± 0,015"),
        ("012,200 ± 0,015", ".", "012,200 ± 0,015"),  # would read two ways
        ("012.200 ± 0.015", None, "012.200 ± 0.015"),
    ],
)
def test_a_form_is_filled_again_in_the_mark_by_which_it_is_read(
    kept: str, mark: str | None, shown: str
) -> None:
    columns = (Column("value", "kg"), Column("name", "text"))
    typed = marked_again({"value": kept, "name": "S 2.5"}, columns, mark)
    assert typed == {"value": shown, "name": "S 2.5"}
