"""The first start, the settings of the workshop and of a device, and who is there."""

from collections.abc import Iterator

import pytest

from steelyard.desk import people, settings
from web.shop import Shop, shop


@pytest.fixture
def bare() -> Iterator[Shop]:
    with shop() as opened:
        yield opened


def test_every_question_of_the_first_start_may_stay_empty(bare: Shop) -> None:
    assert bare.send("/welcome", submission="a1") == "/"
    said = settings(bare.workshop.ledger)
    assert (said.is_set, said.name, said.unit, said.decimal_mark) == (True, "", "N·m", ".")
    assert not said.place
    assert people(bare.workshop.ledger) == ()
    assert "Three steps" in bare.page("/")


def test_skipping_is_remembered_and_keeps_nothing_that_was_typed(bare: Shop) -> None:
    assert bare.send("/welcome", skip="yes", name="Half typed", latitude="not a place") == "/"
    assert settings(bare.workshop.ledger).name == ""
    assert bare.client.get("/", follow_redirects=False).status_code == 200


def test_the_first_start_keeps_the_answers_and_who_is_there(bare: Shop) -> None:
    bare.send(
        "/welcome",
        submission="a1",
        name="Tern Point",
        latitude="54,3 N",
        height="12",
        unit="lbf·ft",
        decimal_mark=",",
        person="engine shop",
    )
    said = settings(bare.workshop.ledger)
    assert (said.name, said.unit, said.decimal_mark) == ("Tern Point", "lbf·ft", ",")
    assert dict(said.place) == {"latitude": "54,3° N", "height": "12 m"}
    assert "Here now: engine shop" in bare.page("/")


def test_the_first_start_sent_twice_adds_one_person(bare: Shop) -> None:
    for _ in range(2):
        bare.send("/welcome", person="rigger", submission="once")
    assert [person.name for person in people(bare.workshop.ledger)] == ["rigger"]
    assert "Here now: rigger" in bare.page("/")


def test_a_name_that_is_there_already_adds_nobody(bare: Shop) -> None:
    for submission in ("first", "second"):
        bare.send("/welcome", person="rigger", submission=submission)
        bare.send("/who", person="rigger", submission=f"{submission}-again")
    assert [person.name for person in people(bare.workshop.ledger)] == ["rigger"]


@pytest.mark.parametrize(
    ("field", "text"),
    [
        ("latitude", "north"),
        ("latitude", "95"),
        ("height", "high"),
        ("unit", "bananas"),
        ("decimal_mark", "!"),
        ("name", "x" * 81),
        ("person", "y" * 81),
        ("name", "bell\x07"),
    ],
)
def test_a_refused_answer_is_said_beside_its_field(bare: Shop, field: str, text: str) -> None:
    typed = {"name": "Tern Point", "latitude": "54", "height": "12", **{field: text}}
    answer = bare.client.post("/welcome", data=typed)
    shown = answer.text
    assert answer.status_code == 422
    assert f'id="f-{field}-trouble"' in shown
    assert field == "name" or 'value="Tern Point"' in shown
    assert not settings(bare.workshop.ledger).is_set


def test_a_latitude_without_a_height_asks_for_it(bare: Shop) -> None:
    assert 'id="f-height-trouble"' in bare.send("/settings", 422, latitude="54.3")


def test_the_settings_come_back_as_they_were_kept(bare: Shop) -> None:
    assert bare.send("/settings", name="Tern Point", gravity="9.8145", unit="kgf·m") == "/settings"
    shown = bare.page("/settings")
    assert "Kept for the workshop." in shown
    assert 'value="9.8145"' in shown
    assert '<option value="kgf·m" selected>' in shown


def test_a_device_may_have_its_own_name_unit_and_mark(bare: Shop) -> None:
    bare.send("/settings", unit="N·m")
    bare.send("/settings/device", device="Tablet – Bank", device_unit="lbf·in", device_mark=",")
    kept = [line.lower() for line in bare.client.cookies.jar.__str__().split("Cookie ")]
    assert any("steelyard_unit" in line for line in kept)
    shown = bare.page("/settings")
    assert 'value="Tablet – Bank"' in shown
    assert bare.page("/reckon/torque").count(">lbf·in</label>") == 1
    assert settings(bare.workshop.ledger).unit == "N·m"
    bare.send("/who", person="rigger")
    assert [entry.device for entry in bare.workshop.ledger.entries()][-1] == "Tablet – Bank"
    bare.send("/settings/device", device="", device_unit="", device_mark="")
    assert bare.page("/reckon/torque").count(">N·m</label>") == 1


@pytest.mark.parametrize("value", ["%FF%FE", "%0d%0aX", "bananas", "%F0%9F%94%A7" * 30, '"\\\\'])
def test_whatever_a_cookie_holds_the_page_is_shown(bare: Shop, value: str) -> None:
    names = ("steelyard_who", "steelyard_device", "steelyard_unit", "steelyard_mark", "steelyard_notice")
    cookies = "; ".join(f"{name}={value}" for name in names)
    assert bare.client.get("/settings", headers={"Cookie": cookies}).status_code == 200
    shown = bare.client.get("/reckon/torque", headers={"Cookie": cookies}).text
    assert shown.count(">N·m</label>") == 1


def test_a_device_name_that_is_too_long_is_refused(bare: Shop) -> None:
    assert 'id="f-device-trouble"' in bare.send("/settings/device", 422, device="x" * 41)


def test_a_cookie_is_out_of_reach_of_scripts_and_other_sites(bare: Shop) -> None:
    answer = bare.client.post("/who", data={"person": "rigger"}, follow_redirects=False)
    kept = next(text for text in answer.headers.get_list("set-cookie") if text.startswith("steelyard_who="))
    assert "HttpOnly" in kept
    assert "SameSite=lax" in kept


def test_who_is_there_is_changed_with_one_tap(bare: Shop) -> None:
    bare.send("/welcome", person="engine shop")
    bare.send("/who", person="rigger")
    first, _ = people(bare.workshop.ledger)
    assert f'name="who" value="{first.key}"' in bare.page("/who")
    assert bare.send("/who", who=first.key) == "/"
    assert "Here now: engine shop" in bare.page("/")
    bare.send("/who", nobody="yes")
    assert "Nobody said who is here." in bare.page("/")


@pytest.mark.parametrize("typed", [{}, {"person": "   "}, {"who": "nobody-has-it"}])
def test_somebody_who_is_not_there_is_refused(bare: Shop, typed: dict[str, str]) -> None:
    assert 'id="f-person-trouble"' in bare.send("/who", 422, **typed)


def test_a_person_is_forgotten_only_after_being_asked(bare: Shop) -> None:
    bare.send("/welcome", person="rigger")
    (person,) = people(bare.workshop.ledger)
    asked = bare.page(f"/settings/people/{person.key}/forget")
    assert "Forget rigger?" in asked
    assert people(bare.workshop.ledger) == (person,)
    assert bare.send(f"/settings/people/{person.key}/forget", submission="f1") == "/settings"
    assert [each.name for each in people(bare.workshop.ledger)] == [None]
    assert "steelyard_who" not in bare.client.cookies
    assert "rigger" not in bare.page("/settings").replace("such as rigger", "")
    assert "Nobody said who is here." in bare.page("/")
    bare.page(f"/settings/people/{person.key}/forget", 404)


def test_a_program_reads_and_sets_the_same(bare: Shop) -> None:
    put = bare.client.put("/api/settings", json={"name": "Tern Point", "latitude": "54.3", "height": "12 m"})
    assert put.json()["place"] == {"latitude": "54.3 °", "height": "12 m"}
    assert bare.client.get("/api/settings").json() == put.json()
    refused = bare.client.put("/api/settings", json={"unit": "bananas"})
    assert (refused.status_code, refused.json()["field"]) == (422, "unit")
    added = bare.client.post("/api/people", json={"person": "rigger", "submission": "p1"})
    assert added.status_code == 201
    again = bare.client.post("/api/people", json={"person": "rigger", "submission": "p1"})
    assert again.json() == added.json()
    gone = bare.client.delete(f"/api/people/{added.json()['key']}")
    assert gone.json() == [{"key": added.json()["key"], "name": None, "is_borrower": False}]
    assert bare.client.delete("/api/people/none").status_code == 422
