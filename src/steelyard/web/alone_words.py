"""What a scale or a weight knows by itself, in words and as a table."""

from dataclasses import dataclass

from steelyard.desk import MassAlone, ScaleAlone, in_unit
from steelyard.telling import marked
from steelyard.words import say


@dataclass(frozen=True)
class AloneWords:
    """Sentences first; then a table with head and rows, which may be empty."""

    sentences: tuple[str, ...]
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


def alone_words(found: ScaleAlone | MassAlone, *, unit: str, mark: str) -> AloneWords:
    """unit: symbol of the torque unit of the reader. mark: decimal mark of the reader."""
    return _scale(found, mark) if isinstance(found, ScaleAlone) else _mass(found, unit, mark)


def _scale(found: ScaleAlone, mark: str) -> AloneWords:
    quarter, whole = found.quarter_kilogram, found.whole_kilogram
    if quarter is not None and whole is not None:
        reach = say("rig-alone-from", quarter=marked(quarter, mark), whole=marked(whole, mark))
    elif whole is not None:
        reach = say("rig-alone-from-whole", whole=marked(whole, mark))
    else:
        reach = say("rig-alone-from-nowhere")
    rows = tuple(
        (
            say("rig-alone-load", kilogram=marked(known.kilogram, mark)),
            say("rig-ability-percent", percent=marked(known.expanded_percent, mark)),
        )
        for known in found.loads
    )
    head = (say("rig-alone-load-head"), say("rig-ability-knows"))
    return AloneWords((say("rig-alone-scale"), reach), head, rows)


def _mass(found: MassAlone, unit: str, mark: str) -> AloneWords:
    known = say("rig-alone-known", expanded=marked(found.known.expanded_percent, mark))
    rows = tuple(
        (
            say("rig-alone-handle", number=arm.name) if arm.is_handle else arm.name,
            arm.arm,
            say("rig-alone-torque", torque=marked(in_unit(arm.newton_metre, unit), mark), unit=unit),
        )
        for arm in found.arms
    )
    head = (say("rig-alone-arm-head"), say("rig-alone-length-head"), say("rig-ability-torque"))
    missing = () if rows else (say("rig-alone-no-arm"),)
    return AloneWords((say("rig-alone-mass"), known, *missing), head, rows)
