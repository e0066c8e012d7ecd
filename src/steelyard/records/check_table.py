"""From a check as folded to the check form it amounts to, and to how far it has come."""

import math
from collections.abc import Mapping, Sequence
from typing import Any

from steelyard.procedures import Progress
from steelyard.records.fold_check import AS_FOUND, AS_LEFT
from steelyard.records.listing import Body

FEWEST_PULLS = 2


def check_table(body: Body, phase: str, *, person: str | None = None) -> dict[str, Any]:
    """The check form of one phase; points without two counted pulls are left out.

    body: of a check with a kit set up. phase: AS_FOUND or AS_LEFT. person: name of who made it.
    Of TOML types only; `read_table` reads it.
    """
    setup = body["setup"]
    table: dict[str, Any] = {"steelyard_check": 1, **setup["form"]}
    words = {"title": body.get("title"), "date": body["day"], "person": person}
    table.update({key: value for key, value in words.items() if value})
    done = [row["pulls"] for row in body["exercise"] if phase != AS_FOUND or row["number"] < first_turn(body)]
    if done:
        table["exercise_pulls"] = sum(done)
    table["point"] = [
        {**point, "pulls": [pull_as_written(pull) for pull in pulls]}
        for point, pulls in zip(setup["points"], pulls_by_point(body, phase), strict=True)
        if len(counted(pulls)) >= FEWEST_PULLS
    ]
    return table


def pull_as_written(pull: Mapping[str, Any]) -> dict[str, Any]:
    """One pull in the words of the check form."""
    written = dict(pull["pull"])
    if pull["struck_out"] is not None:
        written["struck_out"] = pull["struck_out"]
    return written


def pulls_by_point(body: Body, phase: str) -> tuple[tuple[Mapping[str, Any], ...], ...]:
    """The pulls of a phase, point by point, each in the order they were read."""
    points: list[list[Mapping[str, Any]]] = [[] for _ in body["setup"]["points"]]
    for pull in body["pulls"]:
        if pull["phase"] == phase:
            points[pull["point"]].append(pull)
    return tuple(tuple(point) for point in points)


def counted(pulls: Sequence[Mapping[str, Any]]) -> tuple[Mapping[str, Any], ...]:
    """Those that stand: readings, yes/no answers, and loads that were reached without a click."""
    return tuple(p for p in pulls if p["struck_out"] is None)


def is_set_up(body: Body) -> bool:
    """The kit that was chosen last stands."""
    setup, choice = body["setup"], body["choice"]
    return setup is not None and choice is not None and int(setup["number"]) > int(choice["number"])


def is_complete(body: Body, phase: str) -> bool:
    """Every planned pull of a phase is read, or more yes/no trials would not change the verdict."""
    if body["setup"] is None:
        return False
    planned = [point["planned_pulls"] for point in body["setup"]["points"]]
    return all(
        len(counted(pulls)) >= wanted or is_enough(body, phase, point)
        for point, (pulls, wanted) in enumerate(zip(pulls_by_point(body, phase), planned, strict=True))
    )


def is_enough(body: Body, phase: str, point: int) -> bool:
    """The estimate given last at a point says that it is enough, and nothing was read or struck out since."""
    given = [e for e in body.get("estimates", []) if (e["phase"], e["point"]) == (phase, point)]
    if not given or given[-1].get("enough") is None:
        return False
    pulls = pulls_by_point(body, phase)[point]
    return all(int(pull.get("changed", pull["number"])) < given[-1]["number"] for pull in pulls)


def standing_verdict(body: Body, phase: str) -> Mapping[str, Any] | None:
    """The verdict of a phase that no later pull, strike-out, kit or turn has made stale."""
    said: Mapping[str, Any] | None = body["verdicts"].get(phase)
    if said is None or said["number"] < last_change(body, phase):
        return None
    return said


def first_turn(body: Body) -> float:
    """The entry of the first turn of the adjuster; infinite where there was none."""
    return min((float(row["number"]) for row in body["turns"]), default=math.inf)


def last_change(body: Body, phase: str) -> int:
    """The last entry that a verdict of this phase depends on."""
    numbers = [0, *(step["number"] for step in (body["choice"], body["setup"]) if step is not None)]
    numbers += [pull.get("changed", pull["number"]) for pull in body["pulls"] if pull["phase"] == phase]
    if phase == AS_FOUND:
        numbers += [row["number"] for row in body["exercise"] if row["number"] < first_turn(body)]
    else:
        locked = body.get("locked")
        numbers += [row["number"] for row in body["turns"]] + ([locked["number"]] if locked else [])
    return max(int(number) for number in numbers)


def progress_of(body: Body) -> Progress:
    """How far a check has come."""
    look, found, left = body["look"], standing_verdict(body, AS_FOUND), standing_verdict(body, AS_LEFT)
    return Progress(
        is_looked_over=look is not None,
        is_stopped=look is not None and look["damaged"] and not look["goes_on"],
        is_kit_chosen=body["choice"] is not None,
        is_set_up=is_set_up(body),
        is_exercised=bool(body["exercise"]),
        found=found is not None or is_complete(body, AS_FOUND),
        found_judged=found is not None,
        verdict=found["verdict"] if found is not None else None,
        is_turned=bool(body["turns"]),
        is_waived=body["waived"] is not None,
        left=left is not None or is_complete(body, AS_LEFT),
        left_judged=left is not None,
        is_closed=body["closed"] is not None,
    )
