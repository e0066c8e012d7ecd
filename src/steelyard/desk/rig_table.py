"""From the fields of a page to the table of one rig, read as a check would read it, and back."""

import re
from collections.abc import Iterator, Mapping
from typing import Any

from steelyard.desk.kits import DRUM, HUNG_WEIGHT, MASS, SCALE, TRANSDUCER, Shelf, kit_table
from steelyard.desk.ports import Body
from steelyard.desk.typed_table import Column, bare, marked_as, typed_again, typed_table, with_unit
from steelyard.errors import InputRefused
from steelyard.published import load_materials
from steelyard.quantities import Dimension, read_within
from steelyard.records import Fields, read_kit, read_place, read_tool
from steelyard.rigs import PaperStates

MOST_ROWS = 12
LONGEST_NAME = 60
MATERIALS = tuple(material.name for material in load_materials())
_LOADED = (Column("material", "text"), Column("always", "text"), Column("scale_gravity", "m/s²"))
RIG_COLUMNS: Mapping[str, tuple[Column, ...]] = {
    SCALE: (
        Column("name", "text"),
        Column("step", "g"),
        Column("knows", "text"),
        Column("class", "text"),
        Column("interval", "g"),
        Column("in_service", "flag"),
        Column("within", "g"),
        Column("within_of_reading", "%"),
        Column("gain", "%"),
    ),
    MASS: (Column("name", "text"), Column("value", "kg"), Column("class", "text"), Column("casting", "flag")),
    HUNG_WEIGHT: (
        Column("name", "text"),
        Column("arm", "mm"),
        Column("lead", "text"),
        Column("pulley_loss", "%"),
        *_LOADED,
    ),
    DRUM: (Column("name", "text"), Column("drum", "mm"), Column("cord", "mm"), *_LOADED),
    TRANSDUCER: (
        Column("name", "text"),
        Column("resolution", "torque"),
        Column("flicker", "torque"),
        Column("stated_of_reading", "%"),
        Column("stated_of_full_scale", "torque"),
        Column("drift", "%"),
        Column("hysteresis", "%"),
        Column("temperature", "%"),
        Column("mounting", "%"),
        Column("torque_tool", "flag"),
    ),
}
PAPER_COLUMNS = (
    Column("certificate", "text"),
    Column("laboratory", "text"),
    Column("issued", "text"),
    Column("due", "text"),
    Column("states", "text"),
    Column("worked_shows", "torque"),
    Column("worked_true", "torque"),
)
ROW_FIELDS = ("at", "stated", "U", "k")
ROW_COLUMNS = (Column("at", "torque"), Column("U", "%"))
MARKED_IN_A_ROW = (*ROW_COLUMNS, Column("stated", "%"), Column("k", "number"))
HERE_IN_THE_KIT = re.compile(r"kit\.(?:(?:scale|mass) 1\.)?(.+)")
A_ROW = re.compile(r"kit\.paper\.row (\d+)\.(\w+)")
A_PAPER_ROW = re.compile(r"row\d+_\w+")
ELSEWHERE = {
    "load, material": "material",
    "weight, nominal value": "value",
    "weight class": "class",
    "scale, step": "step",
    "scale, gain error": "gain",
    "loads": "always",
    "kit.paper": "stated_of_reading",
    "kit.paper.row": "row1_at",
}
"""Where the readers name a field by what it is, not by where it stands."""
IN_WORDS_OF_A_PAGE = {
    "want-known-load": "want-rig-always",
    "want-scale-name": "want-rig-always",
    "want-one-trust": "want-rig-trust",
    "want-paper-or-accuracy": "want-rig-paper-or-accuracy",
}
"""The form's file speaks of its own fields; whoever sees a page does not know them."""


def rig_table(sort: str, typed: Mapping[str, str], *, torque_unit: str, shelf: Shelf) -> dict[str, Any]:
    """The table of a rig, with everything refused that a check would refuse later.

    typed: texts by the names of `RIG_COLUMNS`; of a paper `paper.certificate` …, its rows `row1_at`,
    `row1_stated`, `row1_U`, `row1_k` …, empty rows left out. torque_unit: beside the fields of torques.
    shelf: the other rigs of the shop, for what always hangs.
    Raises InputRefused with the field of the page.
    """
    table = typed_table(typed, RIG_COLUMNS[sort], torque_unit=torque_unit)
    rows: tuple[int, ...] = ()
    if sort == TRANSDUCER:
        paper, rows = _paper(typed, torque_unit)
        if paper:
            table["paper"] = paper
    table["name"] = _name(sort, table.get("name", ""))
    if sort == SCALE:
        _refuse_two_trusts(table)
    _read(sort, table, shelf, rows)
    return table


def marked_rig(sort: str, typed: Mapping[str, str], mark: str | None) -> dict[str, str]:
    """What was typed of a rig, its numbers made to read one way by the decimal mark of the workshop."""
    marked = marked_as(typed, RIG_COLUMNS[sort], mark)
    marked = marked_as(marked, PAPER_COLUMNS, mark, before="paper.")
    for number in range(1, MOST_ROWS + 1):
        marked = marked_as(marked, MARKED_IN_A_ROW, mark, before=f"row{number}_")
    return marked


def is_of_paper(field: str) -> bool:
    """A field of the page belongs to the paper of a rig."""
    return field.startswith("paper.") or A_PAPER_ROW.fullmatch(field) is not None


def still_reads(body: Body, shelf: Shelf) -> bool:
    """A check would still read this rig, with the rest of the shop as it is."""
    try:
        _read(body["sort"], body["table"], shelf, ())
    except InputRefused:
        return False
    return True


def typed_rig(body: Body, *, torque_unit: str) -> dict[str, str]:
    """The texts that fill the fields of a page with a rig that was kept.

    torque_unit: stands beside the fields of torques; a unit that stands beside a field is not repeated in it.
    """
    table, columns = body["table"], RIG_COLUMNS[body["sort"]]
    return {
        **bare(typed_again(table, columns), columns, torque_unit=torque_unit),
        "notes": body.get("notes") or "",
        **typed_paper(table.get("paper", {}), torque_unit=torque_unit),
    }


def typed_paper(paper: Mapping[str, Any], *, torque_unit: str) -> dict[str, str]:
    """The same of a paper alone. paper: its table, empty where there is none."""
    typed: dict[str, str] = {}
    of_paper = bare(typed_again(paper, PAPER_COLUMNS), PAPER_COLUMNS, torque_unit=torque_unit)
    typed |= {f"paper.{name}": text for name, text in of_paper.items()}
    for number, row in enumerate(paper.get("row", []), 1):
        texts = {field: row.get(paper["states"] if field == "stated" else field, "") for field in ROW_FIELDS}
        for field, text in bare(texts, ROW_COLUMNS, torque_unit=torque_unit).items():
            typed[f"row{number}_{field}"] = text
    return typed


def _paper(typed: Mapping[str, str], torque_unit: str) -> tuple[dict[str, Any], tuple[int, ...]]:
    """The table of a paper, empty where nothing was said of one; the page's number of each of its rows."""
    said = {column.name: typed.get(f"paper.{column.name}", "") for column in PAPER_COLUMNS}
    paper = typed_table(said, PAPER_COLUMNS, torque_unit=torque_unit)
    states = paper.get("states", "")
    units = {"at": torque_unit, "U": "%", "stated": torque_unit if states == PaperStates.TORQUE else "%"}
    rows, numbers = [], []
    for number in range(1, MOST_ROWS + 1):
        texts = {field: typed.get(f"row{number}_{field}", "").strip() for field in ROW_FIELDS}
        if not any(texts[field] for field in ("at", "stated", "U")):
            continue
        row = {field: with_unit(text, units.get(field, "")).strip() for field, text in texts.items()}
        stated = row.pop("stated")
        rows.append({name: text for name, text in {**row, states: stated}.items() if text})
        numbers.append(number)
    if rows:
        paper["row"] = rows
    return paper, tuple(numbers)


def _name(sort: str, text: str) -> str:
    """A name on one line; of a scale or a mass one that can stand in a load."""
    name = " ".join(text.split())
    if not name:
        raise InputRefused("name", None, "want-rig-name")
    if len(name) > LONGEST_NAME:
        raise InputRefused("name", name, "want-shorter", longest=LONGEST_NAME)
    if sort in (SCALE, MASS) and (re.search(r"(^|\s)(\+|on)(\s|$)|±|,|;", name) or _is_a_mass(name)):
        raise InputRefused("name", name, "want-rig-name-in-load")
    return name


def _is_a_mass(name: str) -> bool:
    try:
        read_within(name, Dimension.MASS, field="name")
    except InputRefused:
        return False
    return True


def _refuse_two_trusts(table: Mapping[str, Any]) -> None:
    """A scale is trusted for its class or for what is stated; the interval belongs to the class."""
    stated = next((name for name in ("within", "within_of_reading") if name in table), None)
    if "class" in table and stated is not None:
        raise InputRefused(stated, table[stated], "want-rig-one-trust")
    if "class" not in table and "interval" in table:
        raise InputRefused("interval", table["interval"], "want-rig-class-too")


def _read(sort: str, table: Mapping[str, Any], shelf: Shelf, rows: tuple[int, ...]) -> None:
    """Read the rig as part of a whole kit, with a tool and a place that stand in."""
    kit = Fields(_whole(sort, table, shelf), place="kit")
    kind = "driver-preset" if sort == DRUM else "click-preset"
    tool = {"number": "1", "kind": kind, "lowest": "1 N·m", "highest": "1 N·m"}
    try:
        read_kit(kit, read_tool(Fields(tool, place="tool")), read_place(Fields({}, place="place")))
    except InputRefused as refused:
        raise _on_the_page(refused, rows, shelf) from None


def _whole(sort: str, table: Mapping[str, Any], shelf: Shelf) -> dict[str, Any]:
    own = dict(table)
    if sort in (SCALE, MASS):
        return {"kind": HUNG_WEIGHT, "name": "1", "arm": "1 m", sort: [own]}
    if sort == TRANSDUCER:
        return {"kind": sort, "axis": "vertical", "zeroed": "with-tool", **own}
    whole = kit_table({"sort": sort, "table": own}, scales=shelf.scales, masses=shelf.masses, setup={})
    if sort == HUNG_WEIGHT:
        whole.setdefault("arm", "1 m")
    if len(shelf.scales) == 1:  # a scale that is added later must not leave open on which of them it lay
        whole["scale"] = [*whole["scale"], {**whole["scale"][0], "name": f"{whole['scale'][0]['name']} 2"}]
    return whole


def _on_the_page(refused: InputRefused, rows: tuple[int, ...], shelf: Shelf) -> InputRefused:
    """The same refusal, at the field of the page and in its words."""
    wanted, facts = IN_WORDS_OF_A_PAGE.get(refused.wanted, refused.wanted), refused.facts
    field = _field(refused.field, rows)
    if wanted == "want-one-of" and refused.given is None:
        wanted = "want-rig-answer"
    if wanted == "want-rig-always" or (field, wanted) == ("always", "want-unit"):
        wanted, facts = "want-rig-always", {"names": ", ".join(_names(shelf)) or "M-5"}
    return InputRefused(field, refused.given, wanted, **facts)


def _names(shelf: Shelf) -> Iterator[str]:
    yield from (str(body["table"]["name"]) for body in shelf.masses[:3])
    yield from (f"0.35 kg on {body['table']['name']}" for body in shelf.scales[:2])


def _field(field: str, rows: tuple[int, ...]) -> str:
    in_row = A_ROW.fullmatch(field)
    if in_row is not None:
        name = in_row[2] if in_row[2] in ROW_FIELDS else "stated"
        return f"row{rows[int(in_row[1]) - 1]}_{name}"
    if field in ELSEWHERE:
        return ELSEWHERE[field]
    if field.startswith("weight "):
        return "class"
    in_kit = HERE_IN_THE_KIT.fullmatch(field)
    return in_kit[1] if in_kit is not None else field
