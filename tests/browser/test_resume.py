"""A check that is left: at any step, with the server gone in the middle, and in two windows at once."""

import re
from collections.abc import Callable
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Page, expect

from browser import job
from browser.conftest import NewPage
from browser.hands import UNFOLD, Hand, PlainForms, fill
from browser.ready import with_an_adapter
from browser.running import Workshop, end, running
from browser.watch import AWAY
from desk.bench_shop import BenchShop
from steelyard.words import say

READINGS = job.GOOD_READINGS
STEPS: tuple[tuple[str, Callable[[Hand], None]], ...] = (
    ("look", job.look),
    ("kit", job.kit),
    ("set-up", job.set_up),
    ("exercise", job.exercise),
    ("as-found", lambda hand: hand.pull(READINGS[0][0])),
    ("as-found", lambda hand: hand.pull(READINGS[0][1])),
    ("as-found", lambda hand: hand.pull(READINGS[0][2])),
)


def readings(bench: BenchShop) -> list[str]:
    """All that was read, in order."""
    return [pull["pull"]["reading"] for pull in bench.body["pulls"]]


def on_a_new_device(new_page: NewPage, left: Page | None = None) -> PlainForms:
    """Leave what is open; on another device, from Today, go on with the only check in hand."""
    if left is not None:
        left.context.close()
    hand = PlainForms(new_page("phone", javascript=False))
    hand.page.goto("/")
    hand.follow(hand.page.locator('main a[href^="/bench/"]').filter(has_text="T-04"))
    return hand


def test_a_check_left_at_any_step_goes_on_there(new_page: NewPage, workshop: Workshop) -> None:
    with with_an_adapter(workshop) as bench:
        hand = PlainForms(new_page("phone", javascript=False))
        hand.page.goto(f"/bench/new?tool={bench.tool}")
        fill(hand, why="due")
        hand.follow(job.button(hand, "bench-begin"))
        for step, deed in STEPS:
            hand = on_a_new_device(new_page, hand.page)
            job.is_at(hand, step)
            deed(hand)
        hand = on_a_new_device(new_page, hand.page)
        job.heading(hand, re.compile(r": 100 N·m "))
        for reading in READINGS[1]:
            hand.pull(reading)
        hand = on_a_new_device(new_page, hand.page)
        job.judge(hand, "in")
        hand = on_a_new_device(new_page, hand.page)
        job.is_at(hand, "close")
        expect(hand.page.locator(".verdict-large")).to_contain_text(say("bench-verdict-in"))
        bench.check = urlsplit(hand.page.url).path.split("/")[2]
        assert readings(bench) == [f"{reading} N·m" for row in READINGS for reading in row]


def test_the_same_page_comes_back_whenever_the_server_was_away(
    desk: Page, workshop: Workshop, allowed_statuses: set[int]
) -> None:
    allowed_statuses.add(AWAY)
    with with_an_adapter(workshop) as bench:
        bench.open()
    hand = PlainForms(desk)
    desk.goto(f"/bench/{bench.check}")
    serving = workshop
    for step, deed in STEPS[1:4]:
        job.is_at(hand, step)
        before = desk.locator("main").inner_text()
        assert end(serving.process), "the server does not end when it is asked"
        with running("serve", workshop.folder, port=urlsplit(workshop.url).port) as serving:
            desk.reload()
            expect(desk.get_by_role("heading", level=1)).to_be_visible()
            assert desk.locator("main").inner_text() == before
            deed(hand)


def test_a_pull_made_while_the_server_is_away_is_kept_and_sent(
    desk: Page, workshop: Workshop, allowed_statuses: set[int]
) -> None:
    allowed_statuses.add(AWAY)
    with with_an_adapter(workshop) as bench:
        bench.stand(plan={"plan": "own", "targets": "60 100", "pulls": "3"})
        desk.goto(f"/bench/{bench.check}")
        end(workshop.process)
        for reading in READINGS[0][:2]:
            desk.keyboard.type(reading)
            desk.keyboard.press("Enter")
        expect(desk.locator("#pull-told")).to_contain_text(say("pull-away"))
        with running("serve", workshop.folder, port=urlsplit(workshop.url).port):
            expect(desk.locator('[data-of="0"] .points-count')).to_contain_text("2 of 3")
            expect(desk.locator("#pull-told")).to_be_hidden()
        assert readings(bench) == [f"{reading} N·m" for reading in READINGS[0][:2]]


@pytest.mark.parametrize(
    ("step", "typed"),
    [
        ("look", {"damaged": "yes", "look_note": "the pawl slips"}),
        ("kit", {"plan": "own", "targets": "20; 100", "pulls": "4"}),
        (
            "set-up",
            {"axis": "horizontal", "zeroed": "with-tool", "room_temperature": "17.5", "is_ready": "yes"},
        ),
        ("exercise", {"exercise_pulls": "4"}),
    ],
)
def test_the_second_of_two_windows_is_told_and_keeps_what_was_typed(
    new_page: NewPage, workshop: Workshop, step: str, typed: dict[str, str]
) -> None:
    with with_an_adapter(workshop) as bench:
        bench.open()
        first = PlainForms(new_page("desk"))
        first.page.goto(f"/bench/{bench.check}")
        for name, deed in STEPS[1:4]:
            if step in ("look", name):
                break
            deed(first)
        first.page.goto(f"/bench/{bench.check}/{step}")
        second = PlainForms(first.page.context.new_page())
        second.page.goto(f"/bench/{bench.check}/{step}")
        dict(STEPS)[step](first)
        known = bench.body["last"]
        second.page.evaluate(UNFOLD)
        fill(second, **typed)
        job.save_on(second)
        expect(second.page.locator(".trouble-box")).to_contain_text(say("written-meanwhile", count=1))
        assert second.page.url.endswith(f"/{bench.check}/{step}")
        assert bench.body["last"] == known
        for name, text in typed.items():
            kept = second.page.locator(f'main [name="{name}"]')
            if kept.first.get_attribute("type") in ("radio", "checkbox"):
                expect(second.page.locator(f'main [name="{name}"][value="{text}"]')).to_be_checked()
            else:
                expect(kept).to_have_value(text)
