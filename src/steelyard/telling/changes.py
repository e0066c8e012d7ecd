"""What a turn of the adjuster, or its lock, did to the points, in one line."""

from collections.abc import Mapping, Sequence
from typing import Any

from steelyard.telling.marks import marked
from steelyard.words import say


def way_said(turn: Mapping[str, Any]) -> str:
    """Which way a turn was made, with what was written first where that was put right or asked about."""
    way = say(f"way-{turn['way']}")
    if turn["way"] != turn.get("written", turn["way"]):
        return say("adjust-way-corrected", way=way, written=say(f"way-{turn['written']}"))
    return say("adjust-way-stands", way=way) if turn.get("stands") else way


def changes_said(
    names: Sequence[str],
    changes: Sequence[float | None],
    mark: str,
    *,
    within: Sequence[float | None] = (),
) -> str:
    """What each point was moved by, with its ± where there is one; those that were not read left out."""
    is_one_way = len({name.rpartition(" ")[2] for name in names}) == 1
    said = []
    for i, (name, change) in enumerate(zip(names, changes, strict=False)):
        if change is None:
            continue
        percent, reach = f"{marked(round(change, 1) + 0.0, mark):+.1f}", within[i] if within else None
        if reach is not None:
            percent = say("adjust-within", percent=percent, within=f"{marked(reach, mark):.1f}")
        short = name.rpartition(" ")[0] if is_one_way else point_name(name)
        said.append(say("adjust-did-row", point=short, percent=percent))
    return "; ".join(said)


def point_name(name: str) -> str:
    """A point with its direction as a whole word."""
    target, _, direction = name.rpartition(" ")
    return f"{target} {say(f'direction-{direction}')}"
