"""The first start, the settings of the workshop and of this device, and who is there."""

from collections.abc import Mapping, Sequence
from typing import Any
from urllib.parse import quote

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from steelyard.desk import (
    DECIMAL_MARKS,
    UNIT_CHOICES,
    Person,
    Settings,
    add_person,
    first_start,
    forget_person,
    people,
    place_again,
    set_workshop,
    settings,
)
from steelyard.desk.on_paper import LARGEST_LOGO, PAPER_SIZES, drop_logo, keep_logo
from steelyard.errors import InputRefused, NotFound, SteelyardError
from steelyard.web.asked import (
    DEVICE_COOKIE,
    LARGEST_PHOTOGRAPH,
    LONGEST_KEY,
    MARK_COOKIE,
    UNIT_COOKIE,
    WHO_COOKIE,
    Ask,
    Asked,
    Typed,
    TypedForm,
    cookie,
)
from steelyard.web.pages import Form, page, see
from steelyard.web.today import backup_said
from steelyard.words import say

router = APIRouter()
KEPT_SECONDS = 400 * 24 * 3600  # as long as browsers keep a cookie at most
MARK_WORDS = {".": "settings-mark-point", ",": "settings-mark-comma"}


@router.get("/welcome")
def welcome(ask: Asked) -> HTMLResponse:
    """The four things and who is there; every one may be left empty."""
    return _welcome(ask, Form(_kept(settings(ask.workshop.ledger))))


@router.post("/welcome")
def begin(ask: Asked, typed: TypedForm) -> Response:
    """Keep them, or the usual values where the page was skipped; then go on to Today."""
    wanted = {} if typed["skip"] else typed.values
    try:
        person = first_start(ask.acting(typed), wanted)
    except SteelyardError as trouble:
        return _welcome(ask, Form.refused(typed, trouble), trouble.http_status)
    return _here(see("/"), person) if person is not None else see("/")


def _welcome(ask: Ask, form: Form, status: int = 200) -> HTMLResponse:
    title = say("welcome-title")
    return page(ask, "welcome.html", title, place="today", status=status, form=form, **_choices())


@router.get("/settings")
def show_settings(ask: Asked) -> HTMLResponse:
    """The workshop, this device, the people."""
    return _settings(ask, workshop=Form(_kept(settings(ask.workshop.ledger))))


@router.post("/settings")
def keep_settings(ask: Asked, typed: TypedForm) -> Response:
    """Name, place, unit and decimal mark of the workshop."""
    try:
        set_workshop(ask.acting(typed), typed.values)
    except SteelyardError as trouble:
        return _settings(ask, workshop=Form.refused(typed, trouble), status=trouble.http_status)
    return see("/settings", notice="notice-settings-kept")


@router.post("/settings/logo")
def keep_picture(ask: Asked, typed: TypedForm) -> Response:
    """The picture at the head of what is printed, made small as a photograph is."""
    try:
        upload = typed.files.get("logo")
        content = upload.file.read(LARGEST_PHOTOGRAPH + 1) if upload is not None else b""
        keep_logo(ask.acting(typed), *ask.workshop.darkroom.develop(content, most_bytes=LARGEST_LOGO))
    except InputRefused as refused:
        trouble = InputRefused("logo", refused.given, refused.wanted, **refused.facts)
        return _settings(ask, logo=Form.refused(typed, trouble), status=refused.http_status)
    return see("/settings", notice="notice-logo-kept")


@router.post("/settings/logo/drop")
def drop_picture(ask: Asked, typed: TypedForm) -> Response:
    """Print without a logo from now on."""
    drop_logo(ask.acting(typed))
    return see("/settings", notice="notice-logo-dropped")


@router.post("/settings/device")
def keep_device(ask: Asked, typed: TypedForm) -> Response:
    """What holds on this device alone; kept here, not in the ledger."""
    name = typed["device"].strip()
    if len(name) > LONGEST_KEY or not name.isprintable():
        trouble = InputRefused("device", name, "want-shorter", longest=LONGEST_KEY)
        return _settings(ask, device=Form.refused(typed, trouble), status=trouble.http_status)
    answer = see("/settings", notice="notice-device-kept")
    _keep(answer, DEVICE_COOKIE, name)
    _keep(answer, UNIT_COOKIE, _one_of(UNIT_CHOICES, typed["device_unit"]))
    _keep(answer, MARK_COOKIE, _one_of(DECIMAL_MARKS, typed["device_mark"]))
    return answer


def _one_of(choices: Sequence[str], text: str) -> str:
    """The text where it is a choice; empty for what the page does not offer: as the workshop."""
    return text if text in choices else ""


@router.get("/settings/people/{key}/forget")
def ask_to_forget(ask: Asked, key: str) -> HTMLResponse:
    """What forgetting a person means, before it is done."""
    return _forget(ask, _person(ask, key))


@router.post("/settings/people/{key}/forget")
def forget(ask: Asked, typed: TypedForm, key: str) -> Response:
    """The name leaves; what was written stays with its key."""
    person = _person(ask, key)
    try:
        forget_person(ask.acting(typed), person.key)
    except SteelyardError as trouble:
        return _forget(ask, person, Form.refused(typed, trouble), trouble.http_status)
    answer = see("/settings", notice="notice-person-forgotten")
    if ask.who == person.key:
        answer.delete_cookie(WHO_COOKIE)
    return answer


@router.get("/who")
def who(ask: Asked) -> HTMLResponse:
    """Everybody as a button, and a place for somebody new."""
    return _who(ask)


@router.post("/who")
def say_who(ask: Asked, typed: TypedForm) -> Response:
    """Somebody on the list, somebody new, or nobody; kept on this device."""
    if typed["nobody"]:
        answer = see("/", notice="notice-nobody-here")
        answer.delete_cookie(WHO_COOKIE)
        return answer
    try:
        person = _chosen(ask, typed) if typed["who"] else add_person(ask.acting(typed), typed.values)
    except SteelyardError as trouble:
        return _who(ask, Form.refused(typed, trouble), trouble.http_status)
    return _here(see("/", notice="notice-who-kept"), person)


def _chosen(ask: Ask, typed: Typed) -> Person:
    for person in _named(ask):
        if person.key == typed["who"]:
            return person
    raise InputRefused("person", typed["who"], "want-known-person")


def _who(ask: Ask, form: Form | None = None, status: int = 200) -> HTMLResponse:
    return page(
        ask,
        "who.html",
        say("who-title"),
        place="settings",
        status=status,
        form=form or Form(),
        people=_named(ask),
        here=ask.person,
    )


def _settings(
    ask: Ask,
    *,
    workshop: Form | None = None,
    device: Form | None = None,
    logo: Form | None = None,
    status: int = 200,
) -> HTMLResponse:
    said = settings(ask.workshop.ledger)
    return page(
        ask,
        "settings.html",
        say("settings-title"),
        place="settings",
        status=status,
        form=workshop or Form(_kept(said)),
        device=device or Form(_device(ask)),
        logo=logo or Form(),
        people=_named(ask, with_borrowers=True),
        folder=str(ask.workshop.folder),
        backup=backup_said(ask)[0],
        same_unit=say("settings-as-workshop", value=said.unit),
        same_mark=say("settings-as-workshop", value=say(MARK_WORDS[said.decimal_mark])),
        **_choices(),
    )


def _forget(ask: Ask, person: Person, form: Form | None = None, status: int = 200) -> HTMLResponse:
    title = say("forget-title", name=person.name)
    return page(
        ask, "forget.html", title, place="settings", status=status, form=form or Form(), person=person
    )


def _person(ask: Ask, key: str) -> Person:
    for person in _named(ask, with_borrowers=True):
        if person.key == key:
            return person
    raise NotFound(key)


def _named(ask: Ask, *, with_borrowers: bool = False) -> tuple[Person, ...]:
    """Everybody whose name is still there."""
    known = people(ask.workshop.ledger, with_borrowers=with_borrowers)
    return tuple(person for person in known if person.name is not None)


def _choices() -> dict[str, Any]:
    """What a pick of a unit and of a decimal mark offers."""
    return {
        "units": [(unit, unit) for unit in UNIT_CHOICES],
        "marks": [(mark, say(MARK_WORDS[mark])) for mark in DECIMAL_MARKS],
        "papers": [(size, say(f"settings-paper-{size}")) for size in PAPER_SIZES],
    }


def _kept(said: Settings) -> Mapping[str, str]:
    """The settings as they fill the fields."""
    kept = {
        "name": said.name,
        "unit": said.unit,
        "decimal_mark": said.decimal_mark,
        "label_address": said.label_address,
        "paper": said.paper,
    }
    return {**kept, **place_again(said.place)}


def _device(ask: Ask) -> Mapping[str, str]:
    kept = {"device": DEVICE_COOKIE, "device_unit": UNIT_COOKIE, "device_mark": MARK_COOKIE}
    return {name: cookie(ask.request, key) for name, key in kept.items()}


def _here(answer: RedirectResponse, person: Person) -> RedirectResponse:
    """The answer that also keeps on this device who is there."""
    _keep(answer, WHO_COOKIE, person.key)
    return answer


def _keep(answer: RedirectResponse, name: str, text: str) -> None:
    """Keep a text on this device under a name; an empty one takes it away."""
    if text:
        answer.set_cookie(name, quote(text, safe=""), max_age=KEPT_SECONDS, httponly=True, samesite="lax")
    else:
        answer.delete_cookie(name, httponly=True, samesite="lax")
