"""The workshop: its name, place, usual unit, decimal mark, and who is there."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from steelyard.desk.acting import Acting
from steelyard.desk.label_address import read_label_address
from steelyard.desk.ports import Ledger
from steelyard.desk.typed_table import Column, marked_as, typed_again, typed_table, without_unit
from steelyard.errors import InputRefused
from steelyard.quantities import UNITS, Dimension
from steelyard.records import THE_WORKSHOP, Draft, Fields, Kind, digest_of, read_place

USUAL_UNIT = "N·m"
UNIT_CHOICES = ("N·m", "lbf·ft", "lbf·in", "kgf·m", "kgf·cm", "cN·m")
DecimalMark = Literal[".", ","]
DECIMAL_MARKS: tuple[DecimalMark, ...] = (".", ",")
PaperSize = Literal["a4", "letter"]
PAPER_SIZES: tuple[PaperSize, ...] = ("a4", "letter")
LETTER_UNITS = ("lbf·ft", "lbf·in")
"""Where torques are written in them, paper is cut in inches too."""
PLACE_COLUMNS = (Column("latitude", "°"), Column("height", "m"), Column("gravity", "m/s²"))
LONGEST_NAME = 80
LATITUDE_SIDE = re.compile(r"^([\d.,]+) *([NnSs])$")


@dataclass(frozen=True)
class Settings:
    """What a workshop said of itself; each has a value that stands in where nothing was said.

    place: table `place` of the check form. paper: the size of what is printed; logo: digest of the picture
    that stands at its head, None where there is none. label_address: what the codes on labels begin with,
    empty where none was said.
    """

    name: str
    place: Mapping[str, Any]
    unit: str
    decimal_mark: DecimalMark
    paper: PaperSize
    logo: str | None
    label_address: str
    is_set: bool

    @property
    def reads_by(self) -> DecimalMark | None:
        """The mark by which a number that reads two ways is read; None where nobody said one."""
        return self.decimal_mark if self.is_set else None


@dataclass(frozen=True)
class Person:
    """Somebody who works here, or to whom a tool was lent. name: None where it was forgotten on request."""

    key: str
    name: str | None
    is_borrower: bool = False


def settings(ledger: Ledger) -> Settings:
    """What the workshop said, or what stands in for it."""
    body = ledger.document(THE_WORKSHOP) or {}
    said = body.get("settings", {})
    unit = said.get("unit", USUAL_UNIT)
    return Settings(
        name=said.get("name", ""),
        place=said.get("place", {}),
        unit=unit,
        decimal_mark="," if said.get("decimal_mark") == "," else ".",
        paper=_paper(said.get("paper"), unit),
        logo=said.get("logo"),
        label_address=said.get("label_address", ""),
        is_set="name" in said,
    )


def _paper(said: str | None, unit: str) -> PaperSize:
    return next((size for size in PAPER_SIZES if size == said), "letter" if unit in LETTER_UNITS else "a4")


def place_again(place: Mapping[str, Any]) -> dict[str, str]:
    """The place as it fills the fields of a page."""
    units = {column.name: column.kind for column in PLACE_COLUMNS}
    return {name: without_unit(text, units[name]) for name, text in typed_again(place, PLACE_COLUMNS).items()}


def set_workshop(acting: Acting, typed: Mapping[str, str]) -> None:
    """Keep name, place, unit, decimal mark and paper; what is left empty takes its usual value. The address
    on labels is kept where it is typed, taken away where it is empty, and left where it is not asked for.

    Raises InputRefused with the field: `name`, `latitude`, `height`, `gravity`, `unit`, `decimal_mark`,
    `paper`, `label_address`.
    """
    acting.write(_settings_draft(typed))


def first_start(acting: Acting, typed: Mapping[str, str]) -> Person | None:
    """What is asked at the first start, kept at once: the settings, and who is there where a name was typed.

    Raises InputRefused as `set_workshop` and `add_person` do; then nothing is kept.
    """
    settings_draft = _settings_draft(typed)
    if not typed.get("person", "").strip():
        acting.write(settings_draft)
        return None
    name = _person_name(typed)
    known = _known_person(acting.ledger, name)
    if known is not None:
        acting.write(settings_draft)
        return known
    draft, names = _person_draft(acting, name)
    *_, entry = acting.write(settings_draft, draft, names=names)
    return Person(str(entry.payload["key"]), name)


def add_person(acting: Acting, typed: Mapping[str, str]) -> Person:
    """Somebody new; the name goes into the side table, the entry holds a key and a salted digest.

    A name that is there already adds nobody.
    Raises InputRefused with the field `person`.
    """
    name = _person_name(typed)
    known = _known_person(acting.ledger, name)
    if known is not None:
        return known
    draft, names = _person_draft(acting, name)
    (entry, *_) = acting.write(draft, names=names)
    return Person(str(entry.payload["key"]), name)


def borrower(acting: Acting, name: str) -> tuple[str, tuple[Draft, ...], dict[str, tuple[str, str]]]:
    """The key of somebody to whom a tool is lent, and what has to be written with the loan where the name is
    new: the entry, and the row of the side table.

    Raises InputRefused with the field `to`.
    """
    if len(name) > LONGEST_NAME:
        raise InputRefused("to", name, "want-shorter", longest=LONGEST_NAME)
    known = next((p for p in people(acting.ledger, with_borrowers=True) if p.name == name), None)
    if known is not None:
        return known.key, (), {}
    draft, names = _person_draft(acting, name, is_borrower=True)
    return str(draft.payload["key"]), (draft,), names


def _settings_draft(typed: Mapping[str, str]) -> Draft:
    fields = Fields({k: v for k, v in typed.items() if v.strip()}, place="")
    name = fields.text("name") or ""
    if len(name) > LONGEST_NAME:
        raise InputRefused("name", name, "want-shorter", longest=LONGEST_NAME)
    unit = fields.choice("unit", str, list(UNITS[Dimension.TORQUE])) or USUAL_UNIT
    mark = fields.choice("decimal_mark", str, list(DECIMAL_MARKS)) or "."
    place = _place(marked_as(typed, PLACE_COLUMNS, mark), unit)
    paper = fields.choice("paper", str, list(PAPER_SIZES))
    payload = {"name": name, "place": place, "unit": unit, "decimal_mark": mark, "paper": paper}
    if "label_address" in typed:
        payload["label_address"] = read_label_address(typed["label_address"])
    return Draft(Kind.WORKSHOP_SET, THE_WORKSHOP, payload)


def _place(typed: Mapping[str, str], unit: str) -> dict[str, Any]:
    """The table `place`, read once to see that it can be."""
    degrees = LATITUDE_SIDE.sub(r"\1° \2", typed.get("latitude", "").strip())
    place = typed_table({**typed, "latitude": degrees}, PLACE_COLUMNS, torque_unit=unit)
    try:
        read_place(Fields(place, place=""))
    except InputRefused as refused:
        plain = refused.field.removeprefix("place.")
        raise InputRefused(plain, refused.given, refused.wanted, **refused.facts) from None
    return place


def _person_name(typed: Mapping[str, str]) -> str:
    if not typed.get("person", "").strip():
        raise InputRefused("person", None, "want-person-name")
    name = Fields(typed, place="").text("person") or ""
    if len(name) > LONGEST_NAME:
        raise InputRefused("person", name, "want-shorter", longest=LONGEST_NAME)
    return name


def _known_person(ledger: Ledger, name: str) -> Person | None:
    return next((person for person in people(ledger) if person.name == name), None)


def _person_draft(
    acting: Acting, name: str, *, is_borrower: bool = False
) -> tuple[Draft, dict[str, tuple[str, str]]]:
    """The entry of somebody new, and the row of the side table that holds the name."""
    key, salt = acting.dice.name(), acting.dice.salt()
    payload: dict[str, Any] = {"key": key, "digest": digest_of(f"{salt}{name}")}
    if is_borrower:
        payload["is_borrower"] = True
    return Draft(Kind.PERSON_ADDED, THE_WORKSHOP, payload), {key: (name, salt)}


def people(ledger: Ledger, *, with_borrowers: bool = False) -> tuple[Person, ...]:
    """Everybody who works here, in the order they were added; forgotten ones without a name.

    with_borrowers: those too to whom a tool was lent.
    """
    body, names = ledger.document(THE_WORKSHOP) or {}, ledger.names()
    everybody = (
        Person(p["key"], names.get(p["key"]), bool(p.get("is_borrower"))) for p in body.get("people", [])
    )
    return tuple(person for person in everybody if with_borrowers or not person.is_borrower)


def forget_person(acting: Acting, key: str) -> None:
    """Empty the row of a name: the entries keep the key, and the chain still verifies.

    Raises InputRefused where nobody has that key.
    """
    if key not in {person.key for person in people(acting.ledger, with_borrowers=True)}:
        raise InputRefused("person", key, "want-known-person")
    acting.write(Draft(Kind.PERSON_FORGOTTEN, THE_WORKSHOP, {"key": key}))
    acting.ledger.forget(key)
