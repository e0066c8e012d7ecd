"""What hangs, and what should, in words for the pull page and the plan."""

import json
from collections.abc import Mapping
from typing import Any

from steelyard.desk import Hanging, Running, RunningPull, SetupFields
from steelyard.desk.typed_table import as_shown
from steelyard.telling import marked
from steelyard.words import say

OFF_TARGET = 0.005  # of the load: below it nobody hangs anything else for it


def load_words(running: Running, typed: Mapping[str, str], mark: str) -> dict[str, Any]:
    """What the pull page says of loads. typed: the load in each of its fields."""
    hangs = running.hanging
    return {
        "to_hang": what_to_hang(running, mark),
        "last_click": last_click(running),
        "ready_loads": ready_loads(running),
        "sums": {name: sum_said(hangs, text, mark) for name, text in typed.items()},
        "sum_words": sum_words(hangs, mark) if hangs is not None else {},
        "load_in_all": lambda pull: load_in_all(pull, mark),
    }


def kilogram_said(kilogram: float, mark: str) -> str:
    """A load as it is said beforehand: to 10 g, a small one to the gram."""
    return f"{marked(kilogram, mark):.2f}" if kilogram >= 1 else f"{marked(kilogram, mark):.3f}"


def in_all(kilogram: float, always: str, always_kilogram: float, mark: str) -> str:
    """A load in all, and what of it is hung beside what always hangs."""
    said = kilogram_said(kilogram, mark)
    if not always:
        return say("hang-all", kilogram=said)
    beside = kilogram_said(max(kilogram - always_kilogram, 0.0), mark)
    return say("hang-all-beside", kilogram=said, beside=beside, always=always)


def load_hints(fields: SetupFields, mark: str) -> list[str]:
    """What to hang at each planned point, beside the field of its load; empty where nobody can say."""
    zeroed, not_zeroed = fields.planned, fields.planned_not_zeroed
    if not not_zeroed:
        return [_wanted("hang-about", hangs, mark) for hangs in zeroed]
    return [
        f"{_wanted('hang-about-zeroed', one, mark)} {_wanted('hang-about-not-zeroed', other, mark)}".strip()
        for one, other in zip(zeroed, not_zeroed, strict=True)
    ]


def _wanted(code: str, hangs: Hanging, mark: str) -> str:
    wanted = hangs.target_kilogram
    if wanted is None:
        return ""
    return say(code, hang=in_all(wanted, hangs.always, hangs.always_kilogram, mark))


def what_to_hang(running: Running, mark: str) -> list[str]:
    """What to hang at a point: the load that was said, or where a click is expected and how to begin."""
    hangs = running.hanging
    if hangs is None:
        return []
    return (
        _known(running, hangs, mark) if hangs.load else _click(hangs, mark, is_begun=bool(running.last_loads))
    )


def _known(running: Running, hangs: Hanging, mark: str) -> list[str]:
    code = "hang-known-beside" if hangs.always else "hang-known"
    hung, wanted = hangs.load_kilogram or 0.0, hangs.target_kilogram
    lines = [say(code, load=hangs.load, always=hangs.always, kilogram=kilogram_said(hung, mark))]
    if wanted is not None and abs(wanted - hung) > OFF_TARGET * wanted:
        all_of_it = in_all(wanted, hangs.always, hangs.always_kilogram, mark)
        lines.append(say("hang-for-target", target=running.point.target.typed, hang=all_of_it))
    return lines


def _click(hangs: Hanging, mark: str, *, is_begun: bool) -> list[str]:
    if hangs.target_kilogram is None:
        return []
    expected = in_all(hangs.target_kilogram, hangs.always, hangs.always_kilogram, mark)
    lines = [say("hang-click", hang=expected)]
    if hangs.begin_kilogram is not None and not is_begun:
        begin = kilogram_said(hangs.begin_kilogram, mark)
        code = "hang-begin" if hangs.begin else "hang-begin-below"
        lines.append(say(code, load=hangs.begin, kilogram=begin))
    return lines


def last_click(running: Running) -> str:
    """Between which loads it clicked last, or at which; empty before that."""
    loads = [as_shown(load) for load in running.last_loads]
    if len(loads) == 2:
        return say("hang-last-between", no_click=loads[0], click=loads[1])
    return say("hang-last-at", load=loads[0]) if loads else ""


def ready_loads(running: Running) -> list[tuple[str, str, str]]:
    """Loads for one tap: into which field, what, in words. The one to begin with, or of the last click."""
    loads, hangs = running.last_loads, running.hanging
    if len(loads) == 2:
        return [("click", loads[1], say("hang-last-there", load=loads[1]))]
    if hangs is None or not hangs.begin or loads:
        return []
    return [("no_click", hangs.begin, say("hang-begin-there", load=hangs.begin))]


def sum_said(hangs: Hanging | None, text: str, mark: str) -> str:
    """What a load as typed comes to; empty where it cannot be read."""
    kilogram = hangs.sum_kilogram(text) if hangs is not None and text.strip() else None
    if hangs is None or kilogram is None:
        return ""
    return _sum(
        f"{marked(kilogram, mark):.3f}", f"{marked(kilogram + hangs.always_kilogram, mark):.3f}", hangs
    )


def sum_words(hangs: Hanging, mark: str) -> dict[str, str]:
    """What a script needs to say the same while somebody types."""
    known = {
        "mass": dict(hangs.mass_kilogram),
        "scale": dict(hangs.scale_ratio),
        "always": hangs.always_kilogram,
        "mark": mark,
    }
    return {
        "known": json.dumps(known, ensure_ascii=False),
        "sum-words": _sum("{kilogram}", "{all}", hangs),
        "unknown": say("load-sum-unknown", piece="{piece}"),
    }


def _sum(kilogram: str, with_always: str, hangs: Hanging) -> str:
    if not hangs.always:
        return say("load-sum", kilogram=kilogram)
    return say("load-sum-always", kilogram=kilogram, always=hangs.always, all=with_always)


def load_in_all(pull: RunningPull, mark: str) -> str:
    """What hung at a pull, in all; empty where nothing did."""
    if pull.kilogram is None:
        return ""
    kilogram = f"{marked(pull.kilogram, mark):.3f}"
    if not pull.half_step_kilogram:
        return say("pull-load", kilogram=kilogram)
    return say("pull-load-between", kilogram=kilogram, half=f"{marked(pull.half_step_kilogram, mark):.3f}")
