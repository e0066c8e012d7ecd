"""The whole job on a phone, by touch alone."""

import pytest
from playwright.sync_api import Page, expect

from browser import job
from browser.hands import Fingers, fill
from browser.ready import with_weights
from browser.running import Workshop
from browser.seen import tap
from steelyard.words import say


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_from_nothing_to_a_sealed_record_by_touch_alone(phone: Page, workshop: Workshop) -> None:
    hand = Fingers(phone)
    job.prepare(hand)
    job.check_until_pulls(hand)
    job.pulls(hand, "as-found", job.HIGH_READINGS)
    job.judge(hand, "out")
    job.adjust(hand)
    job.pulls(hand, "as-left", job.GOOD_READINGS)
    job.judge(hand, "in")
    job.close(hand)
    expect(phone.locator(".record-verdict")).to_contain_text("IN")


def test_weights_are_hung_by_touch_alone(phone: Page, workshop: Workshop) -> None:
    with with_weights(workshop) as bench:
        hand = Fingers(phone)
        phone.goto(f"/bench/new?tool={bench.tool}")
        fill(hand, why="due")
        hand.follow(job.button(hand, "bench-begin"))
        job.look(hand)
        fill(hand, plan="own")
        hand.press(job.folded(hand, "kit-own-points"))
        fill(hand, targets="60", pulls="2")
        job.save_on(hand)
        job.is_at(hand, "set-up")
        fill(hand, arm="450 ± 1", droop="0 ± 1", drop="0 ± 5", is_ready="yes")
        job.save_on(hand)
        job.is_at(hand, "exercise")
        for count in range(1, 6):
            hand.press(job.button(hand, "exercise-one-more"))
            expect(phone.locator("#f-exercise_pulls")).to_have_value(str(count))
        job.save_on(hand)
        job.is_at(hand, "as-found")
        hang(hand, "M-10", "B-2")
        expect(phone.locator("#f-no_click")).to_have_value("M-10 + B-2")
        hand.press(job.button(hand, "pull-next-load"))
        hang(hand, "B-05")
        expect(phone.locator("#f-click")).to_have_value("M-10 + B-2 + B-05")
        hand.press(job.button(hand, "pulls-take"))
        expect(phone.locator(".points-count")).to_have_text("1 of 2")
        expect(phone.locator("#f-no_click")).to_have_value("M-10 + B-2")
        tap(phone.locator("#f-click"), hand.least_px)
        hang(hand, "M-10", "B-2", "B-05")
        hand.press(job.button(hand, "pulls-take"))
        expect(phone.locator(".points-count")).to_contain_text("2 of 2")
        hand.follow(job.link(hand, "pulls-to-verdict"))
        hand.follow(job.button(hand, "judge-ask"))
        expect(phone.locator(".verdict-large")).to_contain_text(say("bench-verdict-cant-tell"))
        bench.check = phone.url.split("/")[-2]
        pulls = [pull["pull"] for pull in bench.body["pulls"]]
        assert pulls == [{"no_click": "M-10 + B-2", "click": "M-10 + B-2 + B-05"}] * 2


def hang(hand: Fingers, *masses: str) -> None:
    """Tap masses onto the load in hand."""
    for name in masses:
        mass = hand.page.locator(f'[data-mass="{name}"]')
        tap(mass, 64)
        expect(mass).to_have_attribute("aria-pressed", "true")
