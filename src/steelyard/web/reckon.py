"""Reckon: one page for each quick question; an answer has an address of its own and can be kept."""

import re
from collections.abc import Iterator, Mapping
from itertools import pairwise
from typing import Any, NamedTuple
from urllib.parse import urlencode

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, Response

from steelyard.desk import LARGEST_BYTES, place_again
from steelyard.desk.answer import Answer
from steelyard.desk.reckon_asked import reckon_asked
from steelyard.desk.reckon_rack import forms_of_tools, forms_that_may_do
from steelyard.desk.typed_table import with_unit
from steelyard.errors import InputRefused, NotFound, SteelyardError
from steelyard.telling import marked_text, said_in_mark
from steelyard.web.asked import Ask, Asked, Typed, TypedForm
from steelyard.web.pages import Form, page, see
from steelyard.web.reckon_fields import ABOUT_CHECKS, FROM_THE_PLACE, QUESTIONS, blanks_of, unit_of
from steelyard.words import say

router = APIRouter()
OPTION = re.compile(r"--([a-z]+(?:-[a-z]+)*)")
AS_TYPED = ("given", "number", "numbers", "name", "names", "form", "day", "today")
"""Facts that are no numbers reckoned here."""
FORM_BEGINS = re.compile(r"^[ \t]*steelyard_check[ \t]*=", re.MULTILINE)
MAIN_FACTS = {
    "reckon-same": "same",
    "reckon-set": "result",
    "reckon-gets": "result",
    "reckon-hung-torque": "torque",
    "reckon-hung-mass": "mass",
    "reckon-gravity": "gravity",
    "reckon-mass": "mass",
    "reckon-combinations-mass": "mass",
    "reckon-water": "mass",
    "reckon-water-right": "percent",
    "reckon-water-high": "divisor",
    "reckon-water-low": "divisor",
    "reckon-pivot": "mean",
    "reckon-set-to": "rounded",
    "reckon-set-to-read": "rounded",
    "reckon-choose": "number",
    "reckon-choose-read": "number",
}
"""Which fact of the first sentence is the one that was asked for."""


class Shown(NamedTuple):
    """An answer in words. number: the main one; beside: its ±, other units. doubts: severity, sentence."""

    number: str
    beside: str
    main: str
    lines: tuple[str, ...]
    doubts: tuple[tuple[str, str], ...]


@router.get("/reckon")
def questions(ask: Asked) -> HTMLResponse:
    """The questions."""
    listed = [
        (f"/reckon/{name}", say(f"reckoned-title-{name}"), say(f"asking-about-{name}")) for name in QUESTIONS
    ]
    return page(ask, "reckon/questions.html", say("shell-reckon"), place="reckon", questions=listed)


@router.get("/reckon/{question}")
def show_question(ask: Asked, question: str) -> HTMLResponse:
    """A question; answered where its address holds what was typed."""
    _know(question)
    named = blanks_of(question)
    typed = {name: text for name, text in ask.request.query_params.items() if name in named}
    if not any(text.strip() for text in typed.values()):
        return _page(ask, question, Form(_from_the_place(ask, question)), None)
    return _answered(ask, question, Typed(typed))


@router.post("/reckon/{question}")
def ask_about_checks(ask: Asked, typed: TypedForm, question: str) -> Response:
    """A question about checks that were pasted or sent; any other leads to the address of its answer."""
    _know(question)
    kept = {name: text for name, text in typed.values.items() if name in blanks_of(question)}
    if not kept.get("form", "").strip() and "file" not in typed.files:
        asked = {name: text for name, text in kept.items() if text.strip()}
        return see(f"/reckon/{question}?{urlencode(asked)}")
    return _answered(ask, question, Typed(kept, typed.files))


def _know(question: str) -> None:
    if question not in QUESTIONS:
        raise NotFound(question)


def _answered(ask: Ask, question: str, typed: Typed) -> HTMLResponse:
    try:
        answer = answer_to(ask, question, typed)
    except SteelyardError as trouble:
        return _page(ask, question, _refused(question, typed, trouble), None, status=trouble.http_status)
    return _page(ask, question, Form(typed.values), in_words(question, answer, ask.settings.decimal_mark))


def answer_to(ask: Ask, question: str, typed: Typed) -> Answer:
    """The desk's answer to what was typed into a page; a bare number gets the unit beside its field.

    Raises InputRefused, NotFound.
    """
    given: dict[str, str | None] = {}
    for name, blank in blanks_of(question).items():
        text = typed[name].strip()
        unit = unit_of(blank, ask.settings.unit)
        given[name] = (with_unit(text, unit, mark=ask.settings.reads_by) if unit else text) if text else None
    if question not in ABOUT_CHECKS:
        return reckon_asked(question, given)
    forms = _forms(ask, question, typed, given.get("want"))
    return reckon_asked(question, given, today=ask.workshop.clock.now().date(), forms=forms)


def _forms(ask: Ask, question: str, typed: Typed, want: str | None) -> list[bytes]:
    """The checks that a question is about: pasted, sent as a file, or the last ones of tools on the rack."""
    forms = list(_pasted(typed["form"]))
    if "file" in typed.files:
        forms.append(typed.files["file"].file.read(LARGEST_BYTES + 1))
    forms += forms_of_tools(ask.workshop.ledger, typed["tool"])
    if not forms and question == "choose":
        return list(forms_that_may_do(ask.workshop.ledger, want))
    if not forms:
        raise InputRefused("tool", None, "want-tool-or-form")
    return forms


def _pasted(text: str) -> Iterator[bytes]:
    """Check forms that stand one below the other; what stands above the first line of one belongs to it."""
    cuts = [0, *(found.start() for found in list(FORM_BEGINS.finditer(text))[1:]), len(text)]
    return (text[start:end].encode() for start, end in pairwise(cuts) if text[start:end].strip())


def in_words(question: str, answer: Answer, mark: str = ".") -> Shown:
    """The answer as a page says it. mark: decimal mark of its numbers."""
    code, facts = answer.lines[0]
    number, beside = "", ""
    if code in MAIN_FACTS:
        name = MAIN_FACTS[code]
        number, _, beside = _set_apart(facts[name] if name in AS_TYPED else marked_text(facts[name], mark))
    said = [in_page_words(question, said_with(mark, code, facts)) for code, facts in answer.lines]
    doubts = [
        (found.severity.value, in_page_words(question, said_with(mark, found.code, found.facts)))
        for found in answer.findings
    ]
    return Shown(number, beside, said[0], tuple(said[1:]), tuple(doubts))


def said_with(mark: str, code: str, facts: Mapping[str, object]) -> str:
    """A sentence of an answer in a decimal mark."""
    return said_in_mark(code, facts, mark, as_typed=AS_TYPED)


def _set_apart(figure: str) -> tuple[str, str, str]:
    """Number with its unit, and what follows: the ±, the same in another unit."""
    at = min((place for sign in (" ±", " (") if (place := figure.find(sign)) > 0), default=len(figure))
    return figure[:at], " ", figure[at:].strip()


def in_page_words(question: str, sentence: str) -> str:
    """A sentence with the labels of the page in the place of the options of the command."""
    named = blanks_of(question)

    def label(found: re.Match[str]) -> str:
        return say("reckoned-field", label=say(named[found[1]].label)) if found[1] in named else found[0]

    return OPTION.sub(label, sentence)


def _refused(question: str, typed: Typed, trouble: SteelyardError) -> Form:
    """The question again with the sentence beside the field it is about."""
    if not isinstance(trouble, InputRefused):
        return Form(typed.values, {"": str(trouble)})
    name = trouble.field.removeprefix("--")
    if name in blanks_of(question):
        wanted = in_page_words(question, trouble.wish)
        return Form(typed.values, {name: say("field-wanted", wanted=wanted)})
    beside = "form" if question in ABOUT_CHECKS and typed["form"].strip() else ""
    return Form(typed.values, {beside: in_page_words(question, str(trouble))})


def _from_the_place(ask: Ask, question: str) -> Mapping[str, str]:
    """What the workshop said of its place, in the fields that ask for it."""
    place, named = place_again(ask.settings.place), blanks_of(question)
    kept = ("gravity",) if "gravity" in place and "gravity" in named else FROM_THE_PLACE[1:]
    return {name: place[name] for name in kept if name in place and name in named}


def _page(ask: Ask, question: str, form: Form, answer: Shown | None, status: int = 200) -> HTMLResponse:
    context: dict[str, Any] = {
        "question": question,
        "about": say(f"asking-about-{question}"),
        "groups": QUESTIONS[question],
        "unit_beside": {name: unit_of(b, ask.settings.unit) for name, b in blanks_of(question).items()},
        "by_post": question in ABOUT_CHECKS,
        "answer": answer,
        "form": form,
    }
    title = say(f"reckoned-title-{question}")
    return page(ask, "reckon/question.html", title, place="reckon", status=status, **context)
