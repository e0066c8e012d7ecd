"""The adjuster's page: what to do now, how sure, what can be reached, the lock, and the way back to it."""

import re
from collections.abc import Iterator
from dataclasses import replace
from html import unescape

import pytest

from desk.bench_shop import BenchShop, bench_shop
from desk.hung_shop import hung_shop
from desk.test_guide import Adjustable
from steelyard.desk import (
    AS_FOUND,
    AS_LEFT,
    answer_trial,
    close_check,
    exercise,
    guide,
    judge_phase,
    lock_adjuster,
    read_pull,
    stay_code,
    strike_out,
    turn_adjuster,
)
from steelyard.words import say
from web.forms_on_page import read_page
from web.shop import Shop, shop


@pytest.fixture
def desk() -> BenchShop:
    return bench_shop()


@pytest.fixture
def tool(desk: BenchShop) -> Adjustable:
    tool = Adjustable(desk, off=-7.0, gain=3.0)
    tool.found()
    return tool


@pytest.fixture
def pages(desk: BenchShop) -> Iterator[Shop]:
    with shop(desk.workshop) as opened:
        yield opened


def adjuster(desk: BenchShop) -> str:
    return f"/bench/{desk.check}/adjust"


def test_the_first_page_asks_for_a_small_test_turn_and_draws_it(
    desk: BenchShop, tool: Adjustable, pages: Shop
) -> None:
    text = pages.page(adjuster(desk))
    assert "A test turn: it may go the wrong way." in text
    assert "Nobody knows yet which way" in text
    assert "The maker’s manual goes first" in text
    assert text.count("A dial seen from the adjuster’s side") == 1


def test_one_tap_logs_the_turn_as_advised(desk: BenchShop, tool: Adjustable, pages: Shop) -> None:
    said = tool.guide()
    (form, *_) = [f for f in read_page(pages.page(adjuster(desk))).forms if "turns" in f.texts]
    pages.send(form.action, **form.values, deed="turn")
    (turn,) = desk.body["turns"]
    assert (turn["way"], turn["turns"]) == (said.way, form.values["turns"])
    assert "Read every point again" in pages.page(adjuster(desk))


def test_after_three_pulls_at_each_point_the_pull_page_leads_back(
    desk: BenchShop, tool: Adjustable, pages: Shop
) -> None:
    tool.turn(0.25, "in")
    back = f'href="{adjuster(desk)}">Back to the adjuster</a></div>'
    left = f"/bench/{desk.check}/as-left"
    where = [pages.send(left, point=str(point), line=line) for point, line in _lines(tool)]
    assert where[:3] == [f"{left}?point=0", f"{left}?point=0", f"{left}?point=1"]
    text = pages.page(left)
    assert "Back to the adjuster" in text
    assert "Close the check" not in text
    assert "deed-main" in text.split('data-part="onward"')[1].split("</div>")[0]
    assert back not in pages.page(f"/bench/{desk.check}/as-found")


def _lines(tool: Adjustable) -> list[tuple[int, str]]:
    return [(i, f"{target + tool.off:.2f}") for i, target in enumerate((20.0, 60.0, 100.0)) for _ in range(3)]


def test_what_every_turn_did_stands_beside_it(desk: BenchShop, tool: Adjustable, pages: Shop) -> None:
    tool.turn(0.5, "in")
    tool.pulls(AS_LEFT)
    text = pages.page(adjuster(desk))
    assert re.search(r"20 N·m: \+7\.\d ± 0\.\d %", text)  # 5 and 3 pulls that scatter by 0.4 %
    assert "This way is right with 9" in text
    assert "In all it takes between" in text


def test_a_tool_that_is_good_is_to_be_locked_then_exercised(
    desk: BenchShop, tool: Adjustable, pages: Shop
) -> None:
    tool.follow()
    assert "Good as it is: lock it." in pages.page(adjuster(desk))
    place = pages.send(adjuster(desk), deed="lock", lock_note="nut tight")
    assert place == f"/bench/{desk.check}/exercise"
    assert "3 pulls at the maximum" in pages.page(place)
    assert "The adjuster was locked and the tool not exercised since" in pages.page(
        f"/bench/{desk.check}/as-left"
    )
    pages.send(place, exercise_pulls="3")
    text = pages.page(f"/bench/{desk.check}/as-left")
    assert "not exercised since" not in text
    assert "one load just below and one just above" in text


def test_what_the_lock_moved_is_shown_at_the_pulls_the_verdict_and_in_the_record(
    desk: BenchShop, tool: Adjustable, pages: Shop
) -> None:
    tool.follow()
    lock_adjuster(desk.acting, desk.check, {"lock_note": "nut tight"})
    exercise(desk.acting, desk.check, {"exercise_pulls": "3"})
    tool.off += 1.0
    tool.pulls(AS_LEFT, 5)
    moved = "Locking moved 20 N·m: +"
    assert moved in pages.page(f"/bench/{desk.check}/as-left")
    judge_phase(desk.acting, desk.check, AS_LEFT, {})
    assert moved in pages.page(f"/bench/{desk.check}/verdict")
    record = close_check(desk.acting, desk.check, {"next_due": ""})
    text = pages.page(f"/book/{record}")
    assert moved in text
    assert "Locked: nut tight." in text
    assert "5 pulls before the first reading, 3 after the adjuster was turned" in text
    content = pages.client.get(f"/book/{record}/content.json").json()
    assert content["content"]["locked"]["note"] == "nut tight"
    kept = content["sealed"]["adjusted"]
    assert len(kept["moved_percent"]) == len(kept["moved_within_percent"]) == len(desk.body["turns"])
    first, reach = (kept[name][0][0] for name in ("moved_percent", "moved_within_percent"))
    assert 0 < reach < 1
    assert f"20 N·m: {first:+.1f} ± {reach:.1f} %".replace("-", "−") in text
    assert kept["lock_moved_percent"][0] == pytest.approx(5, abs=1)
    assert 0 < kept["lock_moved_within_percent"][0] < 1  # 3 and 5 pulls that scatter by 0.4 %


def test_a_record_is_intact_with_its_lock(desk: BenchShop, tool: Adjustable, pages: Shop) -> None:
    tool.follow()
    lock_adjuster(desk.acting, desk.check, {})
    tool.pulls(AS_LEFT, 5)
    judge_phase(desk.acting, desk.check, AS_LEFT, {})
    record = close_check(desk.acting, desk.check, {"next_due": ""})
    assert pages.client.get(f"/api/records/{record}").json()["is_intact"]


def test_a_turn_refused_stays_in_its_field_which_is_in_sight(
    desk: BenchShop, tool: Adjustable, pages: Shop
) -> None:
    text = pages.send(adjuster(desk), 422, deed="turn", turns="a bit", way="in")
    assert '<details class="adjust-otherwise" open>' in text
    assert "a bit" in text


def test_a_slope_is_said_to_be_beyond_the_adjuster_with_both_ways_on(desk: BenchShop, pages: Shop) -> None:
    tool = Adjustable(desk, off=8.0, gain=3.0, slope=-0.16)
    tool.found()
    for _ in range(2):
        tool.turn(0.25, "out")
        tool.pulls(AS_LEFT)
    assert tool.guide().outlook.mending == "cannot"
    text = pages.page(adjuster(desk))
    assert "The adjuster cannot mend this: best possible worst point is 1" in text
    (headline,) = re.findall(r'id="adjust-now-line">([^<]*)<', text)
    assert re.fullmatch(r"The adjuster cannot mend the whole range, only \d+\S* to 100 N·m\.", headline)
    advised = tool.guide()
    assert advised.advice is not None
    assert text.index(headline) < text.index(f"Turn {advised.way.upper()}" if advised.way else "As good as")
    assert "to 100 N·m it can be brought in." in text
    assert "A tool with two adjusters" in text
    assert f"/rack/{desk.tool}/change" in text


def test_a_turn_the_wrong_way_is_put_right_before_the_next_one_is_advised(
    desk: BenchShop, pages: Shop
) -> None:
    tool = Adjustable(desk, off=-9.0, gain=3.0)
    tool.found()
    for _ in range(2):
        tool.turn(0.5, "in")
        tool.pulls(AS_LEFT)
    tool.turn(0.5, "in", really="out")
    tool.pulls(AS_LEFT)
    text = unescape(pages.page(adjuster(desk)))
    (headline,) = re.findall(r'id="adjust-now-line">([^<]*)<', text)
    assert headline == say("adjust-now-question", turn=3, way="IN")
    assert "A dial seen from" not in text and say("adjust-log-so") not in text
    path = f"/api/checks/{desk.check}/guide"
    said = pages.client.get(path).json()
    assert (said["advice"], said["question"]) == (None, {"turn": 3, "way": "in"})
    (form, *_) = [f for f in read_page(text).forms if "turn" in f.values]
    assert pages.send(form.action, **form.values, deed="was-out") == adjuster(desk)
    text = unescape(pages.page(adjuster(desk)))
    assert say("adjust-now-question", turn=3, way="IN") not in text
    assert "out (counter-clockwise); first written in (clockwise)" in text
    assert pages.client.get(path).json()["way"] == "in"


def test_a_turn_stood_by_as_written_is_marked_and_a_program_can_say_so(desk: BenchShop, pages: Shop) -> None:
    tool = Adjustable(desk, off=-9.0, gain=3.0)
    tool.found()
    for really in ("out", "in"):
        tool.turn(0.5, "in", really=really)
        tool.pulls(AS_LEFT)
    path = f"/api/checks/{desk.check}"
    assert pages.client.get(f"{path}/guide").json()["question"] == {"turn": 2, "way": "in"}
    refused = pages.client.post(f"{path}/turns/3/way", json={"way": "in"})
    assert refused.status_code == 422
    answer = pages.client.post(f"{path}/turns/2/way", json={"way": "in"})
    assert answer.json()["turns"][1]["stands"] is True
    assert pages.client.get(f"{path}/guide").json()["question"] is None
    assert "in (clockwise); asked, and stood by" in pages.page(adjuster(desk))


def test_too_few_pulls_as_found_are_named(desk: BenchShop, pages: Shop) -> None:
    desk.stand(plan={"plan": "own", "targets": "20 100", "pulls": "2"})
    for point, line in ((0, "14"), (0, "14.1"), (1, "94"), (1, "94.4")):
        read_pull(desk.acting, desk.check, AS_FOUND, point, {"line": line, "sure": "yes"})
    judge_phase(desk.acting, desk.check, AS_FOUND, {})
    found = guide(desk.workshop.ledger, desk.body)
    assert found is not None and found.lacking == ("20 N·m cw", "100 N·m cw")
    text = pages.page(adjuster(desk))
    assert "It needs three pulls or more as found. Too few at: 20 N·m clockwise, 100 N·m clockwise." in text


def test_a_comma_is_printed_where_the_workshop_reads_one(
    desk: BenchShop, tool: Adjustable, pages: Shop
) -> None:
    pages.client.cookies.set("steelyard_mark", ",")
    text = pages.page(adjuster(desk)).split('role="table"')[1].split("</table>")[0]
    assert "−7,0 %" in text or "−6,9 %" in text or "−7,1 %" in text


def test_a_program_is_told_the_same_and_can_lock(desk: BenchShop, tool: Adjustable, pages: Shop) -> None:
    path = f"/api/checks/{desk.check}"
    said = pages.client.get(f"{path}/guide").json()
    assert said["advice"]["sort"] == "test"
    assert said["way"] in ("in", "out")
    assert [point["name"] for point in said["points"]] == ["20 N·m cw", "60 N·m cw", "100 N·m cw"]
    tool.follow()
    assert pages.client.get(f"{path}/guide").json()["advice"]["sort"] == "stay"
    answer = pages.client.post(f"{path}/lock", json={"lock_note": "nut tight"})
    assert answer.json()["locked"]["note"] == "nut tight"
    locked = pages.client.get(f"{path}/guide").json()
    assert (locked["is_locked"], locked["advice"]) == (True, None)


def test_as_found_comes_first_where_nothing_was_judged_yet(desk: BenchShop, pages: Shop) -> None:
    desk.stand()
    text = pages.page(adjuster(desk))
    assert "As found comes first" in text and "changed since they were judged" not in text
    assert f'href="/bench/{desk.check}/as-found"' in text


def test_pulls_that_changed_since_the_verdict_are_said_to_have(
    desk: BenchShop, tool: Adjustable, pages: Shop
) -> None:
    strike_out(desk.acting, desk.check, desk.body["pulls"][0]["number"], {"reason": "slipped"})
    assert "changed since they were judged" in pages.page(adjuster(desk))


def test_where_the_adjuster_tends_to_sit_is_said_and_no_places_of_the_shell(
    desk: BenchShop, tool: Adjustable, pages: Shop
) -> None:
    notes = pages.page(adjuster(desk)).split('<details class="adjust-places">')[1].split("</details>")[0]
    for kind in ("ring", "grip", "plug", "nested"):
        assert say(f"adjust-where-{kind}") in unescape(notes)
    assert notes.count("<li>") == 4


def test_a_point_outside_its_aim_is_not_called_good(tool: Adjustable) -> None:
    said = tool.guide()
    assert stay_code(said, is_turning=True) == "adjust-now-stay-seen"
    assert stay_code(said, is_turning=False) == "adjust-now-nothing-seen"
    inside = replace(said, points=tuple(replace(point, now_percent=0.0) for point in said.points))
    assert stay_code(inside, is_turning=True) == "adjust-now-stay"
    assert stay_code(inside, is_turning=False) == "adjust-now-nothing"


def test_by_yes_or_no_it_asks_for_answers_after_a_turn() -> None:
    desk = hung_shop()
    desk.hang(targets="20; 60")
    for point, loads in enumerate((("M-2 + M-1", "M-2 + B-500"), ("M-10 + M-2", "M-10 + M-1"))):
        for load, clicked in zip(loads, ("yes", "no"), strict=True):
            typed = {"load": load, "clicked": clicked, "sure": "yes"}
            answer_trial(desk.acting, desk.check, AS_FOUND, point, typed)
    judge_phase(desk.acting, desk.check, AS_FOUND, {"incomplete": "yes"})
    turn_adjuster(desk.acting, desk.check, {"turns": "1/4", "way": "in"})
    with shop(desk.workshop) as opened:
        text = opened.page(f"/bench/{desk.check}/as-left/trials?point=0")
        assert say("left-between-yes-no", turn=1) in unescape(text) and "three pulls" not in text
        assert say("left-between", turn=1) in unescape(opened.page(f"/bench/{desk.check}/as-left?point=0"))


def test_by_yes_or_no_each_point_leads_to_the_next_unread_one_and_the_last_to_the_adjuster() -> None:
    desk = hung_shop()
    desk.hang(targets="20; 60")
    loads = (("M-2 + M-1", "M-2 + B-500"), ("M-10 + M-2", "M-10 + M-1"))

    def ask(phase: str, point: int) -> None:
        for load, clicked in zip(loads[point], ("yes", "no"), strict=True):
            typed = {"load": load, "clicked": clicked, "sure": "yes"}
            answer_trial(desk.acting, desk.check, phase, point, typed)

    ask(AS_FOUND, 0)
    ask(AS_FOUND, 1)
    judge_phase(desk.acting, desk.check, AS_FOUND, {"incomplete": "yes"})
    turn_adjuster(desk.acting, desk.check, {"turns": "1/4", "way": "in"})
    left = f"/bench/{desk.check}/as-left"

    def onward(opened: Shop, point: int) -> str:
        text = opened.page(f"{left}/trials?point={point}")
        (address, *_) = re.findall(r'class="trial-instead"><a [^>]*href="([^"]*)"', text)
        return unescape(address)

    with shop(desk.workshop) as opened:
        ask(AS_LEFT, 1)
        assert onward(opened, 1) == f"{left}/trials?point=0"
        assert opened.client.get(left, follow_redirects=False).headers["location"] == f"{left}/trials?point=0"
        ask(AS_LEFT, 0)
        assert [onward(opened, point) for point in (0, 1)] == [f"/bench/{desk.check}/adjust"] * 2


def test_there_is_no_guide_before_the_verdict(desk: BenchShop, pages: Shop) -> None:
    desk.stand()
    assert pages.client.get(f"/api/checks/{desk.check}/guide").status_code == 404
