"""Tools of a table that comes in: each row read as the form of a new tool, none doubled."""

import hashlib
import json
from collections.abc import Callable, Iterator, Mapping
from typing import Any

from steelyard.desk.every import every
from steelyard.desk.ports import Body, Dice, Find, Wanted
from steelyard.desk.tool_fields import (
    LIMIT_COLUMNS,
    OWN_TEXTS,
    TEXTS,
    TOOL_COLUMNS,
    another_of_its_kind,
    tool_document,
)
from steelyard.desk.typed_table import typed_again
from steelyard.desk.workshop import Settings
from steelyard.errors import InputRefused
from steelyard.records import Draft, Kind, Subject, subject_name

AT_ONCE = 500
"""Tools of the rack that are looked at in one go."""
RETIRED = "retired"
MOST_KINDS = 500
"""Kinds of tool that are remembered while a list is read."""
Take = Callable[[int, Mapping[str, str]], Draft | None]
"""What is to be written for a row: its number in the file, its texts; None where it is there already.
Raises InputRefused with the column."""


def tools_taken(find: Find, said: Settings, dice: Dice) -> Take:
    """Takes tools one after the other; refused is a number that is in use, or stands twice in the file."""
    there: dict[str, bytes] = {}
    names, gone = set[str](), set[bytes]()
    for subject, body in every_tool(find):
        names.add(subject_name(subject))
        if body["is_retired"]:
            gone.add(_stamp_of(body))
        else:
            there[body["tool"]["number"].casefold()] = _stamp_of(body)
    rows: dict[str, int] = {}
    read = _reading(said)

    def take(row: int, typed: Mapping[str, str]) -> Draft | None:
        document = read(typed)
        if typed.get("state") == RETIRED:
            if _stamp_of(document) in gone:
                return None
            raise InputRefused("state", RETIRED, "want-row-in-use")
        number = document["tool"]["number"]
        plain = number.casefold()
        if plain in rows:
            raise InputRefused("number", number, "want-number-once", row=rows[plain])
        rows[plain] = row
        if plain in there:
            if there[plain] == _stamp_of(document):
                return None
            raise InputRefused("number", number, "want-new-tool-number", number=number)
        return Draft(Kind.TOOL_ADDED, Subject.TOOL.named(new_name(dice, names)), document)

    return take


def _reading(said: Settings) -> Callable[[Mapping[str, str]], dict[str, Any]]:
    """Reads rows as the form of a tool; many tools of one kind are read once and told apart by OWN_TEXTS."""
    known: dict[frozenset[tuple[str, str]], dict[str, Any]] = {}

    def read(typed: Mapping[str, str]) -> dict[str, Any]:
        kind = frozenset(item for item in typed.items() if item[0] not in OWN_TEXTS)
        if kind in known and typed.get("number"):
            return another_of_its_kind(known[kind], typed)
        document = tool_document(typed, usual_unit=said.unit, decimal_mark=said.reads_by)
        if len(known) < MOST_KINDS:
            known[kind] = document
        return document

    return read


def every_tool(find: Find) -> Iterator[tuple[str, Body]]:
    """Subject and document of every tool, retired ones too."""
    yield from ((listed.subject, listed.body) for listed in every(find, Wanted(Subject.TOOL, most=AT_ONCE)))


def new_name(dice: Dice, names: set[str]) -> str:
    """A name that is not among those in use, and is from now on: of very many, two are drawn alike."""
    name = dice.name()
    while name in names:
        name = dice.name()
    names.add(name)
    return name


def _stamp_of(document: Mapping[str, Any]) -> bytes:
    """Short, and the same for two tools of which a person would type the same."""
    said = [
        typed_again(document["tool"], TOOL_COLUMNS),
        typed_again(document["limit"], LIMIT_COLUMNS),
        document.get("interval_months"),
        *(document.get(name) for name in TEXTS),
    ]
    return hashlib.sha256(json.dumps(said, sort_keys=True).encode()).digest()[:16]
