"""Yes/no trials and pouring in a real browser: by finger at the size of a phone, and by keys alone."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Page, expect

from browser.conftest import NewPage, Scheme, Size
from browser.ready import PLACE
from browser.running import Workshop
from browser.seen import axe, box, contrast, fits_across, tab_to, tap, targets_are_large
from desk.bench_shop import WRENCH
from desk.hung_shop import MASSES, HungShop
from steelyard.bootstrap import workshop as opened_workshop
from steelyard.desk import AS_FOUND, Way, add_rig, add_tool, answer_trial, set_workshop, trials_at

TARGETS = ("30", "40", "60")
TRUE_PERCENT = {"30": 9.0, "40": -8.0, "60": 7.5}
"""What the tool really does at each point: far enough out to be told from few answers."""
MOST = 12
BUTTON_PX = 96


@pytest.fixture
def bench(workshop: Workshop) -> Iterator[HungShop]:
    """A wrench hung on an arm, set up and exercised, three points."""
    with opened_workshop(workshop.folder) as shop:
        acting = shop.acting()
        set_workshop(acting, PLACE)
        tool = add_tool(acting, WRENCH)
        for name, value in MASSES.items():
            add_rig(acting, "mass", {"name": name, "value": value})
        add_rig(acting, "scale", {"name": "S-2", "step": "5", "knows": "mass", "within": "10"})
        ready = HungShop(shop, tool, add_rig(acting, "hung-weight", {"name": "W-1", "always": "HOOK"}))
        ready.hang(targets="; ".join(TARGETS))
        yield ready


def address(bench: HungShop, point: int = 0, page: str = "trials") -> str:
    return f"/bench/{bench.check}/as-found/{page}?point={point}"


def clicks(bench: HungShop, point: int) -> bool:
    """What the tool does with the load that the page asks for."""
    wanted = trials_at(bench.body, AS_FOUND, point).next
    assert wanted is not None
    return TRUE_PERCENT[TARGETS[point]] <= wanted.level_percent


def answers(bench: HungShop) -> list[bool]:
    return [pull["pull"]["clicked"] for pull in bench.body["pulls"]]


def some(bench: HungShop, count: int) -> None:
    for _ in range(count):
        wanted = trials_at(bench.body, AS_FOUND, 0).next
        assert wanted is not None
        given = {"load": wanted.load, "clicked": "yes" if clicks(bench, 0) else "no"}
        answer_trial(bench.acting, bench.check, AS_FOUND, 0, given)


def test_three_points_are_found_by_touch_on_a_phone(phone: Page, bench: HungShop) -> None:
    phone.goto(f"/bench/{bench.check}/as-found")
    with phone.expect_navigation():
        tap(phone.get_by_role("link", name="Yes or no instead"), 56)
    for point, target in enumerate(TARGETS):
        expect(phone.locator("h1")).to_contain_text(f"{target} N·m")
        for _ in range(MOST):
            if phone.locator(".trial-enough").count():
                break
            button = "#trial-click" if clicks(bench, point) else "#trial-no-click"
            with phone.expect_navigation():
                tap(phone.locator(button), BUTTON_PX)
        expect(phone.locator(".trial-enough")).to_contain_text("more trials would not change the verdict")
        word = "MORE" if TRUE_PERCENT[target] > 0 else "LESS"
        expect(phone.locator(".trial-estimate")).to_contain_text(f"% {word} than set")
        with phone.expect_navigation():
            tap(phone.locator(".trial-enough a"), 56)
    assert "/verdict" in phone.url


def test_what_to_hang_and_both_buttons_fit_a_phone_without_scrolling(phone: Page, bench: HungShop) -> None:
    some(bench, 3)
    phone.goto(address(bench))
    bar = box(phone.locator("nav.beam"))
    for name in (".trial-large", "#trial-click", "#trial-no-click"):
        seen = box(phone.locator(name))
        assert seen["y"] >= 0 and seen["y"] + seen["height"] <= bar["y"]
    assert contrast(phone.locator(".trial-large")) >= 7
    fits_across(phone)
    targets_are_large(phone)


def test_keys_answer_while_nothing_has_the_focus(desk: Page, bench: HungShop) -> None:
    desk.goto(address(bench))
    for key in ("y", "n"):
        with desk.expect_navigation():
            desk.keyboard.press(key)
    assert answers(bench) == [True, False]
    tab_to(desk.locator("#trial-other summary"), 90)
    desk.keyboard.press("y")
    desk.wait_for_timeout(300)
    assert answers(bench) == [True, False]


def test_no_key_answers_for_a_load_that_is_folded_away(desk: Page, bench: HungShop) -> None:
    some(bench, 9)
    desk.goto(address(bench))
    expect(desk.locator("#trial-click")).not_to_be_visible()
    desk.keyboard.press("y")
    desk.wait_for_timeout(300)
    assert len(answers(bench)) == 9
    desk.locator(".trial-more > summary").click()
    expect(desk.locator("#trial-click")).to_be_visible()


def test_an_answer_can_be_given_and_struck_out_by_keys_alone(desk: Page, bench: HungShop) -> None:
    desk.goto(address(bench))
    tab_to(desk.locator("#trial-other summary"), 90)
    desk.keyboard.press("Enter")
    tab_to(desk.locator("#f-load"))
    desk.keyboard.press("Control+a")
    desk.keyboard.type("M-2 + M-1")
    desk.keyboard.press("Enter")  # a field sends nothing by itself: whether it clicked is to be said
    desk.wait_for_timeout(200)
    assert bench.body["pulls"] == []
    tab_to(desk.locator("#trial-no-click"))
    with desk.expect_navigation():
        desk.keyboard.press("Enter")
    assert bench.body["pulls"][0]["pull"] == {"load": "M-2 + M-1", "clicked": False}
    tab_to(desk.locator(".strike summary"), 90)
    desk.keyboard.press("Enter")
    tab_to(desk.get_by_role("button", name="the tool slipped").or_(desk.locator(".strike button")).first)
    with desk.expect_navigation():
        desk.keyboard.press("Enter")
    assert bench.body["pulls"][0]["struck_out"] is not None
    expect(desk.locator(".pull.is-struck")).to_have_count(1)


def test_a_second_window_is_told_of_an_answer(desk: Page, bench: HungShop) -> None:
    desk.goto(address(bench))
    desk.wait_for_timeout(700)
    some(bench, 1)
    expect(desk.locator("#trial-new")).to_contain_text("Another window wrote here.")
    with desk.expect_navigation():
        desk.get_by_role("link", name="Show it").click()
    expect(desk.locator(".pulls-list .pull")).to_have_count(1)


def test_it_works_without_a_script(new_page: NewPage, bench: HungShop) -> None:
    plain = new_page("phone", javascript=False)
    plain.goto(address(bench))
    with plain.expect_navigation():
        plain.locator("#trial-no-click").click()
    assert answers(bench) == [False]
    assert not plain.locator("kbd").first.is_visible()


def test_a_bucket_is_poured_by_touch(phone: Page, bench: HungShop) -> None:
    phone.goto(address(bench, page="pour"))
    tap(phone.locator("#f-dribble"), 56)
    phone.keyboard.type("20")
    with phone.expect_navigation():
        tap(phone.get_by_role("button", name="Keep it"), 56)
    for shows, button in (("3.62", "#pour-clicked"), ("3.70", "#pour-never")):
        tap(phone.locator("#f-shows"), 56)
        phone.keyboard.type(shows)
        with phone.expect_navigation():
            tap(phone.locator(button), BUTTON_PX)
    assert [pull["pull"].get("never_clicked", False) for pull in bench.body["pulls"]] == [False, True]
    fits_across(phone)


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", ["phone", "desk"])
def test_every_state_is_accessible(page: Page, bench: HungShop, scheme: Scheme, size: Size) -> None:
    page.goto(address(bench))
    axe(page)
    some(bench, 4)
    for more in ("", f"&way={Way.SETTING}", f"&way={Way.POURED}", "&at=far"):
        page.goto(address(bench) + more)
        axe(page)
        fits_across(page)
    page.locator("#trial-other summary").click()
    axe(page)
    page.goto(address(bench, 1, "pour"))
    axe(page)
    targets_are_large(page)
