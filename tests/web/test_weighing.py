"""The pages on which a load is weighed well, and a scale checked with water; the same for a program."""

import re
from collections.abc import Iterator
from html import unescape
from typing import Any

import pytest

from steelyard.records import Kind
from steelyard.words import say
from web.forms_on_page import read_page
from web.shop import Shop, shop

PERSON = {"with": "100.2", "without": "80.1"}
WATER = {"volume": "10 ± 0.02", "temperature": "20 ± 1", "full": "10.6", "empty": "0.6"}
ROWS = "P-1 = 10.01\nP-2 = 5.00\nP-1 + P-2 = 15.02"


@pytest.fixture
def here() -> Iterator[Shop]:
    """A workshop with one verified scale."""
    with shop() as opened:
        opened.send("/settings", name="", decimal_mark=".")
        scale = {"name": "S-1", "step": "100", "knows": "mass", "class": "III"}
        opened.send("/rigs/new/scale", **scale)
        yield opened


def asked(here: Shop, way: str, typed: dict[str, str], status: int = 200) -> str:
    """The page of a way with what was read in its address."""
    answer = here.client.get(f"/rigs/weigh/{way}", params=typed)
    assert answer.status_code == status, answer.text
    return unescape(answer.text)


def kept(here: Shop, way: str, typed: dict[str, str], status: int = 303) -> str:
    return here.send(f"/rigs/weigh/{way}", status, **typed)


def rig(here: Shop, address: str) -> dict[str, Any]:
    found: dict[str, Any] = here.client.get(f"/api{address}").json()
    return found


def test_without_a_scale_it_says_what_comes_first() -> None:
    with shop() as empty:
        for path in ("/rigs/weigh", "/rigs/weigh/difference"):
            text = empty.page(path)
            assert 'href="/rigs/new/scale"' in text
            assert 'name="with"' not in text


def test_the_ways_stand_with_what_each_is_worth(here: Shop) -> None:
    text = unescape(here.page("/rigs/weigh?load=20"))
    assert say("weigh-leaves", within="0.13 kg", load="20 kg") in text
    assert say("weigh-leaves", within="0.33 kg", load="20 kg") in text
    assert text.count(say("weigh-best", scale="S-1")) == 1


def test_a_load_that_cannot_be_read_is_refused_beside_its_field(here: Shop) -> None:
    text = here.page("/rigs/weigh?load=heavy", 422)
    assert 'id="f-load-trouble"' in text


def test_the_answer_shows_at_once_and_nothing_is_kept(here: Shop) -> None:
    head = here.workshop.ledger.head()
    text = asked(here, "difference", PERSON)
    assert "20.10 kg" in text
    assert "± 0.33 kg" in text
    assert say("weigh-helps", way="the load alone, several times", within="0.13 kg") in text
    assert here.workshop.ledger.head() == head


def test_both_plus_minus_of_a_weighing_say_what_they_are(here: Shop) -> None:
    text = asked(here, "difference", {"with": "92.8", "without": "80.6"})
    (within,) = re.findall(r"inside this ±([\d.]+ k?g), ", text)
    kept = re.findall(r"The rigs keep it as [\d.]+ k?g ± ([\d.]+ k?g)\. That ± is smaller because", text)
    assert f"± {within}" in text or f"±{within}" in text
    assert kept and kept[0] != within


def test_what_was_weighed_becomes_a_weight_and_its_page_says_how(here: Shop) -> None:
    where = kept(here, "difference", {**PERSON, "name": "P-20"})
    text = unescape(here.page(where))
    for told in (say("weighed-title"), say("weigh-difference"), "100.2 kg", "80.1 kg", "2026-11-25", "S-1"):
        assert told in text
    assert rig(here, where)["table"] == {"name": "P-20", "value": "20.10 kg ± 0.29 kg"}


def test_a_refused_reading_has_its_sentence_beside_the_field_and_keeps_the_rest(here: Shop) -> None:
    text = asked(here, "difference", {"with": "100.2", "without": "eighty"}, 422)
    assert 'id="f-without-trouble"' in text
    assert 'value="100.2"' in text
    assert 'method="post"' not in text.partition("<main")[2].partition("</main")[0]


def test_a_name_that_is_taken_leaves_the_answer_and_asks_for_another(here: Shop) -> None:
    text = kept(here, "difference", {**PERSON, "name": "S-1"}, 422)
    assert 'id="f-name-trouble"' in text
    assert "20.10 kg" in text
    assert kept(here, "difference", {**PERSON, "name": "P-20"}).startswith("/rigs/")


def test_every_answer_sends_all_that_was_read(here: Shop) -> None:
    page = read_page(asked(here, "combinations", {"rows": ROWS}))
    form = next(f for f in page.forms if f.method == "post" and "weigh" in f.action)
    assert form.values["rows"] == ROWS


def test_combinations_keep_all_at_once(here: Shop) -> None:
    assert kept(here, "combinations", {"rows": ROWS.replace("\n", "\r\n")}) == "/rigs"
    names = [each["table"]["name"] for each in here.client.get("/api/rigs").json()]
    assert names == ["S-1", "P-1", "P-2"]


def test_a_weight_is_weighed_anew_from_its_own_page(here: Shop) -> None:
    gym = here.send("/rigs/new/mass", name="GYM", value="20", casting="yes")
    name = gym.removeprefix("/rigs/")
    assert f"/rigs/weigh?mass={name}" in here.page(gym)
    assert "20 kg" in here.page(f"/rigs/weigh?mass={name}")
    text = asked(here, "difference", {**PERSON, "mass": name})
    assert say("weigh-keep-anew", name="GYM") in text
    assert kept(here, "difference", {**PERSON, "mass": name, "seen": str(rig(here, gym)["last"])}) == gym
    assert rig(here, gym)["table"] == {"name": "GYM", "value": "20.10 kg ± 0.29 kg"}
    here.send(f"{gym}/change", name="GYM", value="20 ± 0.5")
    assert say("weighed-over", day="2026-11-25", scale="S-1", stands="20.10 kg ± 0.29 kg") in unescape(
        here.page(gym)
    )


def test_somebody_who_wrote_meanwhile_is_told(here: Shop) -> None:
    gym = here.send("/rigs/new/mass", name="GYM", value="20", casting="yes")
    seen = str(rig(here, gym)["last"])
    here.send(f"{gym}/change", name="GYM", value="20 ± 0.5")
    typed = {**PERSON, "mass": gym.removeprefix("/rigs/"), "seen": seen}
    assert "20.10 kg" in kept(here, "difference", typed, 409)


def test_water_gives_the_scale_its_error_and_its_page_says_how(here: Shop) -> None:
    kitchen = here.send("/rigs/new/scale", name="S-2", step="100", knows="force").removeprefix("/rigs/")
    text = asked(here, "water", {**WATER, "scale": kitchen})
    assert say("weigh-keep-scale", scale="S-2") in text
    where = kept(here, "water", {**WATER, "scale": kitchen})
    assert rig(here, where)["table"]["knows"] == "mass"
    assert say("weighed-title-scale") in here.page(where)
    assert "10 ± 0.02 L" in here.page(where)


def test_numbers_stand_with_the_decimal_mark_of_the_workshop(here: Shop) -> None:
    here.send("/settings", name="", decimal_mark=",")
    text = asked(here, "difference", {"with": "100,2", "without": "80,1"})
    assert "20,10 kg" in text
    assert "± 0,33 kg" in text
    where = kept(here, "difference", {"with": "100,2", "without": "80,1", "name": "P-20"})
    assert "100,2 kg" in here.page(where)


def test_a_way_that_is_none_is_not_there(here: Shop) -> None:
    here.page("/rigs/weigh/by-eye", 404)
    kept(here, "by-eye", PERSON, 404)


def test_a_program_weighs_as_the_pages_do(here: Shop) -> None:
    worth = here.client.get("/api/rigs/weigh", params={"load": "20"}).json()
    assert worth["best"] == "placements"
    answer = here.client.get("/api/rigs/weigh/difference", params=PERSON).json()
    assert answer["masses"][0]["kilogram"] == pytest.approx(20.1)
    assert answer["better"]["way"] == "placements"
    sent = {**PERSON, "name": "P-20", "submission": "once"}
    first = here.client.post("/api/rigs/weigh/difference", json=sent)
    assert first.status_code == 201
    assert first.json()[0]["weighings"][0]["typed"] == {"with": "100.2 kg", "without": "80.1 kg"}
    assert here.client.post("/api/rigs/weigh/difference", json=sent).json() == first.json()
    refused = here.client.post("/api/rigs/weigh/difference", json={**PERSON, "without": "eighty"})
    assert (refused.status_code, refused.json()["field"]) == (422, "without")
    kinds = [entry.kind for entry in here.workshop.ledger.entries()]
    assert kinds[-2:] == [Kind.RIG_ADDED, Kind.WEIGHED]
