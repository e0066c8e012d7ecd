"""The page on which the pivot of a click tool is found, and the same for a program."""

from collections.abc import Iterator
from html import unescape

import pytest

from steelyard.words import say
from web.shop import Shop, shop

# own examples: a pivot at 28 mm; marks too near to each other; a pivot beyond the drive
CLEAR = {
    "near_load": "25 ± 0.02",
    "near_arm": "300 ± 0.5",
    "far_load": "15.3846 ± 0.02",
    "far_arm": "470 ± 0.5",
}
ALIKE = {"near_load": "25 ± 0.02", "near_arm": "430 ± 1", "far_load": "24.4 ± 0.02", "far_arm": "440 ± 1"}
OUTSIDE = {"near_load": "25 ± 0.01", "near_arm": "300 ± 0.1", "far_load": "22 ± 0.01", "far_arm": "375 ± 0.1"}
TOOL = {
    "number": "T-01",
    "kind": "click-adjustable",
    "lowest": "20",
    "highest": "100",
    "graduation": "1",
    "directions": "cw",
    "grip_mark": "450 ± 2",
    "limit__published": "own",
    "limit__percent": "4",
    "limit__source": "our own list",
}


@pytest.fixture
def here() -> Iterator[Shop]:
    """An empty workshop."""
    with shop() as opened:
        yield opened


@pytest.fixture
def tool(here: Shop) -> str:
    """The address of a click wrench."""
    return here.send("/rack/new", **TOOL)


def asked(here: Shop, tool: str, typed: dict[str, str], status: int = 200) -> str:
    answer = here.client.get(f"{tool}/pivot", params=typed)
    assert answer.status_code == status, answer.text
    return unescape(answer.text)


def test_the_tools_page_leads_there_and_it_says_what_is_noted_so_far(here: Shop, tool: str) -> None:
    assert f'href="{tool}/pivot"' in here.page(tool)
    assert say("pivot-now-none") in here.page(f"{tool}/pivot")


def test_it_is_worked_out_noted_and_told_in_the_history(here: Shop, tool: str) -> None:
    text = asked(here, tool, CLEAR)
    assert "28.0 mm" in text
    assert say("pivot-keep", number="T-01") in text
    assert here.send(f"{tool}/pivot", **CLEAR) == tool
    page = unescape(here.page(tool))
    assert say("rack-log-pivot-found") in page
    assert "25 ± 0.02 kg at 300 ± 0.5 mm" in page
    pivot = here.client.get(f"/api/tools/{tool.removeprefix('/rack/')}").json()["tool"]["pivot"]
    assert say("pivot-now", pivot=pivot) in unescape(here.page(f"{tool}/pivot"))


@pytest.mark.parametrize(("typed", "code"), [(ALIKE, "pivot-alike"), (OUTSIDE, "pivot-outside")])
def test_where_nothing_can_be_told_nothing_is_offered(
    here: Shop, tool: str, typed: dict[str, str], code: str
) -> None:
    text = asked(here, tool, typed)
    assert say(code, most="40 mm") in text
    assert say("pivot-keep", number="T-01") not in text
    assert 'id="f-near_load-trouble"' in here.send(f"{tool}/pivot", 422, **typed)


def test_a_refused_field_has_its_sentence_beside_it(here: Shop, tool: str) -> None:
    text = asked(here, tool, {**CLEAR, "far_arm": "290"}, 422)
    assert 'id="f-far_arm-trouble"' in text
    assert 'value="300 ± 0.5"' in text


def test_a_load_by_name_is_refused_in_the_words_of_the_page(here: Shop, tool: str) -> None:
    text = asked(here, tool, {**CLEAR, "near_load": "M-10 + M-99"}, 422)
    assert say("want-weight-of-shop") in text and "kit." not in text


def test_a_tool_without_a_pivot_says_so(here: Shop) -> None:
    plain = here.send("/rack/new", **{**TOOL, "length_independent": "yes"})
    assert f'href="{plain}/pivot"' not in here.page(plain)
    assert say("pivot-not-for-it", number="T-01") in here.page(f"{plain}/pivot")
    assert say("pivot-not-for-it", number="T-01") in here.send(f"{plain}/pivot", 422, **CLEAR)


def test_a_tool_that_is_not_there_is_said_so(here: Shop) -> None:
    here.page("/rack/nobody/pivot", 404)


def test_a_program_finds_and_notes_it_too(here: Shop, tool: str) -> None:
    address = f"/api/tools/{tool.removeprefix('/rack/')}/pivot"
    answer = here.client.get(address, params=CLEAR).json()
    assert answer["numbers"]["pivot_metre"] == pytest.approx(0.028, abs=2e-4)
    noted = here.client.post(address, json=CLEAR)
    assert noted.status_code == 201
    assert noted.json()["tool"]["pivot"] == answer["stands"]
    assert here.client.get(address, params=ALIKE).json()["stands"] is None
    assert here.client.post(address, json=ALIKE).json()["field"] == "near_load"
