"""When the pulls of a sealed record were read: before the adjuster was turned, between turns, locked."""

from dataclasses import dataclass

from steelyard.desk.ports import Body
from steelyard.records import pulls_by_point


@dataclass(frozen=True)
class ReadWhen:
    """turns: of the adjuster so far. is_locked: after the lock."""

    turns: int
    is_locked: bool


def read_when(body: Body, phase: str, *, target: str, direction: str) -> tuple[ReadWhen, ...]:
    """For each pull of a judged point, in the order they were read."""
    planned = [(point["target"], point["direction"]) for point in body["setup"]["points"]]
    rows = pulls_by_point(body, phase)[planned.index((target, direction))]
    turned = [turn["number"] for turn in body["turns"]]
    lock = (body.get("locked") or {}).get("number")
    return tuple(
        ReadWhen(
            turns=sum(number < row["number"] for number in turned),
            is_locked=lock is not None and lock < row["number"],
        )
        for row in rows
    )
