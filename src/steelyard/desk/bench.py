"""The check in hand: opened, looked over, the kit chosen and set up, the tool exercised."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from steelyard.desk.acting import Acting
from steelyard.desk.cases import point_reference
from steelyard.desk.hanging import refuse_piece_twice
from steelyard.desk.kits import LOADED, SETUP_COLUMNS, fits, here, kit_table, offered_setup, setup_table
from steelyard.desk.plan import planned_points, read_plan
from steelyard.desk.ports import Body, Ledger, Listed, Wanted
from steelyard.desk.standing import standing
from steelyard.desk.typed_table import Column, marked_as, typed_table
from steelyard.desk.workshop import settings
from steelyard.errors import InputRefused, RecordSealed
from steelyard.procedures import StandingStep, Step, steps_of, where_now
from steelyard.records import (
    AS_FOUND,
    CheckForm,
    Draft,
    Entry,
    Fields,
    HungKit,
    Kind,
    Subject,
    progress_of,
    pulls_by_point,
    read_table,
)
from steelyard.tools import Kind as ToolKind

REASONS = ("due", "new", "dropped", "overloaded", "repaired", "doubt", "customer", "training")
MOST_OPEN = 100
MOST_EXERCISE = 100
OF_THE_TOOL = {"want-beam-scale": "want-rig-beam-scale", "want-own-weight": "want-rig-own-weight"}
"""What is measured on the tool, in words of the page where the form of a check names its own fields."""
ROOM_COLUMNS = (Column("room_temperature", "°C"), Column("room_change", "°C"))
HANDLING_COLUMNS = (Column("zeroed_tool", "flag"), Column("set_each_time", "flag"), Column("load_time", "s"))


@dataclass(frozen=True)
class CheckView:
    """A check as it stands, with its tool and steps."""

    body: Body
    tool: Body
    steps: tuple[StandingStep, ...]

    @property
    def now(self) -> Step:
        """The step to go on with."""
        return where_now(progress_of(self.body))


def check_view(ledger: Ledger, check: str) -> CheckView:
    """A check as it stands. Raises NotFound."""
    body = check_body(ledger, check)
    return CheckView(body, tool_body(ledger, body["tool"]), steps_of(progress_of(body)))


def tool_body(ledger: Ledger, tool: str) -> Body:
    """What is folded of a tool. Raises NotFound."""
    return standing(ledger, Subject.TOOL, tool)


def check_body(ledger: Ledger, check: str) -> Body:
    """What is folded of a check. Raises NotFound."""
    return standing(ledger, Subject.CHECK, check)


def open_body(ledger: Ledger, check: str) -> Body:
    """The same, of a check that is not sealed. Raises NotFound, RecordSealed."""
    body = check_body(ledger, check)
    if body["closed"] is not None:
        raise RecordSealed(body["closed"]["record"])
    return body


def checks_in_hand(ledger: Ledger) -> list[Listed]:
    """Checks that are open, the latest first."""
    return ledger.documents(Wanted("check", states=("open",), most=MOST_OPEN, newest_first=True))


def open_check(acting: Acting, tool: str, typed: Mapping[str, str]) -> str:
    """Begin a check of a tool; returns its name. Why today: one of `REASONS`, with a note where there is
    more.

    Raises NotFound; InputRefused with the field `why` (also for a retired tool), `note` or `title`.
    """
    body = acting.body(Subject.TOOL, tool)
    if body["is_retired"]:
        raise InputRefused("why", None, "want-tool-in-use")
    fields = Fields({k: v for k, v in typed.items() if v.strip()}, place="")
    names = ", ".join(REASONS)
    payload = {
        "tool": tool,
        "tool_number": body["tool"]["number"],
        "why": fields.needed(
            "why", lambda f: fields.choice(f, str, list(REASONS)), "want-one-of", names=names
        ),
        "note": fields.text("note"),
        "title": fields.text("title"),
        "day": acting.today().isoformat(),
    }
    draft = Draft(Kind.CHECK_OPENED, Subject.CHECK.named(acting.dice.name()), payload)
    (entry, *_) = acting.write(draft)
    return entry.subject.partition(":")[2]


def look_over(acting: Acting, check: str, typed: Mapping[str, str], *, seen: int | None = None) -> None:
    """What the eye found: nothing, or damage; with damage the check stops unless the person goes on, with
    a note. A check that stops takes the tool out of use at once, until somebody releases it.

    Raises InputRefused with the field `damaged`, `goes_on` or `look_note`.
    """
    body = open_body(acting.ledger, check)
    fields = Fields({k: v for k, v in typed.items() if v.strip()}, place="")
    answers = ["no", "yes"]
    damaged = fields.needed(
        "damaged", lambda f: fields.choice(f, str, answers), "want-one-of", names=", ".join(answers)
    )
    goes_on = fields.text("goes_on") == "yes"
    note = fields.text("look_note")
    if damaged == "yes" and note is None:
        raise InputRefused("look_note", None, "want-damage-note")
    payload = {"damaged": damaged == "yes", "goes_on": goes_on, "note": note}
    tool, named = acting.body(Subject.TOOL, body["tool"]), Subject.CHECK.named(check)
    drafts = [Draft(Kind.LOOKED_OVER, named, payload)]
    if payload["damaged"] and not goes_on and tool["quarantine"] is None:
        held = {"note": note, "check": check}
        drafts.append(Draft(Kind.QUARANTINED, Subject.TOOL.named(body["tool"]), held))
    acting.write(*drafts, seen={named: known_last(body, seen)})


def choose_kit(acting: Acting, check: str, typed: Mapping[str, str], *, seen: int | None = None) -> None:
    """With which rig, at which points, how many pulls each.

    Raises InputRefused with the field `rig`, `plan`, `targets` or `pulls`; a rig cannot be changed once
    pulls count.
    """
    body = open_body(acting.ledger, check)
    tool = acting.body(Subject.TOOL, body["tool"])
    rig = typed.get("rig", "").strip()
    rig_body = acting.ledger.document(Subject.RIG.named(rig)) if rig else None
    is_here = rig_body is not None and (rig_body["state"] == "here" or _is_chosen(body, rig))
    if rig_body is None or not is_here or not fits(rig_body, tool):
        raise InputRefused("rig", rig or None, "want-fitting-rig")
    said = settings(acting.ledger)
    plan = read_plan(typed, tool, unit=said.unit, decimal_mark=said.reads_by)
    if _has_pulls(body) and not (_is_chosen(body, rig) and plan.begins_with(body["choice"]["points"])):
        raise InputRefused("rig", None, "want-same-kit")
    payload = {"rig": rig, "plan": plan.name, "points": planned_points(plan)}
    write_step(acting, body, Kind.KIT_CHOSEN, payload, seen)


def set_up(acting: Acting, check: str, typed: Mapping[str, str], *, seen: int | None = None) -> None:
    """The kit as it stands now: measured arm, droop, zero and axis; a full copy of kit, papers, tool and
    place.

    Raises InputRefused with the page's field, as in the tables of the check form.
    """
    body = open_body(acting.ledger, check)
    if body["choice"] is None:
        raise InputRefused("rig", None, "want-fitting-rig")
    payload = setup_payload(acting.ledger, body, typed)
    if typed.get("is_ready", "").strip() != "yes":
        raise InputRefused("is_ready", None, "want-cautions-read")
    table = {"steelyard_check": 1, "date": body["day"], **payload["form"], "point": payload["points"]}
    try:
        form = read_table(table)
        _refuse_loads(form)
    except InputRefused as refused:
        field = _page_field(refused.field, payload["points"])
        raise InputRefused(field, refused.given, refused.wanted, **refused.facts) from None
    write_step(acting, body, Kind.RIG_SET_UP, payload, seen)


def _refuse_loads(form: CheckForm) -> None:
    """A known load that names one piece twice, or whose torque the kit cannot say."""
    if not isinstance(form.kit, HungKit):
        return
    for i, point in enumerate(form.points):
        refuse_piece_twice(point.load_typed, form.kit, field=f"load_{i}")
        if point.load is not None:
            try:
                point_reference(form, point, point.target.base)
            except InputRefused as refused:
                wanted = OF_THE_TOOL.get(refused.wanted, refused.wanted)
                raise InputRefused("arm", refused.given, wanted, **refused.facts) from None


def own_weight_acts(sort: str, setup: Mapping[str, Any]) -> bool:
    """The tool's own weight may act here, so it matters whether a tool that shows a torque was zeroed."""
    return sort in LOADED or setup.get("axis") != "vertical"


def _page_field(field: str, points: Sequence[Mapping[str, Any]]) -> str:
    """The field of the set-up page behind a field of the check form."""
    place, _, name = field.rpartition(".")
    if place.startswith("point") and name == "load":
        empty = [i for i, point in enumerate(points) if not point.get("load")]
        number = place.removeprefix("point").strip(" []")
        return f"load_{int(number) - 1 if number.isdigit() else next(iter(empty), 0)}"
    return name if place in ("kit", "place") else field


def setup_payload(ledger: Ledger, body: Body, typed: Mapping[str, str]) -> dict[str, Any]:
    """The full copy that a set-up keeps, not yet looked at by the readers of the form."""
    unit = settings(ledger).unit
    tool, rig = _bodies(ledger, body)
    sort = str(rig["sort"])
    columns = (*SETUP_COLUMNS[sort], *ROOM_COLUMNS, *HANDLING_COLUMNS)
    typed = marked_as(typed, columns, settings(ledger).reads_by)
    setup = {**offered_setup(sort, rig, tool), **setup_table(sort, typed, torque_unit=unit)}
    shelf = here(ledger)
    tool_table = dict(tool["tool"])
    handling = typed_table(typed, HANDLING_COLUMNS, torque_unit=unit)
    if ToolKind(tool_table["kind"]).is_indicating and own_weight_acts(sort, setup):
        if "zeroed_tool" not in handling:
            raise InputRefused("zeroed_tool", None, "want-one-of", names="yes, no")
        tool_table["zeroed"] = handling["zeroed_tool"]
    if "set_each_time" in handling:
        tool_table["set_each_time"] = handling["set_each_time"]
    room = typed_table(typed, ROOM_COLUMNS, torque_unit=unit)
    form: dict[str, Any] = {
        "rule": tool.get("rule") or "guarded",
        "place": {**settings(ledger).place, **room},
        "tool": tool_table,
        "limit": tool["limit"],
        "kit": kit_table(rig, scales=shelf.scales, masses=shelf.masses, setup=setup),
    }
    if "load_time" in handling:
        form["load_time"] = handling["load_time"]
    points = [dict(point) for point in body["choice"]["points"]]
    for i, point in enumerate(points):
        load = typed.get(f"load_{i}", "").strip()
        if load:
            point["load"] = load
    return {"rig": body["choice"]["rig"], "form": form, "points": points}


def exercise(acting: Acting, check: str, typed: Mapping[str, str], *, seen: int | None = None) -> None:
    """Pulls before the first reading, counted; none on purpose is an answer too.

    Raises InputRefused with the field `exercise_pulls`.
    """
    body = open_body(acting.ledger, check)
    text = typed.get("exercise_pulls", "").strip()
    if not (text.isascii() and text.isdigit() and int(text) <= MOST_EXERCISE):
        raise InputRefused("exercise_pulls", text or None, "want-whole", least=0, most=MOST_EXERCISE)
    write_step(acting, body, Kind.EXERCISED, {"pulls": int(text)}, seen)


def fitting_rigs(ledger: Ledger, tool: Body) -> Iterator[Body]:
    """The rigs that a tool can be checked with."""
    yield from (body for body in here(ledger).kits if fits(body, tool))


def _bodies(ledger: Ledger, body: Body) -> tuple[Body, Body]:
    rig = standing(ledger, Subject.RIG, body["choice"]["rig"])
    return standing(ledger, Subject.TOOL, body["tool"]), rig


def _is_chosen(body: Body, rig: str) -> bool:
    return body["choice"] is not None and body["choice"]["rig"] == rig


def _has_pulls(body: Body) -> bool:
    return body["setup"] is not None and any(any(pulls) for pulls in pulls_by_point(body, AS_FOUND))


def write_step(acting: Acting, body: Body, kind: Kind, payload: Mapping[str, Any], seen: int | None) -> Entry:
    """One entry of a check, refused where somebody wrote since the page was drawn. Raises Conflict."""
    subject = Subject.CHECK.named(body["id"])
    (entry,) = acting.write(Draft(kind, subject, payload), seen={subject: known_last(body, seen)})
    return entry


def known_last(body: Body, seen: int | None) -> int:
    """The last entry of a check that what is to be written rests on.

    body: as it was read before; what it says was looked at. seen: as the page knew it, None for as just read.
    """
    last = int(body["last"])
    return last if seen is None else min(seen, last)
