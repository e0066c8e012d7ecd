"""The fields of a tool: from texts as typed to what the ledger keeps of it, and back into the fields.

What is kept was read by the same readers as a check form, so that no check refuses it later.
"""

from collections.abc import Mapping
from typing import Any

from steelyard.desk.typed_table import Column, bare, marked_as, typed_again, typed_table
from steelyard.errors import InputRefused
from steelyard.published import published_limit, published_limit_codes
from steelyard.quantities import UNITS, Dimension, read_quantity
from steelyard.records import Fields, read_limit, read_tool
from steelyard.tools import Kind as ToolKind
from steelyard.tools import Tool

TOOL_KINDS = tuple(kind.value for kind in ToolKind)
DRIVER_KINDS = tuple(kind.value for kind in ToolKind if kind.is_driver)
GRADUATED_KINDS = tuple(kind.value for kind in ToolKind if kind.is_adjustable or kind.is_indicating)
"""Set or read on a scale, which then has a graduation."""
LONGEST_NUMBER = 40
USUAL_INTERVAL_MONTHS, LONGEST_INTERVAL_MONTHS = 12, 120
OWN_LIMIT = "own"
OWN_WAYS = {
    "balance": ("mass", "balance_point"),
    "reading": ("own_reading", "own_reading_at"),
    "skip": (),
}
"""Ways to say what the tool itself weighs, and the fields each of them needs."""

TOOL_COLUMNS = (
    Column("number", "text"),
    Column("kind", "text"),
    Column("make", "text"),
    Column("lowest", "torque"),
    Column("highest", "torque"),
    Column("graduation", "torque"),
    Column("directions", "list"),
    Column("set_each_time", "flag"),
    Column("grip_mark", "mm"),
    Column("mass", "kg"),
    Column("balance_point", "mm"),
    Column("own_reading", "kg"),
    Column("own_reading_at", "mm"),
    Column("own_reading_knows", "text"),
    Column("own_weight", "torque"),
    Column("pivot", "mm"),
    Column("length_independent", "flag"),
    Column("beam_scale", "mm"),
    Column("expected_scatter", "%"),
)
LIMIT_COLUMNS = (
    Column("published", "text"),
    Column("percent", "number"),
    Column("source", "text"),
    Column("of", "text"),
    Column("convention", "text"),
    Column("small_percent", "number"),
    Column("small_up_to", "torque"),
    Column("split_by", "text"),
    Column("other_direction_percent", "number"),
    Column("from_percent_of_maximum", "number"),
)
OWN_FIELDS = ("balance_point", "own_reading", "own_reading_at", "own_reading_knows")
TEXTS = ("notes", "store_rule", "drive")
OWN_TEXTS = ("number", "notes")
"""These tell tools of one kind apart; nothing else that is read of a tool depends on them."""
EXAMPLES = {
    "mass": "1.300 kg",
    "balance_point": "210 mm",
    "own_reading": "0.850 kg",
    "own_reading_at": "420 mm",
}


def tool_document(
    typed: Mapping[str, str], *, usual_unit: str, decimal_mark: str | None = None
) -> dict[str, Any]:
    """What the ledger keeps of a tool.

    typed: texts by the names of the check form, those of its limit with `limit.` before them; `unit` of every
        torque without one of its own; `own_way` of OWN_WAYS; `notes`, `store_rule`, `drive`,
        `interval_months`.
    usual_unit: of torques where `unit` is left out. decimal_mark: of the workshop, None where it never said
        one.
    Raises InputRefused with the field.
    """
    plain = {name: text.replace("\r\n", "\n").strip() for name, text in typed.items()}
    plain = marked_as(plain, TOOL_COLUMNS, decimal_mark)
    plain = marked_as(plain, LIMIT_COLUMNS, decimal_mark, before="limit.")
    unit = _unit(plain) or usual_unit
    if not plain.get("kind"):
        raise InputRefused("kind", None, "want-tool-kind")
    table = typed_table(_own_as_chosen(plain), TOOL_COLUMNS, torque_unit=unit)
    if "number" in table:
        table["number"] = _number(table["number"])
    tool = read_tool(Fields(table, place=""))
    _refuse_half_an_own_weight(plain)
    refuse_long_pivot(tool, table)
    return {
        "tool": table,
        "limit": _limit_table(plain, tool, torque_unit=unit),
        "interval_months": _interval(plain.get("interval_months", "")),
        **{name: Fields(_given(plain, name), place="").text(name) for name in TEXTS},
    }


def another_of_its_kind(document: Mapping[str, Any], typed: Mapping[str, str]) -> dict[str, Any]:
    """What the ledger keeps of a tool of which all but OWN_TEXTS is typed as of one that was read before.

    document: of that one. Raises InputRefused with the field, as `tool_document` does.
    """
    plain = {name: typed.get(name, "").replace("\r\n", "\n").strip() for name in OWN_TEXTS}
    number = Fields({"number": _number(plain["number"])}, place="").text("number")
    notes = Fields(_given(plain, "notes"), place="").text("notes")
    return {**document, "tool": {**document["tool"], "number": number}, "notes": notes}


def _unit(typed: Mapping[str, str]) -> str | None:
    return Fields(_given(typed, "unit"), place="").choice("unit", str, list(UNITS[Dimension.TORQUE]))


def _given(typed: Mapping[str, str], name: str) -> dict[str, str]:
    """That one field, where something stands in it."""
    return {name: typed[name]} if typed.get(name) else {}


def _number(text: str) -> str:
    number = " ".join(text.split())
    if len(number) > LONGEST_NUMBER:
        raise InputRefused("number", text, "want-shorter", longest=LONGEST_NUMBER)
    return number


def _own_as_chosen(typed: Mapping[str, str]) -> dict[str, str]:
    """The fields without those of the ways of giving the own weight that were not chosen."""
    way = typed.get("own_way", "")
    if not way:
        return dict(typed)
    if way not in OWN_WAYS:
        raise InputRefused("own_way", way, "want-one-of", names=", ".join(OWN_WAYS))
    kept = (*OWN_WAYS[way], "own_reading_knows") if way == "reading" else OWN_WAYS[way]
    return {name: text for name, text in typed.items() if name not in OWN_FIELDS or name in kept}


def _refuse_half_an_own_weight(typed: Mapping[str, str]) -> None:
    """The chosen way of giving the own weight needs all its fields."""
    for name in OWN_WAYS.get(typed.get("own_way", ""), ()):
        if not typed.get(name):
            raise InputRefused(name, None, "want-unit", example=EXAMPLES[name])


def refuse_long_pivot(tool: Tool, table: Mapping[str, Any]) -> None:
    """Raise InputRefused where a pivot lies at the grip mark or beyond it, which leaves no lever."""
    if tool.pivot is None or tool.grip_mark is None:
        return
    if tool.pivot.value + tool.pivot.width >= tool.grip_mark.value:
        raise InputRefused("pivot", table["pivot"], "want-short-pivot")


def _limit_table(typed: Mapping[str, str], tool: Tool, *, torque_unit: str) -> dict[str, Any]:
    """The table of the limit: of a document by its code alone, or a person's own."""
    own = {name.removeprefix("limit."): text for name, text in typed.items() if name.startswith("limit.")}
    code = own.pop("published", "")
    if code and code != OWN_LIMIT:
        if code not in published_limit_codes():
            names = ", ".join((*published_limit_codes(), OWN_LIMIT))
            raise InputRefused("limit.published", code, "want-one-of", names=names)
        table: dict[str, Any] = {"published": code}
    else:
        shares = {name: text.removesuffix("%").rstrip() for name, text in own.items()}
        table = typed_table(shares, LIMIT_COLUMNS, torque_unit=torque_unit)
    try:
        read_limit(Fields(table, place="limit"), tool)
    except InputRefused as refused:
        if refused.wanted == "want-limit":
            field = "limit.percent" if code == OWN_LIMIT else "limit.published"
            raise InputRefused(field, None, "want-tool-limit") from None
        if refused.wanted == "want-covered-kind":
            document = refused.facts["document"]
            raise InputRefused("limit.published", code, "want-covering-limit", document=document) from None
        raise
    return table


def _interval(text: str) -> int:
    if not text:
        return USUAL_INTERVAL_MONTHS
    months = int(text) if text.isascii() and text.isdigit() and len(text) < 6 else 0
    if not 1 <= months <= LONGEST_INTERVAL_MONTHS:
        raise InputRefused("interval_months", text, "want-whole", least=1, most=LONGEST_INTERVAL_MONTHS)
    return months


def tool_typed_again(document: Mapping[str, Any]) -> dict[str, str]:
    """The texts that fill the fields with a tool that was kept, without the units beside the fields."""
    table, limit = document["tool"], document["limit"]
    unit = tool_unit(table)
    typed = bare(typed_again(table, TOOL_COLUMNS), TOOL_COLUMNS, torque_unit=unit)
    typed |= _ticked(typed, TOOL_COLUMNS)
    typed |= {
        f"limit.{name}": text
        for name, text in bare(typed_again(limit, LIMIT_COLUMNS), LIMIT_COLUMNS, torque_unit=unit).items()
    }
    typed |= {name: document[name] for name in TEXTS if document.get(name)}
    typed |= {"unit": unit, "interval_months": str(document["interval_months"]), "own_way": own_way(table)}
    if "published" not in limit:
        typed["limit.published"] = OWN_LIMIT
    return typed


def _ticked(typed: Mapping[str, str], columns: tuple[Column, ...]) -> dict[str, str]:
    """The flags of a page as its boxes know them: one that is off is an empty field."""
    flags = [column.name for column in columns if column.kind == "flag" and column.name in typed]
    return {name: "yes" if typed[name] == "yes" else "" for name in flags}


def tool_unit(table: Mapping[str, Any]) -> str:
    """The symbol of the unit in which a tool's range is written."""
    return read_quantity(table["highest"], Dimension.TORQUE, field="highest").unit.symbol


def own_way(table: Mapping[str, Any]) -> str:
    """In which way a tool's own weight was given; `skip` where it was not."""
    if "own_reading" in table:
        return "reading"
    return "balance" if "balance_point" in table else "skip"


def limit_choices(kind: str) -> tuple[str, ...]:
    """The codes of the documents that set a limit for a kind of tool; all where the kind is not known."""
    return tuple(code for code in published_limit_codes() if kind not in TOOL_KINDS or _covers(code, kind))


def _covers(code: str, kind: str) -> bool:
    try:
        published_limit(code, tool_kind=kind)
    except InputRefused:
        return False
    return True
