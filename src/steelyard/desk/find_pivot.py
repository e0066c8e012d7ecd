"""The pivot of a tool on the rack, found from its clicks at two marks and written down."""

from collections.abc import Mapping
from dataclasses import dataclass

from steelyard.desk.acting import Acting
from steelyard.desk.answer import Answer
from steelyard.desk.figures import Known, figure
from steelyard.desk.hanging import refuse_piece_twice
from steelyard.desk.kits import here
from steelyard.desk.ports import Body, Ledger
from steelyard.desk.reckon_pivot import MILLIMETRE, reckon_pivot
from steelyard.desk.standing import standing
from steelyard.desk.tool_fields import refuse_long_pivot
from steelyard.desk.typed_scale import KILOGRAM
from steelyard.desk.typed_table import with_unit
from steelyard.desk.weighing import as_kept, true_mass
from steelyard.desk.workshop import settings
from steelyard.errors import InputRefused
from steelyard.quantities import one_way
from steelyard.records import (
    Draft,
    Fields,
    Kind,
    Subject,
    Weights,
    load_pieces,
    read_load,
    read_masses,
    read_place,
    read_scales,
    read_tool,
)
from steelyard.tools import Kind as ToolKind

PIVOT_FIELDS = {"near_load": "kg", "near_arm": "mm", "far_load": "kg", "far_arm": "mm"}
"""What is asked, and the unit that stands beside each field."""
LOADS = ("near_load", "far_load")


@dataclass(frozen=True)
class FoundPivot:
    """What two marks tell of a tool.

    stands: the pivot as the tool keeps it, None where the loads cannot tell, or contradict any.
    typed: as kept, each with its unit.
    """

    body: Body
    answer: Answer
    stands: str | None
    typed: Mapping[str, str]


def may_have_pivot(body: Body) -> bool:
    """A tool in use that signals, with a handle, and is not known to be independent of where it is held."""
    table = body["tool"]
    kind = ToolKind(table["kind"])
    is_pivoted = kind.trips_about_a_pivot and not kind.is_indicating
    return is_pivoted and not table.get("length_independent") and not body["is_retired"]


def find_pivot(ledger: Ledger, tool: str, typed: Mapping[str, str]) -> FoundPivot:
    """Where the pivot of a tool lies, from the loads at its click at two marks; nothing is kept.

    typed: PIVOT_FIELDS; a bare number is in the unit beside its field, a ± may stand behind it. A load may be
        put together from the marked weights and the scales that are here, as at a pull.
    Raises NotFound; InputRefused with the field, `tool` where this tool trips about no pivot.
    Source and left out: `reckon_pivot`.
    """
    body = standing(ledger, Subject.TOOL, tool)
    if not may_have_pivot(body):
        raise InputRefused("tool", body["tool"]["number"], "want-pivot-tool")
    mark = settings(ledger).reads_by
    texts = {
        name: with_unit(typed.get(name, ""), unit, mark=mark)
        for name, unit in PIVOT_FIELDS.items()
        if typed.get(name, "").strip()
    }
    try:
        summed = {name: _summed(ledger, texts[name], name) for name in LOADS if name in texts}
        answer = reckon_pivot(**{name: {**texts, **summed}.get(name) for name in PIVOT_FIELDS})
    except InputRefused as refused:
        field = refused.field.removeprefix("--").replace("-", "_")
        raise InputRefused(field, refused.given, refused.wanted, **refused.facts) from None
    return FoundPivot(body, answer, _stands(answer), texts)


def keep_pivot(acting: Acting, tool: str, typed: Mapping[str, str], seen: int | None = None) -> None:
    """Write the pivot that was found into the tool; every check that is set up from then on reckons with it.

    typed: as in `find_pivot`. seen: last entry that was known of the tool.
    Raises NotFound, Conflict; InputRefused as `find_pivot` does, and with `near_load` where the loads tell
    nothing that could be written.
    """
    found = find_pivot(acting.ledger, tool, typed)
    if found.stands is None:
        raise InputRefused("near_load", found.typed["near_load"], "want-pivot-told")
    table = {**found.body["tool"], "pivot": found.stands}
    refuse_long_pivot(read_tool(Fields(table, place="")), table)
    payload = {
        "pivot": found.stands,
        "typed": dict(found.typed),
        "low_metre": found.answer.numbers["pivot_low_metre"],
        "high_metre": found.answer.numbers["pivot_high_metre"],
    }
    subject = Subject.TOOL.named(tool)
    known = {subject: seen} if seen is not None else None
    acting.write(Draft(Kind.PIVOT_FOUND, subject, payload), seen=known)


def _summed(ledger: Ledger, text: str, field: str) -> str:
    """A load of several pieces, or of named ones, as one mass with its ±; any other as it is.

    Raises InputRefused as `read_load` does, and for a piece that is named twice.
    """
    shelf = here(ledger)
    tables = {"mass": [m["table"] for m in shelf.masses], "scale": [s["table"] for s in shelf.scales]}
    fields = Fields(tables, place="kit")
    weights = Weights(read_masses(fields), read_scales(fields))
    pieces = load_pieces(text)
    if len(pieces) == 1 and text not in weights.masses and " on " not in text:
        return text
    refuse_piece_twice(text, weights, field=field)
    place = read_place(Fields(dict(settings(ledger).place), place="place"))
    return as_kept(true_mass(read_load(text, weights, field=field), place), KILOGRAM[0])


def _stands(answer: Answer) -> str | None:
    if "pivot_form_metre" not in answer.numbers:
        return None
    value, within = answer.numbers["pivot_form_metre"], answer.numbers["pivot_form_within_metre"]
    return one_way(figure(Known(float(value), float(within)), MILLIMETRE), ".")
