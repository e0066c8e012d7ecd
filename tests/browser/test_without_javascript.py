"""The whole job in a browser in which no script runs."""

from playwright.sync_api import expect

from browser import job
from browser.conftest import NewPage
from browser.hands import PlainForms, fill
from browser.running import Workshop
from steelyard.words import say


def test_from_nothing_to_a_sealed_record_without_a_script(new_page: NewPage, workshop: Workshop) -> None:
    hand = PlainForms(new_page("desk", javascript=False))
    job.prepare(hand)
    job.check_until_pulls(hand)
    page = hand.page
    expect(page.locator(".live, .keypad, [data-count]").locator("visible=true")).to_have_count(0)
    hand.pull("601")
    expect(page.locator(".trouble")).to_be_visible()
    expect(page.locator("#f-line")).to_have_value("601")
    fill(hand, sure="yes")
    hand.follow(page.locator("#pull-take"))
    hand.press(page.locator(".strike summary"))
    hand.follow(page.get_by_role("button", name=say("strike-misread"), exact=True))
    expect(page.locator(".pull.is-struck")).to_contain_text(say("pulls-struck", reason=say("strike-misread")))
    job.pulls(hand, "as-found", job.GOOD_READINGS)
    job.judge(hand, "in")
    job.close(hand)
    expect(page.locator(".record-struck")).to_contain_text(say("strike-misread"))
