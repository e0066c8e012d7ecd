"""The whole job with the keyboard alone."""

import pytest
from playwright.sync_api import Page, expect

from browser import job
from browser.hands import Keys
from browser.ready import with_an_adapter
from browser.running import Workshop
from browser.seen import walk


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_from_nothing_to_a_sealed_record_by_keyboard_alone(page: Page, workshop: Workshop) -> None:
    hand = Keys(page)
    job.prepare(hand)
    job.check_until_pulls(hand)
    job.pulls(hand, "as-found", job.HIGH_READINGS)
    job.judge(hand, "out")
    job.adjust(hand)
    job.pulls(hand, "as-left", job.GOOD_READINGS)
    job.judge(hand, "in")
    job.close(hand)
    expect(page.locator(".record-verdict")).to_contain_text("IN")


def test_tab_leads_around_every_page_of_the_job_and_back(desk: Page, workshop: Workshop) -> None:
    with with_an_adapter(workshop) as bench:
        bench.stand(plan={"plan": "own", "targets": "60 100", "pulls": "3"})
        bench.pull(tuple(" ".join(row) for row in job.GOOD_READINGS))
        steps = ("look", "kit", "set-up", "as-found", "verdict", "close")
        paths = ("/", "/rack/new?kind=click-adjustable", *(f"/bench/{bench.check}/{step}" for step in steps))
        for path in paths:
            desk.goto(path)
            walk(desk)
