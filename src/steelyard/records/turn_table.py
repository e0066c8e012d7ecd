"""From a check as folded to the check form with its turns: what was read between them and after the lock."""

import math
from collections.abc import Mapping, Sequence
from typing import Any

from steelyard.records.check_table import check_table, pull_as_written
from steelyard.records.fold_check import AS_FOUND, AS_LEFT
from steelyard.records.listing import Body


def adjusted_table(
    body: Body, struck_by_turning: Sequence[str], *, person: str | None = None
) -> dict[str, Any]:
    """The check form as found, followed by every turn and the lock.

    struck_by_turning: reasons that a turn or a lock itself gave for striking out; they are not written, since
    the turn says them again. Of TOML types only; `read_table` reads it.
    """
    table = check_table(body, AS_FOUND, person=person)
    locked = body.get("locked")
    ends = [*(turn["number"] for turn in body["turns"][1:]), locked["number"] if locked else math.inf]
    turned = [
        {
            "turns": turn["turns"],
            "way": turn["way"],
            **_note(turn),
            **_points(body, turn["number"], end, struck_by_turning),
        }
        for turn, end in zip(body["turns"], ends, strict=True)
    ]
    if locked:
        read = _points(body, locked["number"], math.inf, struck_by_turning)
        turned.append({"locked": True, **_note(locked), **read})
    return {**table, "turn": turned} if turned else table


def _note(step: Mapping[str, Any]) -> dict[str, str]:
    return {"note": step["note"]} if step["note"] else {}


def _points(body: Body, after: float, before: float, left_out: Sequence[str]) -> dict[str, Any]:
    """What was read as left between two entries, point by point."""
    found: list[dict[str, Any]] = []
    for i, point in enumerate(body["setup"]["points"]):
        pulls = [
            pull_as_written({**pull, "struck_out": None} if pull["struck_out"] in left_out else pull)
            for pull in body["pulls"]
            if pull["phase"] == AS_LEFT and pull["point"] == i and after < pull["number"] < before
        ]
        if pulls:
            kept = {key: value for key, value in point.items() if key != "planned_pulls"}
            found.append({**kept, "pulls": pulls})
    return {"point": found} if found else {}
