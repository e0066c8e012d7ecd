"""Numbers that are printed with the decimal mark and the minus of the reader."""

import re
from collections.abc import Collection, Iterable, Mapping

from steelyard.desk.typed_table import TEXTUAL, Column, as_shown
from steelyard.words import say

POINT_IN_A_NUMBER = re.compile(r"(?<![\d.,])(\d+)\.(\d+)(?![.,]?\d)")
MINUS_OF_A_NUMBER = re.compile(r"(?<![\w\-−.,])-(?=\d)")


class Marked(float):
    """A number that is printed with the decimal mark of the reader."""

    mark = "."

    def __format__(self, spec: str) -> str:
        return super().__format__(spec).replace("-", "−").replace(".", self.mark)

    def __abs__(self) -> "Marked":
        return type(self)(super().__abs__())


class Commaed(Marked):
    """The same with a comma."""

    mark = ","


def marked(value: float, mark: str) -> float:
    """A number that is printed with a decimal mark."""
    return Commaed(value) if mark == "," else Marked(value)


def marked_text(text: str, mark: str) -> str:
    """A text whose decimal points are the mark of the reader, with his minus; what has two points is no
    number, and a hyphen in a name or a date no minus.
    """
    minus = MINUS_OF_A_NUMBER.sub("−", text)
    return minus if mark == "." else POINT_IN_A_NUMBER.sub(rf"\1{mark}\2", minus)


def marked_as_kept(text: str, mark: str) -> str:
    """A number with its unit and ± as it was kept, typed or worked out here, in the mark of the reader."""
    return marked_text(as_shown(text), mark)


def marked_again(typed: Mapping[str, str], columns: Iterable[Column], mark: str | None) -> dict[str, str]:
    """What fills a form again, its numbers in the mark by which they will be read; as kept where they would
    then read two ways.

    mark: None where the workshop never said one.
    """
    names = {column.name for column in columns if column.kind not in TEXTUAL}
    return {name: _again(text, mark) if name in names and mark else text for name, text in typed.items()}


def _again(text: str, mark: str) -> str:
    return text if "," in text and (mark == "." or "." in text) else marked_as_kept(text, mark)


def texts_in(facts: Mapping[str, object]) -> tuple[str, ...]:
    """Names of the facts that are texts: names and what was typed."""
    return tuple(name for name, fact in facts.items() if isinstance(fact, str))


def said_in_mark(code: str, facts: Mapping[str, object], mark: str, *, as_typed: Collection[str] = ()) -> str:
    """A sentence whose numbers have the mark of the reader; what a person typed or named stays as it is.

    as_typed: names of the facts that stay.
    """
    kept = {name: str(facts[name]) for name in as_typed if name in facts}
    places = {name: f"\ue000{name}\ue001" for name in kept}
    sentence = marked_text(say(code, **{**facts, **places}), mark)
    for name, text in kept.items():
        sentence = sentence.replace(places[name], text)
    return sentence
