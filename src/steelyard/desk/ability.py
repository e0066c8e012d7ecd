"""What a rig of the shop can decide of a tool, before any work and before it is set up."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from steelyard.desk.able import AbleKit, AblePoint, ask_form
from steelyard.desk.kits import (
    HUNG_WEIGHT,
    MASS,
    SCALE,
    TRANSDUCER,
    Shelf,
    fits,
    here,
    kit_table,
    usual_setup,
)
from steelyard.desk.ports import Body, Ledger, Wanted
from steelyard.desk.standing import standing
from steelyard.desk.typed_table import Column, typed_table
from steelyard.desk.workshop import settings
from steelyard.errors import InputRefused
from steelyard.findings import Finding
from steelyard.records import CheckForm, Fields, PointForm, Subject, read_limit, read_table, read_tool
from steelyard.tools import Kind as ToolKind

STAND_IN_COLUMNS = (
    Column("kind", "text"),
    Column("lowest", "torque"),
    Column("highest", "torque"),
    Column("graduation", "torque"),
    Column("grip_mark", "mm"),
    Column("own_weight", "torque"),
)
STAND_IN_LIMIT = (Column("percent", "number"),)
MOST_TOOLS = 200
WHAT_TO_MEASURE = {
    ("kit.arm", "want-unit"): "want-rig-arm",
    ("tool.grip_mark", "want-unit"): "want-rig-grip",
    ("", "want-own-weight"): "want-rig-own-weight",
    ("", "want-beam-scale"): "want-rig-beam-scale",
    ("", "want-means-to-load"): "want-rig-means-to-load",
}
"""By field and what the readers want there; an empty field stands for any."""
OF_THE_TOOL = ("want-rig-arm", "want-rig-grip", "want-rig-own-weight", "want-rig-beam-scale")


@dataclass(frozen=True)
class AbilityPoint:
    """One torque. able: what the rig decides there; None where it cannot be asked, and refused says why."""

    form: PointForm
    able: AblePoint | None
    refused: InputRefused | None


@dataclass(frozen=True)
class Ability:
    """What a rig can decide of a tool.

    tool: its document; of a stand-in without id. arm: the rig from which a weight or a scale's load hangs,
    where that is another one; a weight hangs together with all others. points: empty where the whole question
    was refused, and refused says why. scatter_ratio: spread of single pulls; is_guessed: nobody said it.
    """

    rig: Body
    tool: Body
    arm: Body | None
    points: tuple[AbilityPoint, ...]
    scatter_ratio: float
    is_guessed: bool
    findings: tuple[Finding, ...]
    refused: InputRefused | None

    @property
    def lacks_of_tool(self) -> bool:
        """The answer waits for something that is measured on the tool."""
        return self.refused is not None and self.refused.wanted in OF_THE_TOOL

    @property
    def is_hung(self) -> bool:
        """Something hangs, so cautions are shown."""
        return str(self.rig["sort"]) != TRANSDUCER


def ability(
    ledger: Ledger, rig: str, tool: str | None, *, today: date, stand_in: Body | None = None, scale: str = ""
) -> Ability:
    """What a rig can decide of a tool of the rack, or of one that stands in for a range.

    tool: id; None where `stand_in` is given, see `stand_in_tool`. scale: id of the one on which the load is
    weighed; empty for all that the shop has.
    Raises NotFound, and InputRefused with the field `tool` where rig and tool do not fit.
    """
    body = standing(ledger, Subject.RIG, rig)
    tool_body = stand_in if tool is None else standing(ledger, Subject.TOOL, tool)
    if tool_body is None:
        raise ValueError("neither a tool nor one that stands in for it")
    shelf = here(ledger)
    only = rig if body["sort"] == SCALE else scale
    arm = _arm(body, shelf, tool_body)
    kit = body if arm is None else arm
    if not fits(kit, tool_body):
        raise InputRefused("tool", tool_body["tool"].get("number"), "want-rig-fitting-tool")
    form = _form(ledger, kit, tool_body, shelf=shelf, only=only, today=today)
    asked = _asked(kit, tool_body, form)
    return replace(asked, rig=body, arm=arm if arm is not None and "id" in arm else None)


def tools_for(ledger: Ledger, rig_body: Body) -> list[Body]:
    """The tools of the rack that a rig can be asked about, retired ones left out; at most 200."""
    listed = (item.body for item in ledger.documents(Wanted(Subject.TOOL, most=MOST_TOOLS)))
    return [tool for tool in listed if not tool["is_retired"] and _may_ask(rig_body, tool)]


def kinds_for(rig_body: Body) -> tuple[str, ...]:
    """The kinds of tools that a rig can be asked about."""
    return tuple(kind.value for kind in ToolKind if _may_ask(rig_body, {"tool": {"kind": kind.value}}))


def stand_in_tool(typed: Mapping[str, str], *, torque_unit: str) -> dict[str, Any]:
    """A tool that nobody has: kind, lowest, highest and percent, and what its kind needs.

    Raises InputRefused with the field of the page.
    """
    table = typed_table(typed, STAND_IN_COLUMNS, torque_unit=torque_unit)
    limit = {**typed_table(typed, STAND_IN_LIMIT, torque_unit=torque_unit), "source": "–"}
    body = {"tool": {"number": "–", **table}, "limit": limit}
    if "percent" not in limit:
        raise InputRefused("percent", None, "want-rig-percent")
    try:
        read_limit(Fields(limit, place=""), read_tool(Fields(body["tool"], place="")))
    except InputRefused as refused:
        wanted = "want-rig-answer" if refused.field == "kind" else refused.wanted
        raise InputRefused(refused.field, refused.given, wanted, **refused.facts) from None
    return body


def _may_ask(rig_body: Body, tool: Body) -> bool:
    if rig_body["sort"] in (SCALE, MASS):
        return not ToolKind(tool["tool"]["kind"]).is_driver
    return fits(rig_body, tool)


def _arm(rig_body: Body, shelf: Shelf, tool: Body) -> Body | None:
    """From which arm a weight or a scale's load hangs: the shop's first that fits, else the tool's handle."""
    if rig_body["sort"] not in (SCALE, MASS):
        return None
    fitting = (body for body in (*shelf.arms, *shelf.drums) if fits(body, tool))
    bare = {"sort": HUNG_WEIGHT, "table": {"name": rig_body["table"]["name"]}}
    return next(fitting, bare)


def _asked(kit: Body, tool: Body, table: Body) -> Ability:
    unasked = Ability(kit, tool, None, (), 0.0, False, (), None)
    try:
        form = read_table(table)
    except InputRefused as refused:
        return replace(unasked, refused=_in_words(refused))
    asked = tuple(_points(form))
    points = tuple(point for _, point in asked)
    answers = tuple(answer for answer, _ in asked if answer is not None)
    if not answers:
        return replace(unasked, refused=points[0].refused)
    found = {finding.code: finding for answer in answers for finding in answer.findings}
    return replace(
        unasked,
        points=points,
        scatter_ratio=answers[0].scatter_ratio,
        is_guessed=answers[0].is_guessed,
        findings=tuple(found.values()),
    )


def _form(ledger: Ledger, kit: Body, tool: Body, *, shelf: Shelf, only: str, today: date) -> dict[str, Any]:
    """The check that is asked about; with one scale only, everything that hangs is weighed on that one."""
    setup = usual_setup(kit["sort"], kit, tool)
    chosen = [body for body in shelf.scales if body["id"] == only]
    if chosen:
        setup["always"] = ""
    return {
        "steelyard_check": 1,
        "date": today,
        "place": dict(settings(ledger).place),
        "tool": tool["tool"],
        "limit": tool["limit"],
        "kit": kit_table(
            kit, scales=chosen or shelf.scales, masses=() if chosen else shelf.masses, setup=setup
        ),
    }


def _points(form: CheckForm) -> Iterator[tuple[AbleKit | None, AbilityPoint]]:
    """Each point asked for itself, so that one beyond a paper does not silence the others."""
    for point in form.points:
        try:
            answer = ask_form(replace(form, points=(point,)))
        except InputRefused as refused:
            yield None, AbilityPoint(point, None, _in_words(refused))
        else:
            yield answer, AbilityPoint(point, answer.points[0], None)


def _in_words(refused: InputRefused) -> InputRefused:
    """The same refusal in words that say what to measure, without the names of a file's fields."""
    wanted = WHAT_TO_MEASURE.get((refused.field, refused.wanted)) or WHAT_TO_MEASURE.get(("", refused.wanted))
    return InputRefused(refused.field, refused.given, wanted, **refused.facts) if wanted else refused
