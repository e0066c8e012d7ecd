"""The pull page in hand: devices that type, keys, fingers, two windows, a server that goes away."""

import time
from collections.abc import Callable, Iterator

import pytest
from playwright.sync_api import Browser, Locator, Page, Route, expect

from browser.conftest import NewPage, Scheme, Size
from browser.running import Workshop
from browser.seen import (
    axe,
    box,
    contrast,
    digit_height_px,
    fits_across,
    press_long,
    tap,
    targets_are_large,
    wedge,
)
from desk.bench_shop import WRENCH, BenchShop
from steelyard.bootstrap import workshop as opened_workshop
from steelyard.desk import (
    AS_FOUND,
    add_rig,
    add_tool,
    choose_kit,
    exercise,
    read_pull,
    set_up,
    set_workshop,
)

SIXTY = {"plan": "own", "targets": "60", "pulls": "50"}
TWO_POINTS = {"plan": "own", "targets": "60 100", "pulls": "3"}
SAVED_MS = 15_000


@pytest.fixture
def bench(workshop: Workshop) -> Iterator[BenchShop]:
    """A wrench on the bench, set up for fifty pulls at 60 N·m in both directions, clockwise first."""
    with opened_workshop(workshop.folder) as shop:
        acting = shop.acting()
        place = {"name": "Tern Point Boatyard", "latitude": "54.3", "height": "12"}
        set_workshop(acting, place | {"unit": "N·m", "decimal_mark": "."})
        tool = add_tool(acting, WRENCH | {"directions": "cw,ccw"})
        stated = {"name": "adapter A-1", "resolution": "0.1", "stated_of_reading": "0.5"}
        ready = BenchShop(shop, tool, add_rig(acting, "transducer", stated))
        ready.stand(plan=SIXTY)
        yield ready


def address(bench: BenchShop, point: int = 0) -> str:
    return f"/bench/{bench.check}/as-found?point={point}"


def go(page: Page, bench: BenchShop, point: int = 0) -> Page:
    page.goto(address(bench, point))
    return page


def line_of(page: Page) -> Locator:
    return page.locator("#f-line")


def readings(bench: BenchShop) -> list[str]:
    return [pull["pull"]["reading"] for pull in bench.body["pulls"]]


def struck(bench: BenchShop) -> list[str | None]:
    return [pull["struck_out"] for pull in bench.body["pulls"]]


def wait_for(page: Page, is_so: Callable[[], bool], what: str) -> None:
    until = time.monotonic() + SAVED_MS / 1000
    while not is_so():
        assert time.monotonic() < until, f"{what}: {page.locator('#pulling').inner_text()}"
        page.wait_for_timeout(50)


def wait_for_readings(page: Page, bench: BenchShop, wanted: list[str]) -> None:
    wait_for(page, lambda: len(readings(bench)) >= len(wanted), "waiting for readings")
    assert readings(bench) == wanted


def unavailable(route: Route) -> None:
    if route.request.method == "POST":
        route.fulfill(status=503, body="")
    else:
        route.fallback()


# ---------------------------------------------------------------- devices that type


def test_a_burst_of_fifty_lines_is_fifty_pulls_in_order(desk: Page, bench: BenchShop) -> None:
    go(desk, bench)
    lines = [f"58.{i:02}" for i in range(1, 51)]
    started = time.monotonic()
    wedge(desk, lines)
    assert time.monotonic() - started < 5, "that was no burst"
    wait_for_readings(desk, bench, [f"{line} N·m" for line in lines])
    assert set(struck(bench)) == {None}
    expect(desk.locator('[data-of="0"] .points-count')).to_contain_text("50 of 50")
    expect(desk.locator("h1")).to_contain_text("counter-clockwise")
    desk.wait_for_timeout(600)
    assert len(readings(bench)) == 50


def test_the_same_line_within_moments_is_struck_out_and_one_key_takes_it_back(
    desk: Page, bench: BenchShop
) -> None:
    go(desk, bench)
    wedge(desk, ["58.1", "58.1"])
    wait_for_readings(desk, bench, ["58.1 N·m"] * 2)
    assert struck(bench) == [None, "sent twice?"]
    expect(desk.locator("#pull-plain")).to_have_text("struck out: sent twice?")
    expect(desk.locator("#pulling .pull-said button")).to_be_visible()
    desk.keyboard.press("u")
    wait_for(desk, lambda: struck(bench) == [None, None], "taking back")


def test_differing_lines_and_the_same_line_later_all_count(desk: Page, bench: BenchShop) -> None:
    go(desk, bench)
    wedge(desk, ["58.1", "58.2", "58.1"])
    desk.wait_for_timeout(450)
    wedge(desk, ["58.1"])
    wait_for_readings(desk, bench, [f"58.{i} N·m" for i in (1, 2, 1, 1)])
    assert set(struck(bench)) == {None}


def test_comma_unit_blank_and_minus_are_understood(desk: Page, bench: BenchShop) -> None:
    go(desk, bench, point=1)
    wedge(desk, ["-58,1", "-58.2 Nm", "58.3"])
    wait_for_readings(desk, bench, ["-58,1 N·m", "-58.2 Nm", "58.3 N·m"])
    assert {pull["point"] for pull in bench.body["pulls"]} == {1}


def test_a_device_is_heard_while_a_button_has_the_focus(desk: Page, bench: BenchShop) -> None:
    go(desk, bench)
    desk.locator("#pull-take").focus()
    wedge(desk, ["58.1 Nm"])
    wait_for_readings(desk, bench, ["58.1 Nm"])
    expect(desk.locator("#pull-take")).to_be_focused()
    desk.get_by_role("link", name="Help").focus()
    wedge(desk, ["58.2"])
    wait_for_readings(desk, bench, ["58.1 Nm", "58.2 N·m"])
    assert address(bench) in desk.url


def test_typing_in_the_field_is_typing(desk: Page, bench: BenchShop) -> None:
    go(desk, bench)
    line_of(desk).click()
    wedge(desk, ["58.1", "58.2"])
    wait_for_readings(desk, bench, ["58.1 N·m", "58.2 N·m"])
    desk.keyboard.type("xu? ")
    expect(line_of(desk)).to_have_value("xu? ")
    expect(desk.locator("dialog[open]")).to_have_count(0)
    line_of(desk).fill("58.3")
    desk.keyboard.press("Home")
    desk.keyboard.type("1")
    expect(line_of(desk)).to_have_value("158.3")
    assert struck(bench) == [None, None]


# ---------------------------------------------------------------- keys


@pytest.mark.parametrize("key", [" ", "PageDown", "Enter"])
def test_space_and_pedal_take_what_stands_in_the_field(desk: Page, bench: BenchShop, key: str) -> None:
    go(desk, bench)
    desk.keyboard.type("58.7")
    expect(line_of(desk)).to_have_value("58.7")
    desk.keyboard.press(key)
    wait_for_readings(desk, bench, ["58.7 N·m"])
    expect(line_of(desk)).to_have_value("")
    desk.keyboard.press(key)
    expect(desk.locator("#pull-told")).to_have_text("Nothing is typed yet.")


def test_space_is_left_to_the_control_that_has_the_focus(desk: Page, bench: BenchShop) -> None:
    go(desk, bench)
    desk.keyboard.type("58.7")
    desk.get_by_role("button", name="Sounds").focus()
    desk.wait_for_timeout(1100)
    desk.keyboard.press(" ")
    expect(desk.get_by_role("button", name="Sounds")).to_have_attribute("aria-pressed", "true")
    assert readings(bench) == []
    expect(line_of(desk)).to_have_value("58.7")


def test_keys_strike_out_take_back_and_explain_themselves(desk: Page, bench: BenchShop) -> None:
    go(desk, bench)
    wedge(desk, ["58.1", "59.9"])
    wait_for_readings(desk, bench, ["58.1 N·m", "59.9 N·m"])
    expect(desk.locator(".reading-digits")).to_have_text("59.90")
    desk.keyboard.press("x")
    expect(desk.get_by_role("heading", name="Strike out 59.90 N·m: why?")).to_be_visible()
    desk.keyboard.press("b")
    wait_for(desk, lambda: struck(bench) == [None, "misread"], "striking out")
    expect(desk.locator(".reading.is-struck .reading-digits")).to_have_text("59.90")
    desk.keyboard.press("u")
    wait_for(desk, lambda: struck(bench) == [None, None], "taking back")
    desk.keyboard.press("?")
    expect(desk.get_by_role("dialog", name="Keys")).to_be_visible()
    axe(desk)
    desk.keyboard.press("Escape")
    expect(desk.locator("dialog[open]")).to_have_count(0)
    desk.keyboard.press("x")
    axe(desk)
    desk.keyboard.press("Escape")
    expect(desk.locator("dialog[open]")).to_have_count(0)
    assert struck(bench) == [None, None]


# ---------------------------------------------------------------- fingers


def test_a_pull_is_taken_by_touch_alone(phone: Page, bench: BenchShop) -> None:
    go(phone, bench)
    for key in ("5", "8", ".", "9", "9"):
        tap(phone.locator(f'.key[data-key="{key}"]'), 64)
    tap(phone.get_by_role("button", name="Rub out the last"), 64)
    expect(line_of(phone)).to_have_value("58.9")
    expect(line_of(phone)).to_have_attribute("inputmode", "none")
    tap(phone.get_by_role("button", name="Enter"), 64)
    wait_for_readings(phone, bench, ["58.9 N·m"])
    tap(phone.get_by_role("button", name="Keys on the screen"))
    expect(phone.locator(".keypad")).to_be_hidden()
    expect(line_of(phone)).to_have_attribute("inputmode", "decimal")
    phone.reload()
    expect(phone.locator(".keypad")).to_be_hidden()


def test_a_long_press_on_a_row_or_a_dot_strikes_out(phone: Page, bench: BenchShop) -> None:
    bench.pull(("58.1 59.2 58.3",))
    go(phone, bench)
    press_long(phone.locator(".pull .pull-figures").nth(1))
    expect(phone.get_by_role("heading", name="Strike out 59.20 N·m: why?")).to_be_visible()
    tap(phone.get_by_role("button", name="pulled past the click"))
    wait_for(phone, lambda: struck(bench) == [None, "pulled past the click", None], "striking out")
    expect(phone.locator(".pull.is-struck")).to_have_count(1)
    press_long(phone.locator(".dots-room g.ch-plain").first)
    expect(phone.get_by_role("heading", name="Strike out 58.10 N·m: why?")).to_be_visible()
    tap(phone.get_by_role("button", name="Close"))
    expect(phone.locator("dialog[open]")).to_have_count(0)
    tap(phone.get_by_role("button", name="Strike out the last pull"))
    expect(phone.get_by_role("heading", name="Strike out 58.30 N·m: why?")).to_be_visible()


# ---------------------------------------------------------------- nothing is lost


def test_lines_outlive_a_server_that_is_away_and_a_reload(
    desk: Page, bench: BenchShop, allowed_statuses: set[int]
) -> None:
    allowed_statuses.add(503)
    go(desk, bench)
    desk.route("**/as-found*", unavailable)
    wedge(desk, ["58.1", "58.2", "58.3"])
    told = "No answer. Nothing is lost; trying again. 3 not yet saved: 58.1 · 58.2 · 58.3"
    expect(desk.locator("#pull-told")).to_have_text(told)
    desk.reload()
    expect(desk.locator("#pull-told")).to_have_text(told)
    assert readings(bench) == []
    desk.unroute("**/as-found*")
    wait_for_readings(desk, bench, [f"58.{i} N·m" for i in (1, 2, 3)])
    expect(desk.locator("#pull-told")).to_be_hidden()
    desk.reload()
    desk.wait_for_timeout(500)
    assert len(readings(bench)) == 3


def test_a_cut_line_loses_nothing(browser: Browser, home: str, bench: BenchShop) -> None:
    """On a device that nobody watches, since a browser complains aloud of each try without a network."""
    context = browser.new_context(base_url=home)
    page = go(context.new_page(), bench)
    context.set_offline(True)
    wedge(page, ["58.1", "58.2"])
    expect(page.locator("#pull-told")).to_contain_text("Nothing is lost; trying again. 2 not yet saved")
    context.set_offline(False)
    wait_for_readings(page, bench, ["58.1 N·m", "58.2 N·m"])
    context.close()


def test_a_lost_answer_is_asked_for_again_and_is_one_pull(
    desk: Page, bench: BenchShop, home: str, allowed_statuses: set[int]
) -> None:
    allowed_statuses.add(503)
    lost: list[str] = []

    def lose(route: Route) -> None:
        if route.request.method != "POST" or len(lost) == 2:
            route.fallback()
            return
        lost.append(str(route.request.post_data))
        from_here = route.request.headers | {"origin": home}
        assert route.fetch(max_redirects=0, headers=from_here).status == 303
        route.fulfill(status=503, body="")

    go(desk, bench)
    desk.route("**/as-found*", lose)
    wedge(desk, ["58.1", "58.2"])
    wait_for_readings(desk, bench, ["58.1 N·m", "58.2 N·m"])
    expect(desk.locator("#pull-told")).to_be_hidden()
    assert len(lost) == 2
    assert lost[0] == lost[1]
    assert len(readings(bench)) == 2


def test_while_the_server_is_away_lines_go_on_to_the_point_that_comes_next(
    desk: Page, bench: BenchShop, allowed_statuses: set[int]
) -> None:
    allowed_statuses.add(503)
    bench.stand(plan=TWO_POINTS)
    go(desk, bench)
    desk.route("**/as-found*", unavailable)
    wedge(desk, ["58.1", "58.2", "58.3"])
    expect(desk.locator("#pull-told")).to_contain_text("The next one belongs to 100 N·m clockwise.")
    wedge(desk, ["98.1"])
    desk.unroute("**/as-found*")
    wait_for(desk, lambda: len(readings(bench)) == 4, "sending")
    assert [pull["point"] for pull in bench.body["pulls"]] == [0, 0, 0, 1]
    expect(desk.locator("h1")).to_contain_text("100 N·m clockwise")


def test_an_odd_reading_waits_for_the_person_and_all_behind_it_waits_too(
    desk: Page, bench: BenchShop
) -> None:
    go(desk, bench)
    wedge(desk, ["980", "58.9"])
    held = desk.get_by_role("form", name="Not taken yet")
    expect(held.get_by_role("textbox")).to_have_value("980")
    expect(held.get_by_text("near the target")).to_be_visible()
    expect(desk.locator("#pull-told")).to_have_text("2 not yet saved: 980 · 58.9")
    expect(line_of(desk)).not_to_be_focused()
    axe(desk)
    assert readings(bench) == []
    desk.reload()
    expect(held.get_by_role("textbox")).to_have_value("980")
    held.get_by_text("It really was read so").click()
    held.get_by_role("button", name="Send it now").click()
    wait_for_readings(desk, bench, ["980 N·m", "58.9 N·m"])
    expect(held).to_have_count(0)


def test_an_odd_reading_is_mended_moved_or_left_out(desk: Page, bench: BenchShop) -> None:
    go(desk, bench)
    wedge(desk, ["5810", "58.2", "-58.3", "nonsense", "12,3,4"])
    held = desk.get_by_role("form", name="Not taken yet")
    held.get_by_role("textbox").fill("58.10")
    held.get_by_role("textbox").press("Enter")
    expect(held.get_by_role("textbox")).to_have_value("-58.3")
    held.get_by_label("Belongs to").select_option("60 N·m counter-clockwise")
    held.get_by_role("button", name="Send it now").click()
    expect(held.get_by_role("textbox")).to_have_value("12,3,4")
    held.get_by_role("button", name="Leave it out").click()
    expect(held).to_have_count(0)
    assert readings(bench) == ["58.10 N·m", "58.2 N·m", "-58.3 N·m"]
    assert [pull["point"] for pull in bench.body["pulls"]] == [0, 0, 1]


# ---------------------------------------------------------------- two windows


def test_a_second_window_is_told_at_once(desk: Page, bench: BenchShop) -> None:
    go(desk, bench)
    other = go(desk.context.new_page(), bench)
    desk.bring_to_front()
    desk.keyboard.type("58")
    wedge(other, ["58.1"])
    wait_for_readings(desk, bench, ["58.1 N·m"])
    expect(desk.get_by_text("Another window wrote here.")).to_be_visible()
    expect(desk.locator(".is-target .reading-digits")).to_have_text("60")
    axe(desk)
    desk.get_by_role("button", name="Show what it wrote").click()
    expect(desk.locator(".reading-digits")).to_have_text("58.10")
    expect(line_of(desk)).to_have_value("58")
    wedge(desk, [".2"])
    wait_for_readings(desk, bench, ["58.1 N·m", "58.2 N·m"])
    expect(other.locator(".reading-digits")).to_have_text("58.20")


def test_a_window_that_was_not_told_in_time_is_told_by_the_answer(desk: Page, bench: BenchShop) -> None:
    desk.route_web_socket("**/live/*", lambda line: line.close())
    go(desk, bench)
    read_pull(bench.acting, bench.check, AS_FOUND, 0, {"line": "58.1"})
    wedge(desk, ["58.2"])
    held = desk.get_by_role("form", name="Not taken yet")
    expect(held.get_by_text("another window or person wrote here meanwhile")).to_be_visible()
    expect(desk.locator(".reading-digits")).to_have_text("58.10")
    assert readings(bench) == ["58.1 N·m"]
    held.get_by_role("button", name="Send it now").click()
    wait_for_readings(desk, bench, ["58.1 N·m", "58.2 N·m"])


def test_two_windows_that_write_together_lose_and_double_nothing(desk: Page, bench: BenchShop) -> None:
    go(desk, bench)
    other = go(desk.context.new_page(), bench)
    lines = [f"58.{i:02}" for i in range(1, 13)]
    for i, line in enumerate(lines):
        wedge((desk, other)[i % 2], [line])
    wait_for(desk, lambda: all([is_settled(window) for window in (desk, other)]), "settling")
    assert sorted(readings(bench)) == [f"{line} N·m" for line in lines]
    assert set(struck(bench)) == {None}


def is_settled(window: Page) -> bool:
    """Everything typed there is saved; what was not taken is sent again."""
    again = window.get_by_role("button", name="Send it now")
    if again.count():
        again.click()
    return bool(
        window.evaluate("Object.keys(localStorage).every(key => !key.startsWith('steelyard-unsent'))")
    )


# ---------------------------------------------------------------- how it looks


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize(("size", "least_px"), [("phone", 96), ("desk", 180)])
def test_it_is_read_from_two_metres(
    page: Page, bench: BenchShop, size: Size, scheme: Scheme, least_px: float
) -> None:
    bench.pull(("57.3 58.1",))
    go(page, bench)
    digits = page.locator(".reading-digits")
    assert digit_height_px(digits) >= least_px
    for what in (".reading-digits", ".reading-unit", "#pull-plain", "h1", ".pull-running", "#pull-take"):
        assert contrast(page.locator(what)) >= 7, what
    foot = page.locator(".beam").bounding_box() if size == "phone" else None
    bottom = foot["y"] if foot else 800
    seen = [".reading", "#pull-plain", ".dots-room", ".pull-row", *([".keypad"] if size == "phone" else [])]
    for what in seen:
        place = box(page.locator(what))
        assert place["y"] + place["height"] <= bottom, what
    fits_across(page)
    targets_are_large(page)
    axe(page)


@pytest.mark.parametrize("size", ["phone", "desk"])
@pytest.mark.parametrize("line", ["5.81", "158.1", "60.004"])
def test_long_and_short_readings_stay_on_the_screen(
    page: Page, bench: BenchShop, size: Size, line: str
) -> None:
    read_pull(bench.acting, bench.check, AS_FOUND, 0, {"line": line})
    go(page, bench)
    fits_across(page)
    assert digit_height_px(page.locator(".reading-digits")) >= (96 if size == "phone" else 180)


# ---------------------------------------------------------------- sounds, speech, a screen that stays on

STAND_INS = """
window.told = [];
const voices = [{name: 'far', lang: 'en-GB', localService: false}, ...(LOCAL ? [
  {name: 'near', lang: 'en-GB', localService: true}] : [])];
Object.defineProperty(window, 'speechSynthesis', {value: {
  getVoices: () => voices, cancel() {}, speak: said => told.push([said.text, said.voice.name])}});
window.SpeechSynthesisUtterance = class { constructor(text) { this.text = text; } };
Object.defineProperty(navigator, 'wakeLock', {value: {
  request: async () => {
    told.push('awake');
    return {released: false, release: async () => told.push('asleep')};
  }}});
"""


def test_a_reading_is_read_aloud_by_a_voice_of_this_machine_only(desk: Page, bench: BenchShop) -> None:
    desk.add_init_script(STAND_INS.replace("LOCAL", "true"))
    go(desk, bench)
    aloud = desk.get_by_role("button", name="Read aloud, local voice only")
    aloud.click()
    expect(aloud).to_have_attribute("aria-pressed", "true")
    wedge(desk, ["58.1"])
    wait_for(desk, lambda: desk.evaluate("told.length") > 0, "speaking")
    assert desk.evaluate("told") == [["58.10, inside", "near"]]


def test_without_a_local_voice_nothing_is_offered(desk: Page, bench: BenchShop) -> None:
    desk.add_init_script(STAND_INS.replace("LOCAL", "false"))
    go(desk, bench)
    expect(desk.get_by_role("button", name="Sounds")).to_be_visible()
    expect(desk.locator('[data-aid="speech"]')).to_be_hidden()


def test_the_screen_stays_on_while_it_shall_and_the_choice_is_remembered(
    desk: Page, bench: BenchShop
) -> None:
    desk.add_init_script(STAND_INS.replace("LOCAL", "true"))
    go(desk, bench)
    awake = desk.get_by_role("button", name="Keep the screen awake")
    expect(awake).to_have_attribute("aria-pressed", "false")
    awake.click()
    wait_for(desk, lambda: desk.evaluate("told") == ["awake"], "keeping awake")
    desk.reload()
    expect(awake).to_have_attribute("aria-pressed", "true")
    wait_for(desk, lambda: desk.evaluate("told") == ["awake"], "keeping awake again")
    awake.click()
    wait_for(desk, lambda: desk.evaluate("told") == ["awake", "asleep"], "letting go")


def test_sounds_are_off_until_asked_for_and_tell_inside_from_outside(desk: Page, bench: BenchShop) -> None:
    desk.add_init_script(
        """window.tones = [];
        const start = OscillatorNode.prototype.start;
        OscillatorNode.prototype.start = function (at) {
          tones.push(this.frequency.value);
          start.call(this, at);
        };"""
    )
    go(desk, bench)
    wedge(desk, ["58.1"])
    wait_for_readings(desk, bench, ["58.1 N·m"])
    desk.get_by_role("button", name="Sounds").click()
    assert desk.evaluate("tones") == []
    wedge(desk, ["58.2"])
    wait_for(desk, lambda: desk.evaluate("tones.length") == 1, "the tone of a pull inside")
    wedge(desk, ["51.2"])
    wait_for(desk, lambda: desk.evaluate("tones.length") == 3, "the tones of a pull outside")
    wedge(desk, ["5120"])
    wait_for(desk, lambda: desk.evaluate("tones.length") == 4, "the tone of a refusal")
    assert len(set(desk.evaluate("tones"))) == 4


# ---------------------------------------------------------------- weights


def test_masses_are_tapped_into_the_load_at_the_click(phone: Page, bench: BenchShop) -> None:
    acting = bench.acting
    for name, mass in (("M-10", "10.000 kg ± 5 g"), ("B-100", "1.000 kg ± 1 g")):
        add_rig(acting, "mass", {"name": name, "value": mass})
    bench.rig = add_rig(acting, "hung-weight", {"name": "arm"})
    bench.open()
    hang(bench)
    go(phone, bench)
    first, click = (
        phone.get_by_label("Last load without a click"),
        phone.get_by_label("First load with a click"),
    )
    ten = phone.get_by_role("button", name="M-10")
    tap(ten, 64)
    expect(ten).to_have_attribute("aria-pressed", "true")
    tap(phone.get_by_role("button", name="B-100"), 64)
    expect(first).to_have_value("M-10 + B-100")
    expect(summed(phone, "no_click")).to_have_text("= 11.000 kg")
    tap(phone.get_by_role("button", name="B-100"), 64)
    expect(first).to_have_value("M-10")
    expect(summed(phone, "no_click")).to_have_text("= 10.000 kg")
    click.focus()
    tap(phone.get_by_role("button", name="M-10"), 64)
    tap(phone.get_by_role("button", name="B-100"), 64)
    expect(click).to_have_value("M-10 + B-100")
    axe(phone)
    targets_are_large(phone)
    fits_across(phone)
    tap(phone.get_by_role("button", name="Take this pull"))
    wait_for(phone, lambda: len(bench.body["pulls"]) == 1, "the load")
    assert bench.body["pulls"][0]["pull"] == {"no_click": "M-10", "click": "M-10 + B-100"}
    expect(first).to_have_value("M-10")
    expect(click).to_have_value("")


def summed(page: Page, field: str) -> Locator:
    return page.locator(f'[data-sum="{field}"]')


def test_a_load_is_summed_while_it_is_typed_and_begun_or_repeated_with_one_tap(
    desk: Page, bench: BenchShop
) -> None:
    acting = bench.acting
    for name, mass in (("M-10", "10 kg"), ("M-2", "2 kg"), ("B-500", "0.5 kg"), ("HOOK", "0.31 kg")):
        add_rig(acting, "mass", {"name": name, "value": f"{mass} ± 2 g"})
    add_rig(acting, "scale", {"name": "S-2", "step": "5", "knows": "mass", "within": "10", "gain": "1"})
    bench.rig = add_rig(acting, "hung-weight", {"name": "arm", "always": "HOOK"})
    bench.open()
    hang(bench)
    go(desk, bench)
    expect(desk.locator(".to-hang")).to_contain_text("The click is expected at about 12.9")
    desk.get_by_role("button", name="Begin with M-10").click()
    expect(desk.locator("#f-no_click")).to_have_value("M-10 + B-500")
    expect(summed(desk, "no_click")).to_have_text("= 10.500 kg; with HOOK 10.810 kg in all")
    click = desk.locator("#f-click")
    click.press_sequentially("M-10 + 2,02 kg on S-2")
    expect(summed(desk, "click")).to_have_text("= 12.000 kg; with HOOK 12.310 kg in all")
    click.fill("M-10 + M-77 + B-500")
    expect(summed(desk, "click")).to_have_text("M-77: not a weight known here")
    click.fill("M-10 + B-500 + 2.02 kg on S-2")
    desk.get_by_role("button", name="Take this pull").click()
    wait_for(desk, lambda: len(bench.body["pulls"]) == 1, "the load")
    expect(summed(desk, "click")).to_have_text("")
    desk.get_by_role("button", name="As at the last click").click()
    expect(click).to_have_value("M-10 + B-500 + 2.02 kg on S-2")
    boxes = [box(desk.locator(f"#f-{name}")) for name in ("no_click", "click", "bucket")]
    assert len({each["x"] for each in boxes}) == 1
    assert boxes[0]["y"] < boxes[1]["y"] < boxes[2]["y"]
    fits_across(desk)


def hang(bench: BenchShop) -> None:
    choose_kit(bench.acting, bench.check, {"rig": bench.rig, **SIXTY})
    set_up(bench.acting, bench.check, {"arm": "450 ± 1", "is_ready": "yes"})
    exercise(bench.acting, bench.check, {"exercise_pulls": "5"})


# ---------------------------------------------------------------- without JavaScript


def test_it_works_without_javascript(new_page: NewPage, bench: BenchShop) -> None:
    page = go(new_page("phone", javascript=False), bench)
    expect(page.locator(".keypad")).to_be_hidden()
    line_of(page).fill("980")
    page.get_by_role("button", name="Take this pull").click()
    expect(line_of(page)).to_have_value("980")
    page.get_by_text("It really was read so").click()
    page.get_by_role("button", name="Take this pull").click()
    expect(page.locator(".reading-digits")).to_have_text("980.00")
    page.locator(".strike summary").click()
    page.get_by_role("button", name="misread").click()
    expect(page.locator("#pull-plain")).to_have_text("struck out: misread")
    page.get_by_role("button", name="Count it again").click()
    expect(page.locator(".pull.is-struck")).to_have_count(0)
    assert readings(bench) == ["980 N·m"]
