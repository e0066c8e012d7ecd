"""A check in a file that was adjusted: guidance from it, and its turns as the entries of a check."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from steelyard.desk.acting import Acting
from steelyard.desk.adjusting import lock_adjuster, turn_adjuster
from steelyard.desk.cases import ready_point
from steelyard.desk.check import JudgedCheck, judge_form
from steelyard.desk.content import check_content
from steelyard.desk.file_points import kept_pulls, plain, planned_point, pull_texts
from steelyard.desk.guide import Guide, guide
from steelyard.desk.ports import Body
from steelyard.desk.turn_words import unguided_code
from steelyard.errors import InputRefused
from steelyard.records import (
    AS_FOUND,
    AS_LEFT,
    CheckForm,
    Draft,
    Kind,
    Subject,
    TurnForm,
    form_table,
    read_table,
)

ABOUT_THE_CHECK = ("point", "turn", "title", "date", "person", "steelyard_check", "exercise_pulls")
FEWEST = 2  # pulls that make a point as left


@dataclass(frozen=True)
class GuidedFile:
    """A file with turns: the check as found, and what to do at the adjuster now.

    guide: None where no point has a limit and readings; unguided: why, as the code of a sentence.
    """

    judged: JudgedCheck
    guide: Guide | None
    unguided: str


def guide_file(content: bytes) -> GuidedFile:
    """Guidance from a check in a file, with the turns that it tells of.

    content: a check form. Raises InputRefused with the field.
    """
    table = plain(form_table(content))
    form = read_table(table)
    if not all(point.pulls for point in form.points):
        raise InputRefused("point", None, "want-pulls")
    judged = judge_form(form)
    body = _body(table, form, judged)
    return GuidedFile(judged, guide(None, body), unguided_code(body))


def left_form(form: CheckForm) -> CheckForm | None:
    """The same check as left, by what was read after the last turn or lock; None where that is too little."""
    points = form.turns[-1].points if form.turns else ()
    read = tuple(p for p in points if sum(pull.pull.struck_out is None for pull in p.pulls) >= FEWEST)
    return replace(form, points=read, turns=()) if read else None


def judge_left(judged: JudgedCheck) -> JudgedCheck | None:
    """The same check judged as left; None where nothing was turned, or too little was read after it."""
    form = left_form(judged.form)
    return judge_form(form) if form is not None else None


def turns_content(judged: JudgedCheck, left: JudgedCheck | None) -> dict[str, Any]:
    """What a file with turns adds to the content of the check; nothing where nothing was turned.

    left: as `judge_left` gives it.
    """
    if not judged.form.turns:
        return {}
    turns = [
        {"turns": turn.turns, "way": turn.way, "locked": turn.is_locked, "note": turn.note}
        for turn in judged.form.turns
    ]
    return {"turns": turns, "as_left": check_content(left) if left is not None else None}


def refuse_turns(form: CheckForm) -> None:
    """Everything that keeping the turns would refuse. Raises InputRefused with the field."""
    for turn in form.turns:
        for point in turn.points:
            ready_point(form, point)
    if form.turns and left_form(form) is None:
        raise InputRefused("turn", None, "want-left-pulls")


def keep_turns(acting: Acting, check: str, table: Mapping[str, Any], form: CheckForm) -> None:
    """Every turn, lock and pull after it as entries, in their order; a repeated submission writes nothing."""
    subject = Subject.CHECK.named(check)
    for i, (written, turn) in enumerate(zip(table["turn"], form.turns, strict=True)):
        if turn.turns is not None:
            typed = {"turns": turn.turns, "way": str(turn.way), "turn_note": _note(turn, locks=False)}
            turn_adjuster(_part(acting, f"turn{i}"), check, typed)
        if turn.is_locked:
            lock_adjuster(_part(acting, f"lock{i}"), check, {"lock_note": _note(turn, locks=True)})
        pulls = [Draft(Kind.PULL_READ, subject, pull) for pull in _read(table, written, turn, phase=AS_LEFT)]
        if pulls:
            _part(acting, f"left{i}").write(*pulls)


def turns_said(table: Mapping[str, Any]) -> list[dict[str, Any]]:
    """The turns however they are written: a lock stands for itself, pulls are taken apart."""
    said: list[dict[str, Any]] = []
    for turn in table.get("turn", []):
        read = [_point_said(table, point) for point in turn.get("point", [])]
        is_both = bool(turn.get("turns")) and bool(turn.get("locked"))
        if turn.get("turns"):
            note = None if is_both else turn.get("note")
            kept = [] if is_both else read
            said.append({"turns": turn["turns"], "way": turn["way"], "note": note, "point": kept})
        if turn.get("locked"):
            said.append({"locked": True, "note": turn.get("note"), "point": read})
    return said


def _point_said(table: Mapping[str, Any], point: Mapping[str, Any]) -> dict[str, Any]:
    direction = planned_point(table, point)["direction"]
    return {"target": point["target"], "direction": direction, "pulls": pull_texts(table, point)}


def _note(turn: TurnForm, *, locks: bool) -> str:
    """The note, to the turn, or to the lock where there is one."""
    return (turn.note or "") if locks is turn.is_locked else ""


def _read(
    table: Mapping[str, Any], written: Mapping[str, Any], turn: TurnForm, *, phase: str
) -> Iterator[dict[str, Any]]:
    for point, place in zip(written.get("point", []), turn.places, strict=True):
        yield from kept_pulls(table, point, place=place, phase=phase)


def _part(acting: Acting, part: str) -> Acting:
    return acting if acting.submission is None else replace(acting, submission=f"{acting.submission}.{part}")


def _body(table: Mapping[str, Any], form: CheckForm, judged: JudgedCheck) -> Body:
    """What a check with these entries would be folded to, as far as guidance looks at it."""
    rows = [
        row
        for i, point in enumerate(table["point"])
        for row in kept_pulls(table, point, place=i, phase=AS_FOUND)
    ]
    pulls: list[dict[str, Any]] = [{"number": 1 + i, **row} for i, row in enumerate(rows)]
    number = len(pulls) + 1
    said = {"number": number, "verdict": judged.verdict.value, "content": check_content(judged)}
    turns: list[dict[str, Any]] = []
    locked: dict[str, Any] | None = None
    for written, turn in zip(table.get("turn", []), form.turns, strict=True):
        if turn.turns is not None:
            number, locked = number + 1, None
            turns.append({"number": number, "turns": turn.turns, "way": turn.way, "note": turn.note})
        if turn.is_locked:
            number += 1
            locked = {"number": number, "note": turn.note}
        for row in _read(table, written, turn, phase=AS_LEFT):
            number += 1
            pulls.append({"number": number, **row})
    setup = {
        "number": 0,
        "form": {key: value for key, value in table.items() if key not in ABOUT_THE_CHECK},
        "points": _planned(table),
    }
    return {
        "id": "",
        "first": form.seed,
        "day": form.day.isoformat(),
        "choice": None,
        "setup": setup,
        "exercise": [],
        "pulls": pulls,
        "verdicts": {AS_FOUND: said},
        "turns": turns,
        "locked": locked,
    }


def _planned(table: Mapping[str, Any]) -> Sequence[dict[str, Any]]:
    return [planned_point(table, point) for point in table["point"]]
