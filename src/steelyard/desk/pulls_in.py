"""Readings out of a file for checks in hand: each row is read as a line typed at the bench, and as strictly.

A row goes to the point of the plan that it names, else to the one the bench would ask for next.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from steelyard.desk.after_turn import wanted_pulls
from steelyard.desk.every import every
from steelyard.desk.ports import Body, Find, Wanted
from steelyard.desk.pulls import (
    PHASES,
    asked_at,
    next_point,
    pull_said,
    refuse_phase,
    refuse_unready,
    target_unit,
)
from steelyard.desk.records_out import BETWEEN, NEVER
from steelyard.desk.tools_in import Take, every_tool
from steelyard.desk.typed_table import with_unit
from steelyard.desk.workshop import Settings
from steelyard.errors import InputRefused
from steelyard.procedures import Step, where_now
from steelyard.quantities import Dimension, read_quantity
from steelyard.records import (
    AS_FOUND,
    AS_LEFT,
    Draft,
    Kind,
    Subject,
    counted,
    is_enough,
    progress_of,
    pulls_by_point,
)
from steelyard.words import say

AT_ONCE = 100
"""Checks in hand that are looked at in one go."""
BEFORE_A_PULL = (Step.LOOK, Step.KIT, Step.SET_UP, Step.EXERCISE)
OF_TRIALS = ("set_to", "mark")
"""Columns that only a yes/no trial has."""
OF_READINGS = ("line", "no_click", "click", "bucket")
"""Fields of the bench that stand in the column `reading` here."""


@dataclass
class InHand:
    """A check in hand as it stands with the rows taken so far. has_some: a row of this file is among them."""

    body: Body
    has_some: bool = False

    def take(self, payload: Mapping[str, Any]) -> None:
        """One pull more, as the ledger will fold it."""
        number = int(self.body["last"]) + 1
        pulls = [*self.body["pulls"], {"number": number, **payload}]
        self.body = {**self.body, "pulls": pulls, "last": number}
        self.has_some = True


def pulls_taken(find: Find, said: Settings, *, file: str, digest: str) -> Take:
    """Takes readings one after the other.

    file, digest: kept with the first reading of each check, so that the same file is not taken into it again.
    Raises InputRefused (`file`) where it was.
    """
    numbers = {
        body["tool"]["number"].casefold(): str(body["id"])
        for _, body in every_tool(find)
        if not body["is_retired"]
    }
    checks: dict[str, list[InHand]] = {}
    for body in _open_checks(find):
        if digest and any(pull.get("file_digest") == digest for pull in body["pulls"]):
            raise InputRefused("file", file, "want-file-once", tool=body["tool_number"])
        checks.setdefault(body["tool"], []).append(InHand(body))

    def take(_row: int, typed: Mapping[str, str]) -> Draft | None:
        number = " ".join(typed.get("tool_number", "").split())
        if number.casefold() not in numbers:
            raise InputRefused("tool_number", number or None, "want-tool-on-rack")
        hand = _in_hand(checks.get(numbers[number.casefold()], []), number)
        payload = _pull(hand.body, typed, said)
        if not hand.has_some:
            payload |= {"file": file, "file_digest": digest}
        hand.take(payload)
        return Draft(Kind.PULL_READ, Subject.CHECK.named(hand.body["id"]), payload)

    return take


def _open_checks(find: Find) -> Iterator[Body]:
    wanted = Wanted("check", states=("open",), most=AT_ONCE)
    yield from (listed.body for listed in every(find, wanted))


def _in_hand(checks: list[InHand], number: str) -> InHand:
    """The one check in hand of a tool, ready for a pull. Raises InputRefused with what is missing."""
    if not checks:
        raise InputRefused("tool_number", number, "want-check-in-hand")
    if len(checks) > 1:
        raise InputRefused("tool_number", number, "want-one-check-in-hand", count=len(checks))
    now = where_now(progress_of(checks[0].body))
    if now in BEFORE_A_PULL:
        raise InputRefused("tool_number", number, "want-steps-before-pull", step=say(f"step-{now}"))
    return checks[0]


def _pull(body: Body, typed: Mapping[str, str], said: Settings) -> dict[str, Any]:
    """What is kept of a row, as the bench would. Raises InputRefused with the column."""
    _refuse_trial(typed)
    phase = typed.get("phase") or (AS_LEFT if body["turns"] else AS_FOUND)
    if phase not in PHASES:
        raise InputRefused("phase", phase, "want-one-of", names=", ".join(PHASES))
    try:
        refuse_phase(body, phase)
        point = _point(body, phase, typed, mark=said.reads_by)
        refuse_unready(body, phase, point)
        return pull_said(
            body,
            _as_typed_at_the_bench(body, point, typed),
            phase=phase,
            point=point,
            decimal_mark=said.decimal_mark,
            struck_out=typed.get("struck_out"),
        )
    except InputRefused as refused:
        field = "reading" if refused.field in OF_READINGS else refused.field
        raise InputRefused(field, refused.given, refused.wanted, **refused.facts) from None


def _refuse_trial(typed: Mapping[str, str]) -> None:
    if typed.get("answer") not in (None, NEVER):
        raise InputRefused("answer", typed["answer"], "want-trial-at-bench")
    for name in OF_TRIALS:
        if name in typed:
            raise InputRefused(name, typed[name], "want-trial-at-bench")


def _as_typed_at_the_bench(body: Body, point: int, typed: Mapping[str, str]) -> dict[str, str]:
    """The fields of the bench's page for a row."""
    reading, unit = typed.get("reading", ""), typed.get("unit", "")
    sure = {"sure": typed["sure"]} if "sure" in typed else {}
    never = typed.get("answer") == NEVER
    if asked_at(body, point).way != "load":
        if never:
            raise InputRefused("answer", NEVER, "want-trial-at-bench")
        is_said = not unit or reading.endswith(unit)
        return {"line": reading if is_said else f"{reading} {unit}", **sure}
    without, _, click = reading.partition(BETWEEN.strip())
    if never:
        return {"no_click": without, "click": click, "never_clicked": "yes", **sure}
    return {"no_click": without, "click": click, **sure} if click else {"bucket": without, **sure}


def _point(body: Body, phase: str, typed: Mapping[str, str], *, mark: str | None) -> int:
    """The point of the plan that a row belongs to."""
    points = body["setup"]["points"]
    rows = pulls_by_point(body, phase)
    if "target" not in typed and "direction" not in typed:
        point = next_point(body, phase)
        if len(counted(rows[point])) >= points[point]["planned_pulls"] or is_enough(body, phase, point):
            raise InputRefused("target", None, "want-target-beyond-plan")
        return point
    fitting = [i for i, point in enumerate(points) if _fits(point, typed, mark=mark)]
    if not fitting:
        names = ", ".join(f"{point['target']} {point['direction']}" for point in points)
        given = " ".join(typed[name] for name in ("target", "direction") if name in typed)
        raise InputRefused("target", given, "want-target-of-plan", names=names)
    for i in fitting:
        wanted = wanted_pulls(body, phase, points[i]["planned_pulls"])
        if len(counted(rows[i])) < wanted and not is_enough(body, phase, i):
            return i
    missing = next((name for name in ("target", "direction") if name not in typed), None)
    if missing == "target" or (missing is not None and len(fitting) > 1):
        raise InputRefused(missing, None, "want-target-beyond-plan")
    return fitting[0]


def _fits(point: Mapping[str, Any], typed: Mapping[str, str], *, mark: str | None) -> bool:
    """A point is the one that a row names, by its target, its direction, or both."""
    if typed.get("direction", point["direction"]).casefold() != point["direction"]:
        return False
    if "target" not in typed:
        return True
    target = with_unit(typed["target"], target_unit(str(point["target"])), mark=mark)
    planned = read_quantity(str(point["target"]), Dimension.TORQUE, field="target")
    return read_quantity(target, Dimension.TORQUE, field="target").exact == planned.exact
