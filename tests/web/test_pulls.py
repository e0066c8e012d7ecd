"""The pull page as it leaves the server, and the line that tells other windows."""

from collections.abc import Iterator

import pytest
from fastapi import FastAPI
from starlette.testclient import WebSocketDenialResponse
from starlette.websockets import WebSocketDisconnect

from desk.bench_shop import BenchShop, bench_shop
from steelyard.desk import AS_FOUND, SENT_TWICE, close_check, judge_phase, read_pull, strike_out
from web.forms_on_page import read_page
from web.shop import HOME, Shop, shop

WIRE = HOME.replace("http", "ws", 1)


@pytest.fixture
def desk() -> BenchShop:
    ready = bench_shop()
    ready.stand()
    return ready


@pytest.fixture
def open_shop(desk: BenchShop) -> Iterator[Shop]:
    with shop(desk.workshop) as opened:
        yield opened


def place(desk: BenchShop, point: int = 0) -> str:
    return f"/bench/{desk.check}/as-found?point={point}"


def pulled(desk: BenchShop, line: str, **more: str) -> int:
    return read_pull(desk.acting, desk.check, AS_FOUND, 0, {"line": line, **more}).number


# ---------------------------------------------------------------- the page


def test_before_the_first_pull_it_says_what_to_do(desk: BenchShop, open_shop: Shop) -> None:
    text = open_shop.page(place(desk))
    assert 'data-state=""' in text
    assert "Set 20 N·m and pull" in text


@pytest.mark.parametrize(
    ("line", "more", "state", "spoken"),
    [
        ("19.6", {}, "in", "19.60, inside"),
        ("18.2", {}, "out", "18.20, outside"),
        ("19.6", {"sent_twice": "yes"}, "struck", "19.60, struck out"),
    ],
)
def test_the_last_pull_is_told_in_a_word(
    desk: BenchShop, open_shop: Shop, line: str, more: dict[str, str], state: str, spoken: str
) -> None:
    pulled(desk, line, **more)
    text = open_shop.page(place(desk))
    assert f'data-state="{state}"' in text
    assert f'data-spoken="{spoken}"' in text


def test_readings_are_printed_with_the_decimal_mark_of_the_device(desk: BenchShop, open_shop: Shop) -> None:
    pulled(desk, "19.6")
    open_shop.client.cookies.set("steelyard_mark", ",")
    text = open_shop.page(place(desk))
    assert ">19,60</span>" in text
    assert 'data-key=","' in text


def test_a_line_marked_as_sent_twice_stays_struck_out(desk: BenchShop, open_shop: Shop) -> None:
    address = place(desk).partition("?")[0]
    open_shop.send(address, line="19.6", point="0", sent_twice="yes", submission="a")
    assert [pull["struck_out"] for pull in desk.body["pulls"]] == [SENT_TWICE]
    assert "struck out: sent twice?" in open_shop.page(place(desk))


def test_an_odd_reading_stays_in_its_field_with_a_tick(desk: BenchShop, open_shop: Shop) -> None:
    address = place(desk).partition("?")[0]
    text = open_shop.send(address, 422, line="980", point="0")
    (form,) = [form for form in read_page(text).forms if "line" in form.texts]
    assert form.values["line"] == "980"
    assert "a reading near the target 20 N·m, or a tick" in text
    assert 'name="sure"' in text
    assert "sure = true" not in text
    open_shop.send(address, 303, **form.values | {"sure": "yes"})
    assert [pull["pull"]["sure"] for pull in desk.body["pulls"]] == [True]


def test_a_repeated_submission_is_one_pull_even_from_a_page_that_is_stale(
    desk: BenchShop, open_shop: Shop
) -> None:
    (form,) = [form for form in read_page(open_shop.page(place(desk))).forms if "line" in form.texts]
    for _ in range(2):
        open_shop.send(form.action, 303, **form.values | {"line": "19.6"})
    assert len(desk.body["pulls"]) == 1


def test_doubts_about_a_pull_stand_above_the_field_and_notes_below(desk: BenchShop, open_shop: Shop) -> None:
    desk.open()
    desk.stand()
    pulled(desk, "14.4")
    text = open_shop.page(place(desk))
    above, _, below = text.partition('id="pull-form"')
    assert 'data-part="warnings"' in above
    assert 'data-part="notes"' in below


def test_every_word_of_the_script_comes_with_the_page(desk: BenchShop, open_shop: Shop) -> None:
    text = open_shop.page(place(desk))
    for word in ("unsent", "next", "away", "nothing", "first", "none-struck", "shown", "why"):
        assert f'data-{word}="' in text
    assert 'data-unsent="{count} not yet saved: {lines}"' in text


def test_a_pull_that_was_struck_out_is_not_struck_out_again(desk: BenchShop, open_shop: Shop) -> None:
    number = pulled(desk, "19.6")
    strike_out(desk.acting, desk.check, number, {"reason": "misread"})
    text = open_shop.page(place(desk))
    assert f"/pulls/{number}/take-back" in text
    assert f"/pulls/{number}/strike" not in text


# ---------------------------------------------------------------- the line to other windows


def test_a_window_is_told_of_what_stands_and_of_every_later_entry(desk: BenchShop, open_shop: Shop) -> None:
    with open_shop.client.websocket_connect(f"{WIRE}/live/{desk.check}") as line:
        assert line.receive_json() == {"last": desk.body["last"]}
        number = pulled(desk, "19.6")
        assert line.receive_json() == {"last": number}


def test_an_entry_elsewhere_tells_nothing(desk: BenchShop, open_shop: Shop) -> None:
    with open_shop.client.websocket_connect(f"{WIRE}/live/{desk.check}") as line:
        line.receive_json()
        mine = desk.check
        desk.open()
        number = read_pull(desk.acting, mine, AS_FOUND, 0, {"line": "19.6"}).number
        assert line.receive_json() == {"last": number}


def test_a_sealed_check_is_still_told_of(desk: BenchShop, open_shop: Shop) -> None:
    desk.pull(("19.6 19.7 19.5 19.7 19.6", "58.9 59.2 58.8 59.1 59.0", "97.4 98.1 97.8 98.0 97.7"))
    judge_phase(desk.acting, desk.check, AS_FOUND, {})
    close_check(desk.acting, desk.check, {"next_due": ""})
    with open_shop.client.websocket_connect(f"{WIRE}/live/{desk.check}") as line:
        assert line.receive_json() == {"last": desk.body["last"]}


def test_a_server_that_is_to_end_closes_the_line(desk: BenchShop, open_shop: Shop) -> None:
    app = open_shop.client.app
    assert isinstance(app, FastAPI)
    with open_shop.client.websocket_connect(f"{WIRE}/live/{desk.check}") as line:
        line.receive_json()
        app.state.is_ending = lambda: True
        with pytest.raises(WebSocketDisconnect) as closed:
            line.receive_json()
    assert closed.value.code == 1012


def test_a_check_that_is_not_there_closes_the_line(open_shop: Shop) -> None:
    with (
        open_shop.client.websocket_connect(f"{WIRE}/live/nothing") as line,
        pytest.raises(WebSocketDisconnect) as closed,
    ):
        line.receive_json()
    assert closed.value.code == 1008


@pytest.mark.parametrize("origin", ["http://example.org", "http://127.0.0.1.example.org", "null"])
def test_a_page_from_elsewhere_gets_no_line(desk: BenchShop, open_shop: Shop, origin: str) -> None:
    with (
        pytest.raises(WebSocketDenialResponse) as refused,
        open_shop.client.websocket_connect(f"{WIRE}/live/{desk.check}", headers={"Origin": origin}),
    ):
        pass
    assert refused.value.status_code == 403


def test_a_program_that_says_no_origin_gets_no_line(desk: BenchShop, open_shop: Shop) -> None:
    del open_shop.client.headers["Origin"]
    with (
        pytest.raises(WebSocketDenialResponse),
        open_shop.client.websocket_connect(f"{WIRE}/live/{desk.check}"),
    ):
        pass
    open_shop.client.headers["Origin"] = HOME
