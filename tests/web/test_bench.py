"""The pages of the bench: each step asks one thing, keeps what was typed, and leads on."""

from collections.abc import Iterator

import pytest

from desk.bench_shop import HIGH_READINGS, READINGS, BenchShop, bench_shop
from steelyard.desk import AS_FOUND, judge_phase, read_pull
from web.forms_on_page import read_page
from web.shop import Shop, shop

STEPS = ("why", "look", "kit", "set-up", "exercise", "as-found", "verdict")


@pytest.fixture
def desk() -> BenchShop:
    return bench_shop()


@pytest.fixture
def open_shop(desk: BenchShop) -> Iterator[Shop]:
    with shop(desk.workshop) as opened:
        yield opened


def test_an_empty_bench_says_what_to_do(open_shop: Shop) -> None:
    assert "/bench/new" in open_shop.page("/bench")


def test_a_check_in_hand_is_listed_and_goes_on_where_it_was_left(desk: BenchShop, open_shop: Shop) -> None:
    desk.stand()
    assert f"/bench/{desk.check}" in open_shop.page("/bench")
    answer = open_shop.client.get(f"/bench/{desk.check}", follow_redirects=False)
    assert answer.headers["location"] == f"/bench/{desk.check}/as-found"


def test_the_whole_job_goes_through_the_forms_of_the_pages(desk: BenchShop, open_shop: Shop) -> None:
    """Each step sends the form as it stands on its page, with the answers a person would give."""
    answers = {
        "look": {"damaged": "no"},
        "kit": {"rig": desk.rig, "plan": "quick"},
        "set-up": {"axis": "vertical", "zeroed": "with-tool", "mode": "first-peak", "is_ready": "yes"},
        "exercise": {"exercise_pulls": "5"},
    }
    place = open_shop.send("/bench/new", tool=desk.tool, why="due")
    for step, given in answers.items():
        place = open_shop.client.get(place, follow_redirects=False).headers["location"]
        assert place.endswith(f"/{step}")
        (form, *_) = [f for f in read_page(open_shop.page(place)).forms if f.action == place]
        place = open_shop.send(form.action, **form.values | given)
    place = f"{place}/as-found"
    for line in ("97.4", "98.1", "97.8"):
        (form,) = [f for f in read_page(open_shop.page(place)).forms if "line" in f.texts]
        open_shop.send(form.action, **form.values | {"line": line})
    place = place.replace("as-found", "verdict")
    (form,) = [f for f in read_page(open_shop.page(place)).forms if f.method == "post"]
    open_shop.send(form.action, **form.values)
    assert "bolts get" in open_shop.page(place)
    place = place.replace("verdict", "close")
    (form,) = [f for f in read_page(open_shop.page(place)).forms if f.method == "post"]
    place = open_shop.send(form.action, **form.values)
    assert open_shop.client.get(place, follow_redirects=False).headers["location"] == "/book/1"


@pytest.mark.parametrize("step", STEPS)
def test_every_step_can_be_looked_at_again(desk: BenchShop, open_shop: Shop, step: str) -> None:
    desk.stand()
    desk.pull(READINGS)
    judge_phase(desk.acting, desk.check, AS_FOUND, {})
    open_shop.page(f"/bench/{desk.check}/{step}")


def test_a_step_that_is_not_open_yet_is_not_there(desk: BenchShop, open_shop: Shop) -> None:
    desk.open()
    open_shop.page(f"/bench/{desk.check}/set-up", 404)
    open_shop.page(f"/bench/{desk.check}/as-found", 404)
    open_shop.page(f"/bench/{desk.check}/sideways", 422)


def test_a_refused_line_stays_in_its_field_with_one_sentence(desk: BenchShop, open_shop: Shop) -> None:
    desk.stand()
    text = open_shop.send(f"/bench/{desk.check}/as-found", 422, line="97,4 kilos", point="2")
    assert 'value="97,4 kilos"' in text
    assert text.count('id="f-line-trouble"') == 1


def test_a_stale_page_is_told_and_keeps_what_was_typed(desk: BenchShop, open_shop: Shop) -> None:
    desk.stand()
    place = f"/bench/{desk.check}/as-found"
    (form,) = [f for f in read_page(open_shop.page(place)).forms if "line" in f.texts]
    read_pull(desk.acting, desk.check, AS_FOUND, 0, {"line": "19.6"})
    text = open_shop.send(place, 409, **form.values | {"line": "19.7"})
    assert 'value="19.7"' in text
    assert len(desk.body["pulls"]) == 1
    (form,) = [f for f in read_page(text).forms if "line" in f.texts]
    open_shop.send(place, **form.values)
    assert [p["pull"]["reading"] for p in desk.body["pulls"]] == ["19.6 N·m", "19.7 N·m"]


def test_the_same_form_sent_twice_is_one_pull(desk: BenchShop, open_shop: Shop) -> None:
    desk.stand()
    place = f"/bench/{desk.check}/as-found"
    (form,) = [f for f in read_page(open_shop.page(place)).forms if "line" in f.texts]
    for _ in range(2):
        open_shop.send(place, **form.values | {"line": "19.6"})
    assert len(desk.body["pulls"]) == 1


def test_a_struck_out_pull_stays_on_the_page_with_its_reason(desk: BenchShop, open_shop: Shop) -> None:
    desk.stand()
    entry = read_pull(desk.acting, desk.check, AS_FOUND, 0, {"line": "12.0"})
    strike = f"/bench/{desk.check}/pulls/{entry.number}/strike"
    open_shop.send(strike, reason="the hand slipped", phase="as-found", point="0")
    assert "struck out: the hand slipped" in open_shop.page(f"/bench/{desk.check}/as-found?point=0")
    open_shop.send(strike.replace("strike", "take-back"), phase="as-found", point="0")
    assert "struck out: the hand slipped" not in open_shop.page(f"/bench/{desk.check}/as-found?point=0")


def test_an_out_tool_is_led_to_the_adjuster_and_then_to_as_left(desk: BenchShop, open_shop: Shop) -> None:
    desk.stand()
    desk.pull(HIGH_READINGS)
    open_shop.send(f"/bench/{desk.check}/verdict", phase="as-found")
    assert f"/bench/{desk.check}/adjust" in open_shop.page(f"/bench/{desk.check}/verdict")
    open_shop.send(f"/bench/{desk.check}/adjust", deed="turn", turns="1/4", way="in")
    assert "1/4" in open_shop.page(f"/bench/{desk.check}/adjust")
    open_shop.page(f"/bench/{desk.check}/as-left")


def test_a_check_nobody_opened_says_so_in_plain_words(open_shop: Shop) -> None:
    assert "is not there" in open_shop.page("/bench/nowhere", 404)


def test_a_photograph_is_kept_without_its_place(desk: BenchShop, open_shop: Shop) -> None:
    from store.test_photograph import red_over_blue, saved, with_exif

    desk.open()
    photo = {"photo": ("bent.jpg", saved(red_over_blue(), exif=with_exif()), "image/jpeg")}
    answer = open_shop.client.post(
        f"/bench/{desk.check}/photo", data={"photo_note": "bent"}, files=photo, follow_redirects=False
    )
    assert answer.status_code == 303
    (kept,) = desk.body["attachments"]
    file = desk.workshop.ledger.file(kept["file"])
    assert file is not None
    assert b"Exif" not in file.content


def test_a_text_is_no_photograph(desk: BenchShop, open_shop: Shop) -> None:
    desk.open()
    photo = {"photo": ("note.jpg", b"a note", "image/jpeg")}
    answer = open_shop.client.post(f"/bench/{desk.check}/photo", files=photo, follow_redirects=False)
    assert answer.status_code == 422
    assert 'id="f-photo-trouble"' in answer.text
