"""The measuring hands themselves: does each find what it is for? No server; the pages are written here."""

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from browser.conftest import SIZES
from browser.seen import (
    axe,
    contrast,
    digit_height_px,
    fits_across,
    press_long,
    tab_to,
    tap,
    targets_are_large,
    walk,
)
from browser.seen import wedge as type_like_a_device
from browser.watch import Watch

HOME = "http://127.0.0.1:9"
PAGE = (
    "<!doctype html><html lang=en><title>t</title><meta name=viewport content='width=device-width'>"
    "<body style='margin:0; background:#fff'><main><h1>t</h1>{}</main>"
)


@pytest.fixture
def context(browser: Browser) -> Iterator[BrowserContext]:
    opened = browser.new_context(**SIZES["phone"])
    yield opened
    opened.close()


@pytest.fixture
def sheet(context: BrowserContext) -> Page:
    return context.new_page()


def write(page: Page, inside: str) -> None:
    page.set_content(PAGE.format(inside))


# 21 and 4.54 (#767676 on white): widely published, from memory. Half-clear black over white is a grey of 127
# or 128: 3.95 to 4.00 on white, 5.24 to 5.32 under black; own reckoning by the formula of WCAG 2.2.
@pytest.mark.parametrize(
    ("inside", "least", "most"),
    [
        ("<p id=x style='color:#000'>8", 21, 21),
        ("<p id=x style='color:#767676'>8", 4.53, 4.55),
        ("<p id=x style='color:rgb(0 0 0 / .5)'>8", 3.90, 4.03),
        ("<div style='opacity:.5'><p id=x style='color:#000'>8", 3.90, 4.03),
        ("<div style='background:#000'><p id=x style='color:#fff'>8", 21, 21),
        ("<div style='background:rgb(0 0 0 / .5)'><p id=x style='color:#000'>8", 5.2, 5.4),
        ("<p id=x style='color:oklch(0 0 0)'>8", 21, 21),
    ],
)
def test_contrast_counts_every_layer(sheet: Page, inside: str, least: float, most: float) -> None:
    write(sheet, inside)
    assert least <= contrast(sheet.locator("#x")) <= most


def test_contrast_is_not_guessed_over_a_picture(sheet: Page) -> None:
    write(sheet, "<div style='background-image:linear-gradient(#000,#fff)'><p id=x>8")
    with pytest.raises(Exception, match="a picture lies behind the text"):
        contrast(sheet.locator("#x"))


def test_height_is_that_of_the_ink(sheet: Page) -> None:
    write(sheet, "<output id=x style='font:100px DejaVu Sans, sans-serif; display:block'>8</output>")
    plain = digit_height_px(sheet.locator("#x"))
    assert 60 < plain < 85  # a digit is about 0.7 of the size in any common sans
    sheet.locator("#x").evaluate("e => { e.style.transform = 'scale(2)'; }")
    assert digit_height_px(sheet.locator("#x")) == pytest.approx(2 * plain, rel=1e-3)


def test_axe_speaks_of_a_field_without_a_name(sheet: Page) -> None:
    write(sheet, "<input>")
    with pytest.raises(AssertionError, match="label"):
        axe(sheet)
    write(sheet, "<label>Name <input></label>")
    axe(sheet)


@pytest.mark.parametrize(
    "inside",
    ["<button style='width:48px; height:30px'>Small</button>", "<label>Small<input type=radio></label>"],
)
def test_small_targets_are_named(sheet: Page, inside: str) -> None:
    write(sheet, inside)
    with pytest.raises(AssertionError, match="Small: (48 × 30|13 × 13) px"):
        targets_are_large(sheet)
    if "button" in inside:
        with pytest.raises(AssertionError, match="too small for a finger"):
            tap(sheet.get_by_role("button"))


def test_large_targets_and_links_in_a_sentence_pass(sheet: Page) -> None:
    write(
        sheet,
        "<button style='width:48px; height:48px'>+</button><p>See <a href='#x'>there</a>.</p>"
        "<label style='display:block; height:48px'>Large<input type=radio></label>",
    )
    targets_are_large(sheet)


def test_sideways_scrolling_is_found(sheet: Page) -> None:
    write(sheet, "<div>narrow</div>")
    fits_across(sheet)
    write(sheet, "<div style='width:600px'>wide</div>")
    with pytest.raises(AssertionError, match="600 px wide in a window of 390 px"):
        fits_across(sheet)


def test_tab_finds_what_has_a_visible_focus(sheet: Page) -> None:
    write(sheet, "<a href='#x'>one</a><button>two</button><button style='outline:none'>three</button>")
    tab_to(sheet.get_by_text("two"))
    with pytest.raises(AssertionError, match="nothing shows"):
        tab_to(sheet.get_by_text("three"))
    with pytest.raises(AssertionError, match="did not lead there"):
        tab_to(sheet.get_by_role("main"), most=5)


def test_focus_under_something_is_found(sheet: Page) -> None:
    write(sheet, "<button>two</button><p style='position:fixed; inset:0; margin:0'>over it all</p>")
    with pytest.raises(AssertionError, match="under something"):
        tab_to(sheet.get_by_text("two"))


def test_a_label_may_show_the_focus_of_its_box(sheet: Page) -> None:
    ring = "<style>label:has(:focus) { outline: 4px solid } input { outline: none }</style>"
    write(sheet, f"{ring}<label>Large <input type=checkbox id=x></label>")
    tab_to(sheet.locator("#x"))


STOPS = "<a href='#x'>one</a><label>two <input></label><input type=radio name=r><input type=radio name=r>"


@pytest.mark.parametrize(
    ("also", "words"),
    [
        ("<button>five</button>", ""),
        ("<style>input:focus-within { outline: 2px solid }</style><input type=date>", ""),
        ("<button tabindex=1>first</button><button>six</button>", "leads from"),
        ("<div contenteditable tabindex=0 id=x>trap</div>", "never met|leads from"),
        ("<button style='outline:none'>unseen</button>", "nothing shows"),
        ("<button style='position:absolute; left:-99px'>away</button>", "hidden"),
    ],
)
def test_a_walk_finds_what_keys_cannot_do(sheet: Page, also: str, words: str) -> None:
    write(sheet, STOPS + also)
    sheet.evaluate("document.querySelector('div#x')?.addEventListener('keydown', e => e.preventDefault())")
    if words:
        with pytest.raises(AssertionError, match=words):
            walk(sheet)
    else:
        walk(sheet)


def test_a_link_is_as_large_as_what_it_spreads_over(sheet: Page) -> None:
    over = "li { position:relative; block-size:60px } .all::after { content:''; position:absolute; inset:0 }"
    write(sheet, f"<style>{over}</style><ul><li><a class=all href='#x'>All of it</a></ul>")
    targets_are_large(sheet)
    write(sheet, f"<style>{over}</style><ul><li><a href='#x'>Small</a></ul>")
    with pytest.raises(AssertionError, match="Small"):
        targets_are_large(sheet)


def test_fingers_and_devices_arrive(sheet: Page) -> None:
    write(sheet, "<button style='width:60px; height:60px'>+</button><form><input aria-label=pull></form>")
    sheet.evaluate(
        """window.told = []; const tell = e => told.push(e.type);
        for (const kind of ['touchstart', 'touchend', 'click', 'contextmenu'])
          document.querySelector('button').addEventListener(kind, tell);
        document.querySelector('form').addEventListener('submit', e => {
          e.preventDefault(); told.push(e.target[0].value); e.target[0].value = '';
        });"""
    )
    tap(sheet.get_by_role("button"))
    assert sheet.evaluate("told.splice(0)") == ["touchstart", "touchend", "click"]
    press_long(sheet.get_by_role("button"))
    assert sheet.evaluate("told.splice(0)")[:1] == ["touchstart"]
    sheet.get_by_label("pull").focus()
    type_like_a_device(sheet, ["50,1", "-49.8 N·m"])
    assert sheet.evaluate("told.splice(0)") == ["50,1", "-49.8 N·m"]


@pytest.mark.parametrize(
    ("answer", "script", "words"),
    [
        (200, "", ""),
        (422, "", ""),
        (404, "", "console: .* 404"),
        (500, "", "500: "),
        (200, "null.x", "script: "),
        (200, "Promise.reject(new Error('Transition was skipped'))", ""),
        (200, "console.error('so')", "console: so"),
        (200, "document.body.setAttribute('style', 'color: red')", "console: .* Content Security Policy"),
        (200, "fetch('http://127.0.0.1:10/')", "leaves the machine: http://127.0.0.1:10/"),
        (200, "new WebSocket('ws://127.0.0.1:10/')", "leaves the machine: ws://127.0.0.1:10/"),
    ],
)
def test_the_watch_sees_what_must_not_happen(
    context: BrowserContext, answer: int, script: str, words: str
) -> None:
    policy = {"content-type": "text/html", "content-security-policy": "style-src 'self'"}
    body = f"<!doctype html><title>t</title><p>t<script>{script}</script>"
    context.route(f"{HOME}/**", lambda route: route.fulfill(status=answer, headers=policy, body=body))
    watch = Watch(HOME, {409, 422})
    watch.over(context)
    page = context.new_page()
    page.goto(f"{HOME}/")
    page.wait_for_timeout(200)
    seen = "\n".join(watch.seen)
    assert re.search(words, seen) if words else seen == ""
