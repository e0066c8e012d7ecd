"""On a phone, by touch: a load is weighed with a person on the scale, a scale checked with water, a pivot
found."""

import pytest
from playwright.sync_api import Page, expect

from browser import job
from browser.conftest import NewPage
from browser.hands import Fingers, Hand, PlainForms, fill
from browser.ready import with_weights
from browser.running import Workshop
from browser.seen import CONTRAST, axe, fits_across, targets_are_large
from steelyard.desk import add_rig, here, rig_body
from steelyard.words import say

SCALE = {"name": "S-1", "step": "100", "knows": "mass", "class": "III"}


def looks_well(page: Page) -> None:
    """Nothing that axe finds, nothing beside the screen, nothing too small for a thumb."""
    axe(page)
    fits_across(page)
    targets_are_large(page)


def weigh_a_mass(hand: Hand) -> None:
    """From the rigs to a weight that is kept."""
    hand.page.goto("/rigs")
    hand.follow(job.link(hand, "weigh-title"))
    hand.follow(job.link(hand, "weigh-difference"))
    fill(hand, **{"with": "100.2", "without": "80.1"})
    hand.press(job.button(hand, "weigh-work"))
    expect(hand.page.locator(".answer-number")).to_contain_text("20.10 kg")
    fill(hand, name="P-20")
    hand.follow(job.button(hand, "weigh-keep"))
    job.heading(hand, "P-20")
    expect(hand.page.locator(".rig-known")).to_contain_text("20.10 kg ± 0.29 kg")
    expect(hand.page.locator(".rig-known")).to_contain_text(say("weigh-difference"))


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_a_mass_is_weighed_by_difference_by_touch_alone(phone: Page, workshop: Workshop) -> None:
    with with_weights(workshop) as bench:
        add_rig(bench.acting, "scale", SCALE)
        weigh_a_mass(Fingers(phone))
        kept = next(m for m in here(bench.workshop.ledger).masses if m["table"]["name"] == "P-20")
        assert kept["table"]["value"] == "20.10 kg ± 0.29 kg"
        looks_well(phone)


def test_the_same_without_javascript(new_page: NewPage, workshop: Workshop) -> None:
    with with_weights(workshop) as bench:
        add_rig(bench.acting, "scale", SCALE)
        weigh_a_mass(PlainForms(new_page("desk", javascript=False)))


def test_a_refused_reading_is_told_beside_its_field_and_mended_by_touch(
    phone: Page, workshop: Workshop
) -> None:
    with with_weights(workshop) as bench:
        add_rig(bench.acting, "scale", SCALE)
        hand = Fingers(phone)
        phone.goto("/rigs/weigh/placements")
        fill(hand, shown1="9.6")
        hand.press(job.button(hand, "weigh-work"))
        expect(phone.locator("#f-shown2-trouble")).to_be_visible()
        looks_well(phone)
        fill(hand, shown2="9.7")
        hand.press(job.button(hand, "weigh-work"))
        expect(phone.locator(".answer-number")).to_contain_text("9.65 kg")
        looks_well(phone)


def test_a_scale_is_checked_with_water_by_touch_alone(phone: Page, workshop: Workshop) -> None:
    with with_weights(workshop) as bench:
        scale = add_rig(bench.acting, "scale", {"name": "S-2", "step": "5", "knows": "force"})
        hand = Fingers(phone)
        phone.goto(f"/rigs/{scale}")
        hand.follow(job.link(hand, "weigh-check-it"))
        fill(hand, volume="10 ± 0.01", temperature="20 ± 1", full="10.6", empty="0.6")
        hand.press(job.button(hand, "weigh-work"))
        expect(phone.locator(".answer")).to_be_visible()
        looks_well(phone)
        hand.follow(phone.get_by_role("button", name=say("weigh-keep-scale", scale="S-2"), exact=True))
        job.heading(hand, "S-2")
        assert rig_body(bench.workshop.ledger, scale)["table"]["knows"] == "mass"


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_pivot_is_found_and_noted_by_touch_alone(phone: Page, workshop: Workshop) -> None:
    with with_weights(workshop) as bench:
        hand = Fingers(phone)
        phone.goto(f"/rack/{bench.tool}")
        hand.follow(job.link(hand, "pivot-open"))
        fill(hand, near_load="25 ± 0.02", near_arm="300 ± 0.5")
        fill(hand, far_load="15.3846 ± 0.02", far_arm="470 ± 0.5")
        hand.press(job.button(hand, "pivot-work"))
        expect(phone.locator(".answer-number")).to_contain_text("28.0 mm")
        looks_well(phone)
        axe(phone, rules=CONTRAST)
        hand.follow(phone.get_by_role("button", name=say("pivot-keep", number="T-04"), exact=True))
        expect(phone.locator("main")).to_contain_text(say("rack-log-pivot-found"))
