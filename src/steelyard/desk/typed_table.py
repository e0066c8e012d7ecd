"""From what a person typed into the fields of a page to a table as in the check form.

A page asks for a torque with the unit shown beside the field; here the bare number gets that unit, as the
person saw it. Whatever already carries a unit is left as typed.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from steelyard.errors import InputRefused
from steelyard.quantities import as_typed, one_way

FLAGS = ("yes", "no")
TEXTUAL = ("text", "flag", "list")
UNITLESS = (*TEXTUAL, "number")
HAS_UNIT = re.compile(r"[^\W\d_]|[%°'\"]")  # a letter, a percent or degree sign: a unit was typed


@dataclass(frozen=True)
class Column:
    """One field of a page.

    name: as in the check form. kind: `text`, `number`, `flag`, `list`, or the unit that stands beside the
    field.
    """

    name: str
    kind: str


def with_unit(text: str, unit: str, *, mark: str | None = None) -> str:
    """The text with the unit that stood beside the field, unless it carries one of its own.

    mark: decimal mark by which numbers that read two ways are read; None leaves them.
    """
    plain = one_way(text.strip(), mark)
    return plain if not plain or HAS_UNIT.search(plain) else f"{plain} {unit}"


def marked_as(
    typed: Mapping[str, str], columns: Iterable[Column], mark: str | None, *, before: str = ""
) -> dict[str, str]:
    """All that was typed, the numbers in these columns made to read one way by a decimal mark.

    mark: of the workshop; None where it never said one. before: stands before the names of the columns.
    """
    names = {f"{before}{column.name}" for column in columns if column.kind not in TEXTUAL}
    return {name: one_way(text, mark) if name in names else text for name, text in typed.items()}


def as_shown(text: str) -> str:
    """A kept text as the person typed it, without what makes its numbers read one way."""
    return as_typed(text)


def without_unit(text: str, unit: str) -> str:
    """The text as it stands in a field with that unit beside it: the unit is not said twice."""
    return text.removesuffix(unit).rstrip()


def bare(typed: Mapping[str, str], columns: Iterable[Column], *, torque_unit: str) -> dict[str, str]:
    """The texts without the unit that stands beside their field, where that is the only one in them."""
    shown = dict(typed)
    for column in columns:
        if column.name in typed and column.kind not in UNITLESS:
            unit = torque_unit if column.kind == "torque" else column.kind
            number = without_unit(typed[column.name], unit)
            shown[column.name] = typed[column.name] if HAS_UNIT.search(number) else number
    return shown


def typed_table(typed: Mapping[str, str], columns: Iterable[Column], *, torque_unit: str) -> dict[str, Any]:
    """The table of a form; fields left empty are left out.

    typed: texts by name; of a `list` the texts are joined by commas, a `flag` is `yes`, `no` or empty.
    torque_unit: of every field whose kind is `torque`.
    Raises InputRefused for a flag that is none of these.
    """
    table: dict[str, Any] = {}
    for column in columns:
        text = typed.get(column.name, "").strip()
        if not text:
            continue
        if column.kind in ("text", "number"):
            table[column.name] = text
        elif column.kind == "flag":
            if text not in FLAGS:
                raise InputRefused(column.name, text, "want-one-of", names=", ".join(FLAGS))
            table[column.name] = text == "yes"
        elif column.kind == "list":
            table[column.name] = [part.strip() for part in text.split(",") if part.strip()]
        else:
            table[column.name] = with_unit(text, torque_unit if column.kind == "torque" else column.kind)
    return table


def typed_again(table: Mapping[str, Any], columns: Iterable[Column]) -> dict[str, str]:
    """The texts that fill the fields of a page with a table that was kept."""
    typed = {}
    for column in columns:
        value = table.get(column.name)
        if value is None:
            continue
        if column.kind == "flag":
            typed[column.name] = "yes" if value else "no"
        elif column.kind == "list":
            typed[column.name] = ",".join(value)
        else:
            typed[column.name] = str(value)
    return typed
