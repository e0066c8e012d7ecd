"""The pages of the rigs: added in groups, changed, sold, and asked what they can decide."""

import re
from collections.abc import Iterator
from html import unescape
from typing import Any

import pytest

from steelyard.records import Draft, Kind
from steelyard.words import say
from web.shop import Shop, shop

SCALE: dict[str, Any] = {"name": "S-2", "step": "5", "knows": "mass", "within": "10"}
ADAPTER: dict[str, Any] = {"name": "A-1", "resolution": "0.1", "stated_of_reading": "0.5"}
PAPER: dict[str, Any] = {
    "name": "R-1",
    "resolution": "0.05",
    "paper__certificate": "TPB-0042",
    "paper__due": "2026-12-10",
    "paper__states": "error",
    "paper__worked_shows": "100.0",
    "paper__worked_true": "99.5",
    "row1_at": "20",
    "row1_stated": "0.40",
    "row1_U": "0.30",
    "row2_at": "100",
    "row2_stated": "0.50",
    "row2_U": "0.25",
}
TOOL = {
    "number": "T-01",
    "kind": "click-adjustable",
    "lowest": "20 N·m",
    "highest": "100 N·m",
    "graduation": "1 N·m",
    "grip_mark": "450 mm ± 2 mm",
    "mass": "1.300 kg ± 5 g",
    "balance_point": "220 mm ± 3 mm",
}
SENDABLE = ("scale", "mass", "hung-weight", "drum", "transducer")


@pytest.fixture
def here() -> Iterator[Shop]:
    """An empty workshop."""
    with shop() as opened:
        yield opened


def put_tool(here: Shop, name: str = "t1", **changed: str) -> None:
    """A tool on the rack."""
    table = {field: text for field, text in {**TOOL, **changed}.items() if text}
    limit = {"percent": "4", "source": "our own list"}
    payload = {"tool": table, "limit": limit, "notes": None}
    here.workshop.acting().write(Draft(Kind.TOOL_ADDED, f"tool:{name}", payload))


def torques(text: str) -> list[str]:
    """The first column of the answer on a page."""
    return re.findall(r'data-head="Torque">(?:<[^>]*>)*([^<]*)', text)


def test_an_empty_shop_says_what_comes_first_with_one_button(here: Shop) -> None:
    text = here.page("/rigs")
    assert say("rig-add-scale-first") in text
    assert text.count('class="deed deed-main"') == 1
    assert 'href="/rigs/new/scale"' in text


def test_every_sort_can_be_chosen(here: Shop) -> None:
    text = here.page("/rigs/new")
    for sort in SENDABLE:
        assert f'href="/rigs/new/{sort}"' in text
        assert "<form" in here.page(f"/rigs/new/{sort}")
    here.page("/rigs/new/pendulum", 404)
    here.send("/rigs/new/pendulum", 404, name="P-1")


def test_rigs_stand_in_groups_with_the_state_of_their_papers(here: Shop) -> None:
    here.send("/rigs/new/scale", **SCALE)
    here.send("/rigs/new/transducer", **ADAPTER)
    here.send("/rigs/new/transducer", **PAPER)
    text = here.page("/rigs")
    assert say("rig-group-scales") in text and say("rig-group-masses") not in text
    assert say("rig-paper-none") in text
    assert say("rig-paper-soon", due="2026-12-10") in text


def test_a_rig_that_was_added_shows_at_once_what_it_can_decide(here: Shop) -> None:
    put_tool(here)
    text = here.page(here.send("/rigs/new/transducer", **ADAPTER))
    assert say("rig-verdict-able") in text
    assert say("notice-rig-added") in text
    assert torques(text) == ["20 N·m", "60 N·m", "100 N·m"]
    assert re.search(r"What helps most: .* \([123] of 3 torques\)", text)


def test_what_is_missing_to_ask_is_said_as_what_to_measure(here: Shop) -> None:
    put_tool(here, mass="", balance_point="")
    rig = here.send("/rigs/new/scale", **SCALE)
    text = here.page(rig)
    assert say("want-rig-own-weight") in unescape(text)
    assert 'href="/rack/t1/change"' in text


def test_cautions_stand_where_something_hangs_and_nowhere_else(here: Shop) -> None:
    assert say("caution-feet") in here.page(here.send("/rigs/new/scale", **SCALE))
    assert say("caution-feet") in here.page(here.send("/rigs/new/hung-weight", name="W-1"))
    assert say("caution-feet") not in here.page(here.send("/rigs/new/transducer", **ADAPTER))


def test_a_lone_scale_says_what_it_knows_and_what_it_decides_at_the_tools_own_handle(here: Shop) -> None:
    put_tool(here)
    rig = here.send("/rigs/new/scale", **SCALE)
    text = unescape(here.page(rig))
    assert say("rig-alone-scale") in text
    assert "From 1.2 kg on it knows every load to ±1 %" in text
    assert say("rig-ability-bare") in text
    assert torques(text)[:3] == ["20 N·m", "60 N·m", "100 N·m"]
    told = here.client.get(f"/api{rig}/alone").json()
    assert told["quarter_kilogram"] == 1.2
    assert [known["kilogram"] for known in told["loads"]][:3] == [1, 2, 5]


def test_what_a_rig_knows_by_itself_stands_above_the_question_about_any_tool(here: Shop) -> None:
    where = here.send("/rigs/new/scale", name="S-2", step="5", knows="mass", within="10")
    text = here.page(where)
    assert text.index(say("rig-alone")) < text.index(say("rig-stand-in-lead"))


def test_a_lone_weight_says_what_it_makes_and_what_is_missing(here: Shop) -> None:
    rig = here.send("/rigs/new/mass", name="M-10", value="10 kg ± 10 g")
    assert say("rig-alone-no-arm") in here.page(rig)
    put_tool(here)
    text = unescape(here.page(rig))
    assert say("rig-alone-handle", number="T-01") in text
    assert "44.1 N·m" in text
    assert say("rig-ability-all") in text
    told = here.client.get(f"/api{rig}/alone").json()
    assert [(arm["name"], arm["is_handle"]) for arm in told["arms"]] == [("T-01", True)]
    adapter = here.send("/rigs/new/transducer", **ADAPTER)
    assert here.client.get(f"/api{adapter}/alone").status_code == 404


def test_a_tool_and_a_scale_are_picked_on_the_page(here: Shop) -> None:
    put_tool(here)
    put_tool(here, "t2", number="T-02", highest="50 N·m")
    fine = here.send("/rigs/new/scale", **SCALE).rsplit("/", 1)[1]
    here.send("/rigs/new/scale", name="S-1", step="100", knows="mass", within="500")
    arm = here.send("/rigs/new/hung-weight", name="W-1", arm="450 ± 1")
    text = here.page(f"{arm}?tool=t2&scale={fine}")
    assert torques(text) == ["20 N·m", "30 N·m", "50 N·m"]
    assert f'<option value="{fine}" selected>' in text
    assert here.page(f"{arm}?tool=t2") != text
    here.page(f"{arm}?tool=t9", 404)


def test_a_tool_that_nobody_has_is_asked_by_its_range(here: Shop) -> None:
    rig = here.send("/rigs/new/transducer", **ADAPTER)
    asked = f"{rig}?kind=dial&lowest=10&highest=50&graduation=0.5&percent=6"
    assert say("rig-ability-stand-in") in here.page(asked)
    text = here.page(f"{rig}?kind=dial&lowest=60&highest=50&graduation=0.5&percent=6", 422)
    assert 'id="f-highest-trouble"' in text and 'value="60"' in text


@pytest.mark.parametrize(
    ("sort", "typed", "field"),
    [
        ("scale", {**SCALE, "step": "five"}, "step"),
        ("scale", {**SCALE, "name": "x" * 5000}, "name"),
        ("mass", {"name": "M-5", "value": "5"}, "class"),
        ("hung-weight", {"name": "W-1", "always": "chain"}, "always"),
        ("drum", {"name": "D-1", "drum": "100"}, "cord"),
        ("transducer", {"name": "A-1", "resolution": "0.1"}, "stated_of_reading"),
        ("transducer", {**PAPER, "row2_U": "-1"}, "row2_U"),
        ("transducer", {**PAPER, "paper__worked_true": "100.5"}, "paper.worked_true"),
        ("transducer", {**PAPER, "row1_at": "200"}, "row1_at"),
    ],
)
def test_what_is_refused_stands_beside_its_field_and_everything_typed_is_kept(
    here: Shop, sort: str, typed: dict[str, Any], field: str
) -> None:
    text = here.send(f"/rigs/new/{sort}", 422, **typed)
    assert f'id="f-{field}-trouble"' in text
    assert f'id="f-{field}"' in text
    for typed_text in typed.values():
        assert f'value="{typed_text}"' in text


def test_a_page_sent_twice_adds_one_rig(here: Shop) -> None:
    first = here.send("/rigs/new/scale", submission="a", **SCALE)
    assert here.send("/rigs/new/scale", submission="a", **SCALE) == first
    assert "f-name-trouble" in here.send("/rigs/new/scale", 422, submission="b", **SCALE)


@pytest.mark.parametrize(("sort", "typed"), [("scale", SCALE), ("transducer", PAPER)])
def test_the_page_of_a_change_holds_what_was_typed(here: Shop, sort: str, typed: dict[str, Any]) -> None:
    rig = here.send(f"/rigs/new/{sort}", **typed)
    text = here.page(f"{rig}/change")
    assert f'value="{"0.25" if sort == "transducer" else "10"}"' in text
    seen = re.findall(r'name="seen" value="(\d+)"', text)[0]
    assert here.send(f"{rig}/change", seen=seen, **{**typed, "notes": "top shelf"}) == rig
    assert "top shelf" in here.page(rig)
    assert say("written-meanwhile", count=1) in here.send(f"{rig}/change", 409, seen=seen, **typed)


def test_a_sold_rig_leaves_the_list_and_can_come_back(here: Shop) -> None:
    rig = here.send("/rigs/new/scale", **SCALE)
    assert here.send(f"{rig}/sold", note="fell") == "/rigs"
    text = here.page("/rigs")
    assert say("rig-group-sold") in text and say("rig-group-scales") not in text
    assert "fell" in here.page(rig) and say("rig-again") in here.page(rig)
    here.send(f"{rig}/change", **SCALE)
    assert say("rig-group-scales") in here.page("/rigs")


def test_what_hangs_from_another_rig_is_not_sold_and_the_page_says_why(here: Shop) -> None:
    mass = here.send("/rigs/new/mass", name="M-5", value="5 kg ± 2 g")
    here.send("/rigs/new/hung-weight", name="W-1", always="M-5")
    text = here.send(f"{mass}/sold", 422, note="lent")
    assert 'id="f-note-trouble"' in text and "W-1" in text


@pytest.mark.parametrize("path", ["/rigs/none", "/rigs/none/change"])
def test_a_rig_that_is_not_there_is_a_page_that_says_so(here: Shop, path: str) -> None:
    here.page(path, 404)


def test_a_program_does_what_the_pages_do(here: Shop) -> None:
    client = here.client
    put_tool(here)
    added = client.post("/api/rigs", json={"sort": "transducer", **ADAPTER})
    assert added.status_code == 201
    rig = added.json()
    assert (rig["sort"], rig["paper"], rig["table"]["resolution"]) == ("transducer", "none", "0.1 N·m")
    assert client.get("/api/rigs").json() == [rig]
    asked = client.get(f"/api/rigs/{rig['id']}/ability?tool=t1").json()
    assert [point["target"] for point in asked["points"]] == ["20 N·m", "60 N·m", "100 N·m"]
    assert all(0 < point["expanded_percent"] < 4 for point in asked["points"])
    changed = client.put(f"/api/rigs/{rig['id']}", json={**ADAPTER, "name": "A-2", "seen": rig["last"]})
    assert changed.json()["table"]["name"] == "A-2"
    stale = client.put(f"/api/rigs/{rig['id']}", json={**ADAPTER, "seen": rig["last"]})
    assert (stale.status_code, stale.json()["try_again"]) == (409, True)
    assert client.post(f"/api/rigs/{rig['id']}/sold", json={}).json()["state"] == "sold"
    assert client.get("/api/rigs").json() == []


def test_a_program_is_told_the_field_that_was_refused(here: Shop) -> None:
    answer = here.client.post("/api/rigs", json={"sort": "scale", **SCALE, "step": "five"})
    assert (answer.status_code, answer.json()["field"]) == (422, "step")
    assert here.client.post("/api/rigs", json={"sort": "pendulum"}).status_code == 404
    rig = here.client.post("/api/rigs", json={"sort": "scale", **SCALE}).json()["id"]
    assert here.client.get(f"/api/rigs/{rig}/ability").json()["field"] == "tool"
    assert here.client.get("/api/rigs/none/ability?tool=t1").status_code == 404
