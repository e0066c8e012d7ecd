"""The rack in the browser and for programs."""

import re
from collections.abc import Iterator

import pytest

from steelyard.desk import TOOL_KINDS, PastToolCheck, add_tool, look_over, open_check, set_workshop
from steelyard.records import Draft, Kind, Subject
from steelyard.web.rack_words import record_rows
from steelyard.words import say
from web.shop import CHECK, CLICK, Shop, shop

CHECKED = {
    **CHECK,
    "curve": [
        {
            "target_newton_metre": float(target),
            "target": f"{target} N·m",
            "direction": direction,
            "deviation_percent": -1.25,
            "low_percent": -2.05,
            "high_percent": -0.45,
            "limit_percent": "4",
            "verdict": "in",
        }
        for direction in ("cw", "ccw")
        for target in (20, 60, 100)
    ],
}


@pytest.fixture
def open_shop() -> Iterator[Shop]:
    with shop() as opened:
        yield opened


def posted(opened: Shop, path: str, typed: dict[str, str], status: int = 303) -> str:
    return opened.send(path, status, **{name.replace(".", "__"): text for name, text in typed.items()})


def hang(opened: Shop, **changed: str) -> str:
    return add_tool(opened.workshop.acting(), {**CLICK, **changed})


def check(opened: Shop, tool: str, **changed: object) -> None:
    draft = Draft(Kind.TOOL_CHECKED, Subject.TOOL.named(tool), {**CHECKED, **changed})
    opened.workshop.acting().write(draft)


def seen(opened: Shop, tool: str) -> str:
    found = re.search(r'name="seen" value="(\d+)"', opened.page(f"/rack/{tool}"))
    assert found is not None
    return found[1]


def test_an_empty_rack_says_what_comes_first_with_one_button(open_shop: Shop) -> None:
    text = open_shop.page("/rack")
    assert "No tool hangs here yet" in text
    assert len(re.findall(r'class="deed[^"]*" href', text)) == 1


def test_a_new_tool_begins_with_pictures_of_every_kind(open_shop: Shop) -> None:
    text = open_shop.page("/rack/new")
    for kind in TOOL_KINDS:
        assert f'href="/rack/new?kind={kind}"' in text
    assert text.count('<svg class="ch-chart"') == len(TOOL_KINDS)


@pytest.mark.parametrize("kind", TOOL_KINDS)
def test_every_kind_has_its_form(open_shop: Shop, kind: str) -> None:
    text = open_shop.page(f"/rack/new?kind={kind}")
    assert f'<option value="{kind}" selected>' in text
    assert ('name="grip_mark"' in text) is ("driver" not in kind)


def test_a_tool_is_added_and_its_page_says_so_once(open_shop: Shop) -> None:
    place = posted(open_shop, "/rack/new", CLICK)
    assert re.fullmatch(r"/rack/[0-9a-f]{8}", place)
    text = open_shop.page(place)
    assert "It hangs on the rack." in text
    assert "20 to 100 N·m" in text
    assert "not yet checked" in text
    assert "its own weight and the length" in text
    assert "It hangs on the rack." not in open_shop.page(place)


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("number", ""),
        ("kind", ""),
        ("kind", "<b>"),
        ("lowest", "1,000"),
        ("highest", "many"),
        ("unit", "?"),
        ("graduation", ""),
        ("directions", "up"),
        ("grip_mark", "450 kg"),
        ("limit.published", "none"),
        ("limit.percent", "-4"),
        ("limit.source", ""),
        ("limit.of", "x"),
        ("limit.small_percent", "x"),
        ("own_way", "x"),
        ("pivot", "x"),
        ("expected_scatter", "x"),
        ("interval_months", "x"),
        ("notes", "\x01"),
        ("store_rule", "n" * 3000),
    ],
)
def test_everything_typed_is_kept_and_the_sentence_stands_beside_its_field(
    open_shop: Shop, name: str, text: str
) -> None:
    typed = {**CLICK, "make": "kept as typed & <so>", name: text}
    shown = posted(open_shop, "/rack/new", typed, 422)
    assert f'id="f-{name}-trouble"' in shown
    assert f'href="#f-{name}"' in shown
    assert f'id="f-{name}"' in shown
    assert "kept as typed &amp; &lt;so&gt;" in shown
    assert "our own list" in shown or name == "limit.source"


def test_a_limit_that_does_not_cover_the_kind_stays_chosen_and_says_so(open_shop: Shop) -> None:
    typed = {**CLICK, "kind": "driver-preset", "limit.published": "as-4115"}
    text = posted(open_shop, "/rack/new", typed, 422)
    assert re.search(r'value="as-4115"[^>]* checked', text)
    assert "Not for this kind of tool." in text


def test_a_form_sent_twice_adds_one_tool(open_shop: Shop) -> None:
    typed = {**CLICK, "submission": "token"}
    assert posted(open_shop, "/rack/new", typed) == posted(open_shop, "/rack/new", typed)


def test_the_list_shows_number_kind_range_state_and_date(open_shop: Shop) -> None:
    tool = hang(open_shop)
    check(open_shop, tool, next_due="2026-11-20")
    text = open_shop.page("/rack")
    for said in (
        "T-04",
        "click wrench, adjustable",
        "20 to 100 N·m",
        "state-in",
        "state-overdue",
        "was due 2026-11-20",
    ):
        assert said in text


def test_the_list_is_searched_and_narrowed_by_addresses_alone(open_shop: Shop) -> None:
    hang(open_shop)
    hang(open_shop, number="T-05", notes="keel bolts")
    text = open_shop.page("/rack?q=keel")
    assert "T-05" in text and "T-04" not in text
    assert 'href="/rack?q=keel&amp;state=due"' in text
    assert "No tool fits that." in open_shop.page("/rack?q=keel&state=retired")
    assert "T-04" in open_shop.page("/rack?state=nonsense")


def test_a_long_list_comes_in_pages(open_shop: Shop) -> None:
    for i in range(51):
        hang(open_shop, number=f"T-{i:02}")
    text = open_shop.page("/rack")
    assert "T-49" in text and "T-50" not in text
    found = re.search(r'href="(/rack\?after=[^"]+)"', text)
    assert found is not None
    text = open_shop.page(found[1].replace("&amp;", "&"))
    assert "T-50" in text and "T-49" not in text


def test_a_tools_page_draws_its_curve_and_its_checks_and_leads_to_the_records(open_shop: Shop) -> None:
    tool = hang(open_shop)
    check(open_shop, tool)
    text = open_shop.page(f"/rack/{tool}")
    assert text.count('<svg class="ch-') >= 2
    assert 'href="/book/7"' in text
    assert "\u22121.2 ± 0.8 %" in text
    assert f'href="/bench/new?tool={tool}"' in text
    assert "Its next check is due on 2027-11-20." in text


def test_a_curve_without_limit_or_points_is_no_trouble(open_shop: Shop) -> None:
    tool = hang(open_shop)
    check(open_shop, tool, curve=[], verdict="no-limit")
    assert "After the first check" in open_shop.page(f"/rack/{tool}")


@pytest.mark.parametrize("what", ["dropped", "overloaded", "repaired", "adjusted-elsewhere"])
def test_one_tap_makes_a_check_due(open_shop: Shop, what: str) -> None:
    tool = hang(open_shop)
    assert f'name="what" value="{what}"' in open_shop.page(f"/rack/{tool}")
    place = posted(open_shop, f"/rack/{tool}/event", {"what": what, "seen": seen(open_shop, tool)})
    text = open_shop.page(place)
    assert "A check is due now" in text
    assert "on 2026-11-25" in text
    is_doubtful = what in ("dropped", "overloaded")
    assert ("state-overdue" in text) is not is_doubtful
    assert (f">{what}: check before use<" in text) is is_doubtful
    assert (f">{what}: check before use<" in open_shop.page("/rack")) is is_doubtful


def test_only_a_lent_tool_can_come_back(open_shop: Shop) -> None:
    tool = hang(open_shop)
    assert 'value="back"' not in open_shop.page(f"/rack/{tool}")
    posted(open_shop, f"/rack/{tool}/event", {"what": "lent", "note": "rigger"})
    text = open_shop.page(f"/rack/{tool}")
    assert 'value="back"' in text and 'value="lent"' not in text
    assert "lent: rigger" in text
    posted(open_shop, f"/rack/{tool}/event", {"what": "back"})
    assert "came back from a loan" in open_shop.page(f"/rack/{tool}")


@pytest.mark.parametrize(
    ("deed", "typed", "field"),
    [
        ("event", {"what": "polished"}, "what"),
        ("event", {"what": "dropped", "note": "\x01"}, "note"),
        ("quarantine", {"reason": ""}, "reason"),
        ("retire", {"why": "n" * 2001}, "why"),
    ],
)
def test_a_small_form_that_is_refused_keeps_what_was_typed(
    open_shop: Shop, deed: str, typed: dict[str, str], field: str
) -> None:
    tool = hang(open_shop)
    text = posted(open_shop, f"/rack/{tool}/{deed}", typed, 422)
    assert f'id="f-{field}-trouble"' in text
    assert f'href="#f-{field}"' in text and f'id="f-{field}"' in text
    assert f'name="{field}"' in text


def test_a_tool_is_held_and_released_with_a_reason(open_shop: Shop) -> None:
    tool = hang(open_shop)
    posted(open_shop, f"/rack/{tool}/quarantine", {"reason": "spring tired"})
    text = open_shop.page(f"/rack/{tool}")
    assert "In quarantine since 2026-11-25: spring tired" in text
    assert f"/rack/{tool}/quarantine" not in text
    posted(open_shop, f"/rack/{tool}/release", {"reason": ""}, 422)
    posted(open_shop, f"/rack/{tool}/release", {"reason": "new spring"})
    assert "In quarantine" not in open_shop.page(f"/rack/{tool}")


def test_a_tool_is_retired_and_put_back(open_shop: Shop) -> None:
    tool = hang(open_shop)
    posted(open_shop, f"/rack/{tool}/retire", {})
    text = open_shop.page(f"/rack/{tool}")
    assert "no longer due" in text
    assert "/bench/new" not in text
    hang(open_shop)
    assert "another tool in use is T-04" in posted(open_shop, f"/rack/{tool}/return", {}, 422)
    assert "T-04" in open_shop.page("/rack?state=retired")


def test_the_form_comes_filled_and_the_change_is_kept(open_shop: Shop) -> None:
    tool = hang(open_shop, grip_mark="450 ± 1", make="old")
    text = open_shop.page(f"/rack/{tool}/change")
    assert 'name="grip_mark" type="text" value="450 ± 1"' in text
    assert 'name="highest" type="text" value="100"' in text
    place = posted(open_shop, f"/rack/{tool}/change", {**CLICK, "make": "new", "seen": seen(open_shop, tool)})
    assert "new" in open_shop.page(place)


def test_a_second_window_is_told_and_can_send_again(open_shop: Shop) -> None:
    tool = hang(open_shop)
    old = seen(open_shop, tool)
    posted(open_shop, f"/rack/{tool}/event", {"what": "dropped", "seen": old})
    text = posted(open_shop, f"/rack/{tool}/change", {**CLICK, "make": "mine", "seen": old}, 409)
    assert "wrote here meanwhile" in text and 'value="mine"' in text
    fresh = re.search(r'name="seen" value="(\d+)"', text)
    assert fresh is not None
    posted(open_shop, f"/rack/{tool}/change", {**CLICK, "make": "mine", "seen": fresh[1]})
    assert "wrote here meanwhile" in posted(
        open_shop, f"/rack/{tool}/event", {"what": "dropped", "seen": old}, 409
    )


@pytest.mark.parametrize("path", ["/rack/none", "/rack/none/change", "/rack/%00", "/rack/a:b"])
def test_a_tool_that_is_not_there_is_not_found(open_shop: Shop, path: str) -> None:
    open_shop.page(path, 404)


@pytest.mark.parametrize("deed", ["change", "event", "quarantine", "release", "retire", "return"])
def test_nothing_is_done_to_a_tool_that_is_not_there(open_shop: Shop, deed: str) -> None:
    posted(open_shop, f"/rack/none/{deed}", {**CLICK, "what": "dropped", "reason": "x"}, 404)


def test_what_a_person_typed_is_shown_as_text(open_shop: Shop) -> None:
    tool = hang(open_shop, number="<i>1</i>", make="<script>", notes="<b>&")
    for path in ("/rack", f"/rack/{tool}", f"/rack/{tool}/change"):
        text = open_shop.page(path)
        assert "<i>1" not in text and "<script>" not in text and "<b>" not in text


def test_a_program_does_the_same_in_json(open_shop: Shop) -> None:
    client = open_shop.client
    added = client.post("/api/tools", json={**CLICK, "submission": "a"})
    assert added.status_code == 201
    tool = added.json()
    assert client.post("/api/tools", json={**CLICK, "submission": "a"}).json()["id"] == tool["id"]
    place = f"/api/tools/{tool['id']}"
    assert client.get("/api/tools?q=t-04").json()["tools"][0]["id"] == tool["id"]
    assert (
        client.put(place, json={**CLICK, "make": "new", "seen": tool["last"]}).json()["tool"]["make"] == "new"
    )
    assert client.put(place, json={**CLICK, "seen": tool["last"]}).status_code == 409
    assert client.post(f"{place}/event", json={"what": "dropped"}).json()["next_due"] == "2026-11-25"
    assert client.post(f"{place}/quarantine", json={"reason": "bent"}).json()["state"] == "quarantined"
    assert client.post(f"{place}/release", json={"reason": "straight"}).json()["quarantine"] is None
    assert client.post(f"{place}/retire", json={}).json()["is_retired"] is True
    assert client.post(f"{place}/return", json={}).json()["is_retired"] is False
    assert client.get(place).json()["limit"] == {"percent": "4", "source": "our own list"}


def test_a_program_is_told_the_field(open_shop: Shop) -> None:
    refused = open_shop.client.post("/api/tools", json={**CLICK, "grip_mark": "450 kg"})
    assert (refused.status_code, refused.json()["field"]) == (422, "grip_mark")
    assert open_shop.client.post("/api/tools", json={**CLICK, "colour": "red"}).status_code == 422
    assert open_shop.client.get("/api/tools?state=nonsense").json()["field"] == "state"
    assert open_shop.client.get("/api/tools/none").status_code == 404


def test_the_interface_is_described(open_shop: Shop) -> None:
    described = open_shop.client.get("/api/openapi.json").json()
    assert "limit.percent" in described["components"]["schemas"]["ToolTyped"]["properties"]


def test_who_borrows_is_asked_beside_the_note_and_shown_until_forgotten(open_shop: Shop) -> None:
    tool = hang(open_shop)
    text = open_shop.page(f"/rack/{tool}")
    assert 'name="to"' in text
    assert "no names of people here" in text
    typed = {"what": "lent", "to": "sail <loft>", "note": "until Friday", "seen": seen(open_shop, tool)}
    text = open_shop.page(posted(open_shop, f"/rack/{tool}/event", typed))
    assert "lent: sail &lt;loft&gt;" in text
    assert "to sail &lt;loft&gt; until Friday" in text
    assert 'name="to"' not in text
    settings = open_shop.page("/settings")
    assert "borrowed a tool" in settings
    assert "sail &lt;loft&gt;" not in open_shop.page("/who")
    forget = re.search(r"/settings/people/(\w+)/forget", settings)
    assert forget is not None
    open_shop.send(forget[0])
    assert "sail" not in open_shop.page(f"/rack/{tool}")


def test_a_range_is_shown_as_it_was_typed(open_shop: Shop) -> None:
    set_workshop(open_shop.workshop.acting(), {"decimal_mark": ","})
    tool = hang(open_shop, lowest="5,015")
    assert "5,015 to 100 N·m" in open_shop.page("/rack")
    assert "05,015" not in open_shop.page(f"/rack/{tool}")


def test_the_checks_of_a_tool_say_what_the_point_that_decided_was_off_by() -> None:
    past = PastToolCheck(7, "c1", "2026-11-20", "out", -5.08, 0.84, 4.0, "iso", ())
    assert record_rows((past,), ",")[0][4] == "−5,1 ± 0,8 %"
    assert say("rack-decided-head") == "At the point that decided"


def test_damage_that_stopped_a_check_is_told_on_the_page_of_the_tool(open_shop: Shop) -> None:
    tool = hang(open_shop)
    acting = open_shop.workshop.acting()
    look_over(acting, open_check(acting, tool, {"why": "due"}), {"damaged": "yes", "look_note": "crack"})
    text = open_shop.page(f"/rack/{tool}")
    assert "damage seen when it was looked over: crack" in text
    assert "state-quarantined" in text
    assert "/release" in text
