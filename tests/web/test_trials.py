"""The pages for yes/no trials and for pouring: what they ask, keep, refuse and say."""

import random
import re
from collections.abc import Iterator
from html import unescape
from pathlib import Path

import pytest

from desk.hung_shop import HungShop, hung_shop
from steelyard.desk import (
    AS_FOUND,
    Makeable,
    Way,
    add_rig,
    answer_trial,
    close_check,
    judge_phase,
    look_over,
    open_check,
    read_pull,
    record_file,
    set_workshop,
    strike_out,
    trials_at,
    waive_adjusting,
)
from steelyard.words import say
from web.forms_on_page import PageForm, read_page
from web.shop import Shop, shop

TOO_MUCH, TOO_LITTLE = "M-10 + M-2 + M-1", "M-10 + M-2 + B-200"


@pytest.fixture
def desk() -> HungShop:
    ready = hung_shop()
    ready.hang(targets="60; 80")
    return ready


@pytest.fixture
def open_shop(desk: HungShop) -> Iterator[Shop]:
    with shop(desk.workshop) as opened:
        yield opened


def place(desk: HungShop, page: str = "trials") -> str:
    return f"/bench/{desk.check}/as-found/{page}"


def shown(desk: HungShop, opened: Shop, more: str = "", page: str = "trials") -> str:
    return " ".join(unescape(opened.page(f"{place(desk, page)}?point=0{more}")).split())


def form_of(text: str, name: str) -> PageForm:
    return next(form for form in read_page(text).forms if name in form.texts)


def answer(desk: HungShop, load: str, clicked: bool, **more: str) -> int:
    typed = {"load": load, "clicked": "yes" if clicked else "no", **more}
    return answer_trial(desk.acting, desk.check, AS_FOUND, 0, typed).number


def following(desk: HungShop, way: Way | None = None) -> Makeable:
    wanted = trials_at(desk.body, AS_FOUND, 0, way=way).next
    assert wanted is not None
    return wanted


def many(desk: HungShop, true_percent: float, *, trials: int) -> None:
    """Follow the advice on a tool whose threshold the test knows."""
    dice = random.Random(2)
    for _ in range(trials):
        wanted = following(desk)
        answer(desk, wanted.load, dice.gauss(true_percent, 0.4) <= wanted.level_percent)


# ---------------------------------------------------------------- what it asks


def test_the_pull_page_leads_there_and_back(desk: HungShop, open_shop: Shop) -> None:
    pulls = unescape(open_shop.page(f"/bench/{desk.check}/as-found?point=0"))
    assert f'href="{place(desk)}?point=0"' in pulls and say("trials-instead") in pulls
    assert f'href="/bench/{desk.check}/as-found?point=0"' in shown(desk, open_shop)


def test_it_says_what_to_hang_and_how_before_any_answer(desk: HungShop, open_shop: Shop) -> None:
    text, wanted = shown(desk, open_shop), following(desk)
    assert form_of(text, "load").values["load"] == wanted.load
    assert f"{wanted.kilogram:.2f} kg in all, HOOK with it" in text
    assert say("trials-ritual", set="60 N·m") in text
    assert "trial-estimate" not in text


def test_it_says_what_to_take_off_and_hang_on(desk: HungShop, open_shop: Shop) -> None:
    answer(desk, "M-10 + M-2 + B-500 + B-100", True)
    text, wanted = shown(desk, open_shop), following(desk)
    off = [p for p in ("B-500", "B-100", "M-2") if p not in wanted.load]
    assert off and f"<span>{off[0]}" in text and "<span>Take</span> <span>off</span>" in text


def test_the_setting_can_be_stepped_under_what_hangs(desk: HungShop, open_shop: Shop) -> None:
    answer(desk, "M-10 + M-2 + B-500", True)
    text = shown(desk, open_shop, "&way=setting")
    values = form_of(text, "load").values
    assert values["way"] == "setting" and values["load"] == "M-10 + M-2 + B-500"
    assert (
        values["set"].endswith(" N·m")
        and float(values["set"].split()[0]) == following(desk, Way.SETTING).set_newton_metre
    )
    assert "<span>What</span> <span>hangs</span> <span>stays:</span>" in text
    assert f"<span>{values['set']}</span>" in text  # large, as what is to be done


def test_another_mark_is_reckoned_and_stays_once_it_was_used(desk: HungShop, open_shop: Shop) -> None:
    text = shown(desk, open_shop, "&at=500")
    values = form_of(text, "load").values
    assert values["at"] == "500 mm" and values["load"] != following(desk).load
    answer(desk, values["load"], True, at="500")
    assert form_of(shown(desk, open_shop), "load").values["at"] == "500 mm"
    assert form_of(shown(desk, open_shop, "&at="), "load").values["at"] == ""


def test_a_mark_that_cannot_be_read_is_said_beside_its_field(desk: HungShop, open_shop: Shop) -> None:
    text = open_shop.page(f"{place(desk)}?point=0&at=far+out", status=422)
    assert 'id="f-mark-trouble"' in text and 'value="far out"' in text


# ---------------------------------------------------------------- answers


def test_an_answer_is_kept_and_leads_back_to_the_point(desk: HungShop, open_shop: Shop) -> None:
    values = form_of(shown(desk, open_shop), "load").values
    where = open_shop.send(place(desk), **{**values, "clicked": "no"})
    assert where == f"{place(desk)}?point=0&way=load"
    (pull,) = desk.body["pulls"]
    assert pull["pull"] == {"load": values["load"], "clicked": False}  # the target as setting is no setting
    assert len(desk.body["estimates"]) == 1


def test_the_same_page_sent_twice_is_one_answer(desk: HungShop, open_shop: Shop) -> None:
    values = form_of(shown(desk, open_shop), "load").values
    for _ in range(2):
        open_shop.send(place(desk), **{**values, "clicked": "yes"})
    assert len(desk.body["pulls"]) == 1


def test_what_really_hung_and_was_set_is_kept(desk: HungShop, open_shop: Shop) -> None:
    values = form_of(shown(desk, open_shop), "load").values
    typed = {**values, "load": "M-10 + M-2", "set": "58", "at": "460", "clicked": "yes"}
    open_shop.send(place(desk), **typed)
    (pull,) = desk.body["pulls"]
    assert pull["pull"] == {"load": "M-10 + M-2", "set": "58 N·m", "at": "460 mm", "clicked": True}
    assert "set 58 N·m, at 460 mm" in shown(desk, open_shop)


@pytest.mark.parametrize(
    "typed",
    [
        {"load": ""},
        {"load": "M-99"},
        {"load": "M-10 + M-10"},
        {"load": "12.9 kg on S-9"},
        {"load": "12.9"},
        {"set": "sixty"},
        {"at": "far out"},
        {"clicked": "perhaps"},
    ],
)
def test_bad_input_stays_typed_beside_its_sentence(
    desk: HungShop, open_shop: Shop, typed: dict[str, str]
) -> None:
    values = form_of(shown(desk, open_shop), "load").values
    text = unescape(open_shop.send(place(desk), 422, **{**values, "clicked": "yes", **typed}))
    (name,) = typed
    assert desk.body["pulls"] == []
    if name == "clicked":
        assert say("want-yes-no") in text
        return
    assert f'id="f-{name}-trouble"' in text and form_of(text, "load").values[name] == typed[name]
    assert '<details class="trial-other" id="trial-other" open>' in text


def test_a_load_far_off_is_asked_again_and_then_kept(desk: HungShop, open_shop: Shop) -> None:
    values = {**form_of(shown(desk, open_shop), "load").values, "load": "60 kg ± 1 kg", "clicked": "yes"}
    text = unescape(open_shop.send(place(desk), 422, **values))
    assert say("want-load-near-target", target="60 N·m") in text and 'id="f-sure"' in text
    open_shop.send(place(desk), **{**values, "sure": "yes"})
    assert len(desk.body["pulls"]) == 1


def test_an_answer_given_to_an_old_page_is_refused(desk: HungShop, open_shop: Shop) -> None:
    values = form_of(shown(desk, open_shop), "load").values
    answer(desk, TOO_MUCH, True)
    open_shop.send(place(desk), 409, **{**values, "clicked": "no"})
    assert len(desk.body["pulls"]) == 1


@pytest.mark.parametrize("point", ["-1", "9", "x", "99999", ""])
def test_a_point_that_is_not_there_is_refused(desk: HungShop, open_shop: Shop, point: str) -> None:
    open_shop.send(place(desk), 422, point=point, load=TOO_MUCH, clicked="yes")
    assert desk.body["pulls"] == []


# ---------------------------------------------------------------- what it says


def test_answers_of_one_side_are_a_bound_and_no_estimate(desk: HungShop, open_shop: Shop) -> None:
    answer(desk, TOO_MUCH, True)
    answer(desk, "M-10 + M-2 + B-500 + B-200", True)
    text = shown(desk, open_shop)
    assert "Bolts get at most 0.2 % more than set" in text and "no estimate: try less." in text
    assert "estimate, 95 %" not in text


@pytest.mark.parametrize(
    ("load", "clicked", "said"),
    [
        (TOO_MUCH, True, "at most 2.5 % more than set"),
        (TOO_LITTLE, True, "at least 3.4 % less than set"),
        (TOO_MUCH, False, "at least 2.5 % more than set"),
        (TOO_LITTLE, False, "at most 3.4 % less than set, or more"),
    ],
)
def test_a_bound_is_worded_right_on_both_sides_of_what_was_set(
    desk: HungShop, open_shop: Shop, load: str, clicked: bool, said: str
) -> None:
    answer(desk, load, clicked)
    assert f"Bolts get {said}, scatter aside" in shown(desk, open_shop)


def test_answers_that_were_all_struck_out_are_none(desk: HungShop, open_shop: Shop) -> None:
    number = answer(desk, TOO_MUCH, True)
    open_shop.send(f"/bench/{desk.check}/pulls/{number}/strike", reason="slipped", phase=AS_FOUND, point="0")
    text = shown(desk, open_shop)
    assert say("trials-none-yet") in text and say("trials-one-answer") not in text


def test_points_count_answers_here_and_no_pulls(desk: HungShop, open_shop: Shop) -> None:
    answer(desk, TOO_MUCH, True)
    counts = re.findall(r'<span class="points-count">([^<]*)</span>', shown(desk, open_shop))
    assert counts == ["1 answer", "0 answers"]


def test_both_answers_weigh_the_same(desk: HungShop, open_shop: Shop) -> None:
    for page in ("trials", "pour"):
        buttons = shown(desk, open_shop, page=page).split('class="trial-buttons"')[1].split("</div>")[0]
        assert buttons.count('class="deed deed-plain"') == 2


def test_once_it_is_enough_the_next_load_stands_folded_away(desk: HungShop, open_shop: Shop) -> None:
    assert "trial-more" not in shown(desk, open_shop)
    many(desk, 8.0, trials=9)
    text = shown(desk, open_shop)
    folded = text.split('<details class="trial-more"><summary>')[1].split('id="trial-no-click"')[0]
    assert folded.startswith(say("trials-more")) and 'class="trial-ahead"' in folded
    values = {**form_of(text, "load").values, "load": "M-99", "clicked": "yes"}
    assert '<details class="trial-more" open>' in open_shop.send(place(desk), 422, **values)


def test_a_load_too_heavy_to_lift_is_warned_of_above_the_buttons_with_an_arm_that_would_do(
    desk: HungShop, open_shop: Shop
) -> None:
    add_rig(desk.acting, "mass", {"name": "M-20", "value": "20 kg ± 10 g"})
    desk.hang(targets="100", arm="350")
    assert following(desk).kilogram > 27
    for page, button in (("trials", "trial-click"), ("pour", "pour-clicked")):
        text = shown(desk, open_shop, page=page)
        warning = "An arm of 410 mm or longer would do"  # 100 N·m / (25 kg · 9.80665 m/s²) = 0.408 m
        assert text.count(warning) == 1
        assert text.index(warning) < text.index(f'id="{button}"')


def test_a_mark_far_beyond_the_grip_asks_to_check_the_tape_and_refuses_nothing(
    desk: HungShop, open_shop: Shop
) -> None:
    doubt = say("arm-far-out", point="60 N·m cw", at_millimetre=800, grip_millimetre=450)
    assert doubt in shown(desk, open_shop, "&at=800") and doubt not in shown(desk, open_shop, "&at=600")
    answer(desk, "M-10", True, at="800", sure="yes")
    assert doubt in shown(desk, open_shop)


@pytest.mark.parametrize("page", ["trials", "as-found"])
def test_a_mass_without_its_plus_minus_is_told_that_it_lacks_one(
    desk: HungShop, open_shop: Shop, page: str
) -> None:
    add_rig(desk.acting, "scale", {"name": "S-3", "step": "5", "knows": "mass", "within": "10"})
    desk.hang(targets="60; 80")  # two scales: nobody can say on which it was weighed
    where = place(desk).removesuffix("/trials")
    typed = {"load": "2 kg", "clicked": "no"} if page == "trials" else {"bucket": "2 kg"}
    text = open_shop.send(f"{where}/trials" if page == "trials" else where, 422, point="0", **typed)
    assert say("want-weight-within") in unescape(text)


def test_a_verdict_that_cannot_tell_names_what_widens_its_plus_minus(desk: HungShop, open_shop: Shop) -> None:
    desk.hang(targets="60", arm="450 ± 18")  # 4 %, so that the kit decides nothing of a tool on 4 %
    many(desk, 0.0, trials=12)
    text = shown(desk, open_shop)
    cause = say("cause-kit", widest=say("line-arm", detail=""))
    assert say("trials-as-judged", verdict=say("bench-verdict-cant-tell")) in text
    assert say("judged-cause", cause=cause) in text


def test_separated_answers_rest_on_what_is_usual(desk: HungShop, open_shop: Shop) -> None:
    answer(desk, TOO_MUCH, True)
    answer(desk, TOO_LITTLE, False)
    text = shown(desk, open_shop)
    assert "in between it rests on what is usual for such tools" in text
    assert "Bolts get" in text and "spot on" not in text


def test_mixed_answers_speak_for_themselves(desk: HungShop, open_shop: Shop) -> None:
    for load, clicked in (
        (TOO_MUCH, False),
        (TOO_LITTLE, False),
        (TOO_MUCH, True),
        ("M-10 + M-2 + B-500", True),
    ):
        answer(desk, load, clicked)
    assert "the trips scatter, and the answers speak for themselves" in shown(desk, open_shop)


def test_enough_is_said_with_the_way_on(desk: HungShop, open_shop: Shop) -> None:
    many(desk, 8.0, trials=9)
    text = shown(desk, open_shop)
    assert "more trials would not change the verdict." in text
    assert say("trials-as-judged", verdict=say("bench-verdict-out")) in text
    assert say("trials-onward", target="80 N·m", direction="clockwise") in text
    assert f'href="{place(desk)}?point=1"' in text  # the next point is gone on with in the same way


def test_a_check_gone_on_with_comes_back_to_the_trials(desk: HungShop, open_shop: Shop) -> None:
    answer(desk, TOO_MUCH, True)
    answered = open_shop.client.get(f"/bench/{desk.check}/as-found", follow_redirects=False)
    assert answered.headers["location"] == f"{place(desk)}?point=0"
    assert say("trials-here") in unescape(open_shop.page(f"/bench/{desk.check}/as-found?point=0"))


def test_a_struck_out_answer_stays_on_the_page_and_can_be_taken_back(desk: HungShop, open_shop: Shop) -> None:
    number = answer(desk, TOO_MUCH, True)
    where = f"/bench/{desk.check}/pulls/{number}"
    back = {"phase": AS_FOUND, "point": "0", "back": "trials"}
    assert open_shop.send(f"{where}/strike", reason="slipped", **back) == f"{place(desk)}?point=0"
    assert say("pulls-struck", reason="slipped") in shown(desk, open_shop)
    assert open_shop.send(f"{where}/take-back", **back) == f"{place(desk)}?point=0"
    assert "is-struck" not in shown(desk, open_shop)
    assert 'id="trial-form"' in open_shop.send(f"{where}/strike", 422, reason="", **back)


def test_a_changed_set_up_is_warned_of(desk: HungShop, open_shop: Shop) -> None:
    for load, clicked in ((TOO_MUCH, True), (TOO_LITTLE, False)) * 4:
        answer(desk, load, clicked)
    for _ in range(4):
        answer(desk, "M-10 + M-2 + M-1 + B-500", False)
    assert "note-warn" in shown(desk, open_shop)


def test_a_transducer_has_no_such_page() -> None:
    from desk.bench_shop import bench_shop

    ready = bench_shop()
    ready.stand()
    with shop(ready.workshop) as opened:
        assert say("trials-instead") not in opened.page(f"/bench/{ready.check}/as-found?point=0")
        opened.page(f"/bench/{ready.check}/as-found/trials?point=0", 422)
        opened.page(f"/bench/{ready.check}/as-found/pour?point=0", 422)


# ---------------------------------------------------------------- verdict and record


def sealed(desk: HungShop) -> int:
    judge_phase(desk.acting, desk.check, AS_FOUND, {"incomplete": "yes"})
    if desk.body["verdicts"][AS_FOUND]["verdict"] == "out":
        waive_adjusting(desk.acting, desk.check, {"waive_reason": "goes to the maker"})
    return close_check(desk.acting, desk.check, {"next_due": ""})


def test_verdict_and_record_say_trials_and_claim_no_pulls(desk: HungShop, open_shop: Shop) -> None:
    many(desk, 8.0, trials=8)
    judge_phase(desk.acting, desk.check, AS_FOUND, {"incomplete": "yes"})
    verdict = unescape(open_shop.page(f"/bench/{desk.check}/verdict"))
    assert "Scatter from trip to trip" in verdict and "OUT" in verdict
    text = unescape(open_shop.page(f"/book/{sealed(desk)}"))
    assert "known from 8 yes/no answers: trips in the mean at" in text
    assert (
        "Scatter from trip to trip" in text
        and '<td><span class="record-word">M-10</span> <span class="record-word">+</span>' in text
    )
    assert say("chart-trials-title") in text
    assert say("record-answers") in text
    for claim in ("first pull", "spread s", "8 pulls", "all pulls are the same", "pulls scatter"):
        assert claim not in text


def test_the_record_has_every_answer_once_grouped_by_its_load(desk: HungShop, open_shop: Shop) -> None:
    loads = [("M-10 + M-2 + HOOK", True), ("M-10", False), ("M-10 + M-2", True), ("M-10", False)]
    for load, clicked in [*loads, ("M-10 + M-2", False), ("M-10 + M-2", True)]:
        last = answer(desk, load, clicked)
    strike_out(desk.acting, desk.check, last, {"reason": "the hook swung"})
    text = unescape(open_shop.page(f"/book/{sealed(desk)}"))
    (table,) = re.findall(r'<div class="record-answers">.*?<tbody>(.*?)</tbody>', text, re.DOTALL)
    rows = [[plain(cell) for cell in re.findall("<td.*?</td>", row)] for row in table.split("</tr>")[:-1]]
    assert [(row[0], row[-1]) for row in rows] == [
        ("M-10", "no click ×2 (2, 4)"),
        ("M-10 + M-2", "click (3), no click (5)"),
        ("M-10 + M-2 + HOOK", "click (1)"),
    ]
    (struck,) = re.findall(r'<p class="record-earlier">(.*?)</p>', text)
    assert plain(struck).startswith("As found, struck out: the hook swung. M-10 + M-2 ")
    assert plain(struck).endswith("%: click (6)")


def plain(html: str) -> str:
    return " ".join(re.sub(r"<[^>]+>", "", html).split())


def test_a_bound_stands_in_the_record_as_a_bound(desk: HungShop, open_shop: Shop) -> None:
    answer(desk, TOO_MUCH, True)
    answer(desk, "M-10 + M-2 + B-500 + B-200", True)
    judge_phase(desk.acting, desk.check, AS_FOUND, {"incomplete": "yes"})
    assert "From one side alone there is a bound and no estimate" in unescape(
        open_shop.page(f"/bench/{desk.check}/verdict")
    )
    text = unescape(open_shop.page(f"/book/{sealed(desk)}"))
    assert "bolts get at most 0.2 % more than set" in text
    assert "ISO deviation +" not in text and "ISO deviation −" not in text
    assert say("record-picture") not in text


def test_a_record_of_trials_goes_into_a_file_and_comes_back_the_same(desk: HungShop, open_shop: Shop) -> None:
    many(desk, 8.0, trials=8)
    record = sealed(desk)
    form = open_shop.client.get(f"/book/{record}/form.toml").content
    assert b"clicked = true" in form
    assert record_file(desk.acting, form) == record


# ---------------------------------------------------------------- pouring


def run(desk: HungShop, opened: Shop, status: int = 303, /, **typed: str) -> str:
    return opened.send(
        place(desk, "pour"), status, **{"point": "0", "scale": "S-2", "ended": "clicked", **typed}
    )


def test_the_guide_says_how_to_pour_and_asks_for_the_water_once(desk: HungShop, open_shop: Shop) -> None:
    text = shown(desk, open_shop, page="pour")
    assert say("pour-step-pour") in text and "come to about 90 %: 11.68 kg in all" in text
    assert 'id="f-dribble"' in text
    open_shop.send(f"/bench/{desk.check}/water", point="0", phase=AS_FOUND, dribble="20")
    text = shown(desk, open_shop, page="pour")
    assert 'id="f-dribble"' not in text and "at most 20 g" in text
    assert desk.body["setup"]["form"]["kit"]["dribble"] == "20 g"


def test_what_the_scale_showed_is_shown_again_as_it_was_typed(desk: HungShop, open_shop: Shop) -> None:
    set_workshop(desk.acting, {"decimal_mark": ","})
    run(desk, open_shop, shows="2,815", beside="M-10")
    assert desk.body["pulls"][0]["pull"] == {"bucket": "M-10 + 02,815 kg on S-2"}  # so it reads one way
    for page in ("pour", "trials"):
        text = shown(desk, open_shop, page=page)
        assert "2,815 kg on S-2" in text and "02,815" not in text
    assert "02,815" not in unescape(open_shop.page(f"/bench/{desk.check}/as-found?point=0"))


@pytest.mark.parametrize("dribble", ["", "much", "-5", "0", "5 kg on S-2"])
def test_water_that_cannot_be_read_is_refused(desk: HungShop, open_shop: Shop, dribble: str) -> None:
    text = open_shop.send(f"/bench/{desk.check}/water", 422, point="0", phase=AS_FOUND, dribble=dribble)
    assert 'id="f-dribble-trouble"' in text


def test_a_run_is_kept_with_what_hung_beside_the_bucket(desk: HungShop, open_shop: Shop) -> None:
    where = run(desk, open_shop, shows="2.62", beside="M-10")
    assert where == f"{place(desk, 'pour')}?point=0"
    assert desk.body["pulls"][0]["pull"] == {"bucket": "M-10 + 2.62 kg on S-2"}
    values = form_of(shown(desk, open_shop, page="pour"), "shows").values
    assert values["beside"] == "M-10"


def test_a_full_bucket_without_a_click_counts_as_a_bound(desk: HungShop, open_shop: Shop) -> None:
    for shows in ("12.62", "12.70"):
        run(desk, open_shop, shows=shows)
    assert "Mean of 2:" in shown(desk, open_shop, page="pour")
    run(desk, open_shop, shows="12.80", ended="never")
    assert desk.body["pulls"][-1]["pull"]["never_clicked"] is True
    text = shown(desk, open_shop, page="pour")
    assert say("pour-runs", clicked=2, planned=3, never=1) in text
    assert "Mean of" not in text and "Bolts get" in text


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"shows": ""}, "shows"),
        ({"shows": "heavy"}, "shows"),
        ({"shows": "-3"}, "shows"),
        ({"shows": "9.62", "scale": "S-9"}, "shows"),
        ({"shows": "9.62", "beside": "M-99"}, "shows"),
        ({"shows": "60"}, "shows"),
    ],
)
def test_a_run_that_cannot_be_read_is_refused(
    desk: HungShop, open_shop: Shop, typed: dict[str, str], field: str
) -> None:
    text = run(desk, open_shop, 422, **typed)
    assert f'id="f-{field}-trouble"' in text
    assert desk.body["pulls"] == []


def test_how_a_run_ended_must_be_said(desk: HungShop, open_shop: Shop) -> None:
    assert say("want-run-end") in unescape(run(desk, open_shop, 422, shows="12.6", ended=""))


def test_a_run_struck_out_leads_back_to_pouring(desk: HungShop, open_shop: Shop) -> None:
    number = read_pull(desk.acting, desk.check, AS_FOUND, 0, {"bucket": "12.62 kg on S-2"}).number
    back = {"phase": AS_FOUND, "point": "0", "back": "pour"}
    where = open_shop.send(f"/bench/{desk.check}/pulls/{number}/strike", reason="slipped", **back)
    assert where == f"{place(desk, 'pour')}?point=0"


# ---------------------------------------------------------------- for a program


def test_a_program_asks_answers_and_pours(desk: HungShop, open_shop: Shop) -> None:
    address = f"/api/checks/{desk.check}"
    asked = open_shop.client.get(f"{address}/trials?phase=as-found&point=0&way=load").json()
    assert asked["threshold"] is None and asked["next"]["load"] == following(desk).load
    sent = {"point": 0, "load": asked["next"]["load"], "clicked": "yes", "seen": asked["last"]}
    kept = open_shop.client.post(f"{address}/trials", json=sent)
    assert kept.status_code == 201 and kept.json()["threshold"]["sides"] == "only-clicks"
    assert kept.json()["bolts_get_percent"] is None
    assert open_shop.client.post(f"{address}/trials", json=sent).status_code == 409
    again = open_shop.client.get(f"{address}/trials?point=0&way=setting&at=500").json()["next"]
    assert again["way"] == "setting" and again["at"] == "500 mm"
    run = {"point": 1, "shows": "17.1", "scale": "S-2", "ended": "never"}
    assert open_shop.client.post(f"{address}/runs", json=run).status_code == 201
    assert open_shop.client.post(f"{address}/water", json={"dribble": "20"}).status_code == 200
    assert open_shop.client.get(f"{address}/trials?point=9").status_code == 404
    assert open_shop.client.get(f"{address}/trials?at=far").status_code == 422


def test_a_file_of_trials_becomes_a_record_that_shows_them(open_shop: Shop, desk: HungShop) -> None:
    file = Path(__file__).parents[2] / "examples/click-wrench-by-yes-no.toml"
    record = record_file(desk.acting, file.read_bytes())
    kinds = [entry.kind for entry in desk.workshop.ledger.entries() if entry.kind == "trial-answered"]
    assert len(kinds) == 30
    text = unescape(open_shop.page(f"/book/{record}"))
    assert "known from 14 yes/no answers" in text and "set 87 N·m" in " ".join(
        re.sub(r"<[^>]+>", "", text).split()
    )


@pytest.mark.parametrize("page", ["trials", "pour"])
def test_a_check_stopped_before_its_kit_was_set_up_leads_to_its_record(
    desk: HungShop, open_shop: Shop, page: str
) -> None:
    desk.check = open_check(desk.acting, desk.tool, {"why": "due"})
    look_over(desk.acting, desk.check, {"damaged": "yes", "look_note": "cracked ratchet"})
    record = close_check(desk.acting, desk.check, {})
    answered = open_shop.client.get(f"/bench/{desk.check}/as-found/{page}", follow_redirects=False)
    assert (answered.status_code, answered.headers["location"]) == (303, f"/book/{record}")
