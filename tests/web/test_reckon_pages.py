"""The quick questions in the browser: the same answers as at the terminal, refusals beside their fields."""

import re
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import quote, urlencode

import pytest

from steelyard.cli.reckon_options import PLACED, QUESTIONS, SWITCHES
from steelyard.desk import set_workshop
from steelyard.desk.record_file import record_file
from steelyard.web.reckon import said_with
from steelyard.web.reckon_fields import QUESTIONS as PAGES
from steelyard.web.reckon_fields import blanks_of
from steelyard.words import say
from web.shop import Shop, shop

ROWS = "A + B = 15.02 kg\nA = 10.01 kg\nB = 5.00 kg"
ODD = ("", " ", "±", "-1", "1e999", "nan", "\x00", "𝟙 N·m", "=", "1 ± 2 ± 3", "--arm")
EXAMPLE = Path(__file__).parents[2] / "examples" / "beam-wrench-on-weights.toml"


@pytest.fixture
def bare() -> Iterator[Shop]:
    with shop() as opened:
        yield opened


def asked(question: str, **typed: str) -> str:
    """The address of a question; underscores stand for dashes."""
    return f"/reckon/{question}?{urlencode({name.replace('_', '-'): text for name, text in typed.items()})}"


def test_every_question_and_option_of_the_command_has_its_page_and_field() -> None:
    assert set(PAGES) == set(QUESTIONS)
    for question, options in QUESTIONS.items():
        named = {option.removeprefix("--") for option in (*options, *SWITCHES.get(question, ()))}
        if question in PLACED:
            named.add("torque" if question == "torque" else "form")
        assert named - set(blanks_of(question)) <= {"today"}


def test_every_question_leads_from_the_list_to_an_empty_form(bare: Shop) -> None:
    listed = bare.page("/reckon")
    for question in PAGES:
        assert f'href="/reckon/{question}"' in listed
        shown = bare.page(f"/reckon/{question}")
        assert 'class="answer"' not in shown
        assert "trouble-box" not in shown


ANSWERED = (
    (asked("torque", torque="80 ft-lb", to="Nm"), "108.465 N·m"),
    (asked("adapter", wanted="80", tool_length="400", adapter="50"), "71.11 N·m"),
    (asked("insert", wanted="90", tool_length="400", standoff="70", reference_standoff="20"), "80.00 N·m"),
    (asked("hung", load="10.15", arm="450", own_zero="yes", gravity="standard"), "N·m"),
    (asked("gravity", latitude="33.9 S", height="0"), "9.79641 m/s²"),
    (asked("mass", step="100", **{"class": "III"}, **{"with": "100.2"}, without="80.1"), "20.10 kg"),
    (asked("combinations", row=ROWS, step="10", accuracy="50 g"), "kg"),
    (asked("water", volume="10 ± 0.02", temperature="20", height="12"), "kg"),
    (
        asked("pivot", near_load="20.5 ± 0.02", near_arm="300", far_load="14.9 ± 0.02", far_arm="410"),
        "mm",
    ),
)


@pytest.mark.parametrize(("address", "number"), ANSWERED)
def test_a_bare_number_has_the_unit_beside_its_field(bare: Shop, address: str, number: str) -> None:
    shown = bare.page(address)
    first = shown.partition('<p class="answer-number">')[2].partition("</p>")[0]
    assert number in first


def test_an_answer_keeps_what_was_typed_and_says_what_to_mind(bare: Shop) -> None:
    shown = bare.page(asked("adapter", wanted="80", tool_length="400 ± 1", adapter="50"))
    assert 'name="tool-length" type="text" value="400 ± 1"' in shown
    assert "The setting must lie in the range in which the tool was found good." in shown
    assert "comes from “Tool length”; taken as exact: “Torque wanted”, “Adapter length”" in shown
    assert "--" not in shown.partition('class="answer"')[2].partition("</section>")[0]


REFUSED = (
    (asked("adapter", tool_length="400", adapter="50"), "wanted"),
    (asked("adapter", wanted="eighty", tool_length="400", adapter="50"), "wanted"),
    (asked("adapter", wanted="80", tool_length="400", adapter="50", flexes="yes"), "flexes"),
    (asked("hung", load="10", arm="450"), "gravity"),
    (asked("hung", load="10", arm="450", gravity="9.81"), "own-mass"),
    (asked("mass", step="10", **{"with": "5"}), "class"),
    (asked("combinations", row="A and B", step="10", accuracy="5 g"), "row"),
    (asked("gravity", latitude="54.3"), "height"),
    (asked("torque", torque="80", to="bananas"), "to"),
    (asked("set-to", want="70"), "tool"),
    (asked("set-to", want="70", tool="T-99"), "tool"),
    (asked("choose", want="70"), "tool"),
    (asked("torque", torque="9" * 30_000), "torque"),
)


@pytest.mark.parametrize(("address", "field"), REFUSED)
def test_a_refusal_stands_beside_its_field_in_the_words_of_the_page(
    bare: Shop, address: str, field: str
) -> None:
    shown = bare.page(address, 422)
    beside = shown.partition(f'id="f-{field}-trouble"')[2].partition("</p>")[0]
    assert beside
    assert "--" not in beside


@pytest.mark.parametrize("question", PAGES)
@pytest.mark.parametrize("text", ODD)
def test_no_typed_text_is_our_fault(bare: Shop, question: str, text: str) -> None:
    query = "&".join(f"{name}={quote(text)}" for name in blanks_of(question))
    assert bare.client.get(f"/reckon/{question}?{query}").status_code in (200, 422)


def test_the_place_of_the_workshop_fills_the_fields_that_ask_for_it(bare: Shop) -> None:
    set_workshop(bare.workshop.acting(), {"latitude": "54.3 N", "height": "12"})
    assert 'name="latitude" type="text" value="54.3° N"' in bare.page("/reckon/hung")
    assert "9.81" in bare.page(asked("gravity", latitude="54.3° N", height="12 m"))
    set_workshop(bare.workshop.acting(), {"gravity": "9.8145"})
    assert 'name="gravity" type="text" value="9.8145"' in bare.page("/reckon/hung")


def test_inches_and_pounds_stand_where_torque_is_in_pounds(bare: Shop) -> None:
    set_workshop(bare.workshop.acting(), {"unit": "lbf·ft"})
    shown = bare.page(asked("adapter", wanted="80", tool_length="16", adapter="2"))
    assert "71.11 lbf·ft" in shown
    assert "18.00 in instead of 16.00 in" in shown


def test_a_checked_tool_on_the_rack_is_asked_by_its_number(bare: Shop) -> None:
    record_file(bare.workshop.acting(), EXAMPLE.read_bytes())
    number = "T-07"
    shown = bare.page(asked("set-to", want="50", tool=number.lower()))
    assert f"By the check of {number}" in shown
    assert f"Take {number}" in bare.page(asked("choose", want="50", tool=number))
    assert bare.send("/reckon/set-to", want="50", tool=number) == asked("set-to", want="50", tool=number)


def test_no_more_than_six_tools_are_judged_at_a_time(bare: Shop) -> None:
    tools = ",".join(f"T-{i}" for i in range(7))
    assert "Wanted is at most 6 tools at a time." in bare.page(asked("choose", want="50", tool=tools), 422)


def test_a_check_that_was_pasted_or_sent_is_answered_too(bare: Shop) -> None:
    text = EXAMPLE.read_text("utf-8")
    pasted = bare.send("/reckon/set-to", 200, want="50", form=text)
    sent = bare.client.post("/reckon/set-to", data={"want": "50"}, files={"file": ("c.toml", text.encode())})
    for shown in (pasted, sent.text):
        assert 'class="answer-number"' in shown
    both = bare.send("/reckon/choose", 200, want="50", form=f"{text}\n{text}")
    assert "Not counted" in both


def test_what_is_wrong_in_a_pasted_check_stands_beside_it(bare: Shop) -> None:
    shown = bare.send("/reckon/set-to", 422, want="50", form="steelyard_check = 1\nname =")
    assert 'id="f-form-trouble"' in shown
    assert "steelyard_check = 1\nname =" in shown


def test_a_question_that_is_not_there_is_said_to_be_missing(bare: Shop) -> None:
    bare.page("/reckon/horoscope", 404)
    bare.send("/reckon/horoscope", 404, want="1")
    assert bare.client.get("/api/reckon/horoscope").status_code == 404


def test_a_program_gets_numbers_sentences_and_doubts(bare: Shop) -> None:
    told = bare.client.get("/api/reckon/gravity", params={"latitude": "45", "height": "0 m"}).json()
    # normal gravity of GRS80 at 45° (from memory), 9.80620 m/s²
    assert told["numbers"]["gravity_m_s2"] == pytest.approx(9.80620, abs=5e-6)
    assert told["sentences"][2] == say("reckon-gravity-within")
    refused = bare.client.get("/api/reckon/adapter", params={"wanted": "80 N·m"})
    assert (refused.status_code, refused.json()["field"]) == (422, "--tool-length")
    body = {"typed": {"want": "50 N·m"}, "forms": [EXAMPLE.read_text("utf-8")]}
    assert "setting_newton_metre" in bare.client.post("/api/reckon/set-to", json=body).json()["numbers"]


def test_an_answer_has_the_decimal_mark_of_the_workshop(bare: Shop) -> None:
    set_workshop(bare.workshop.acting(), {"decimal_mark": ","})
    shown = bare.page(asked("hung", load="10,150 ± 0,005", arm="450 ± 1", gravity="9,81", own_zero="yes"))
    answer = re.sub("<[^>]*>", " ", shown.partition('id="answer"')[2].partition("</section>")[0])
    assert re.search(r"\d,\d", answer)
    assert not re.search(r"\d\.\d", answer)


def test_what_a_person_typed_or_named_keeps_its_own_mark() -> None:
    facts = {"given": "12.5 N·m", "same": "9.22 lbf·ft"}
    assert said_with(",", "reckon-same", facts) == "12.5 N·m = 9,22 lbf·ft"
    assert said_with(".", "reckon-same", facts) == "12.5 N·m = 9.22 lbf·ft"


def test_a_field_is_read_by_the_decimal_mark_of_the_workshop(bare: Shop) -> None:
    address = asked("torque", torque="5,015", to="lbf·ft")
    bare.page(address, 422)
    set_workshop(bare.workshop.acting(), {"decimal_mark": ","})
    assert "3,69" in bare.page(address)


def test_a_latitude_is_asked_for_by_one_of_a_place(bare: Shop) -> None:
    assert "54.3" in bare.page(asked("gravity", latitude="north", height="0"), 422)
