"""What to set on a tool with an adapter or another insert head, or what the bolt gets at a setting."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from steelyard.desk.answer import Answer, Said
from steelyard.desk.figures import Known, about_within, figure, known, numbered
from steelyard.desk.typed_lines import any_line, asked_as, line_above_zero, line_from_zero, typed
from steelyard.errors import InputRefused
from steelyard.findings import Finding, Severity
from steelyard.quantities import Dimension, Line, Unit
from steelyard.tools import (
    check_adapter,
    check_insert,
    setting_with_adapter,
    setting_with_insert,
    torque_with_adapter,
    torque_with_insert,
)

IN_RANGE = Finding("caution-in-range", Severity.NOTE)
STRAIGHT, FLEX = "0°", "flex joint"
RIGHT_ANGLE_COSINE = 1e-9


@dataclass(frozen=True, slots=True)
class _Asked:
    """The torque that was given and which of the two it is."""

    line: Line
    unit: Unit
    is_wanted: bool


def reckon_adapter(
    *,
    tool_length: str | None,
    adapter: str | None,
    angle: str | None = None,
    wanted: str | None = None,
    setting: str | None = None,
    flexes: bool = False,
) -> Answer:
    """What to set for a wanted torque, or what the bolt gets at a setting.

    tool_length: drive axis to the grip mark; adapter: drive axis to the bolt. Both as typed, perhaps with ±.
    angle: between tool and adapter; None: straight out. wanted, setting: exactly one of them.
    flexes: a flex joint in between, which is refused.
    Returns the torque first. Numbers: `setting_newton_metre`, `torque_newton_metre`, their `within`.
    Raises InputRefused for what cannot be read and for an adapter that leaves no lever.
    Source and left out: `tools.adapters`.
    """
    asked = _asked(wanted, setting)
    length = line_above_zero(tool_length, Dimension.LENGTH, field="--tool-length", name="tool-length")
    reach = line_from_zero(adapter, Dimension.LENGTH, field="--adapter", name="adapter-length")
    turn = any_line(angle or STRAIGHT, Dimension.ANGLE, field="--angle", name="adapter-angle")
    cosine = math.cos(turn.value)
    with asked_as("--flexes" if flexes else "--adapter", FLEX if flexes else adapter):
        check_adapter(tool_length_metre=length.value, adapter_metre=reach.value, cosine=cosine, flexes=flexes)
    formula = setting_with_adapter if asked.is_wanted else torque_with_adapter

    def model(maths: Any, torque: Any, tool: Any, beyond: Any, phi: Any) -> Any:
        return formula(torque, tool_length_metre=tool, adapter_metre=beyond, cosine=maths.cos(phi))

    lever = Known(length.value + reach.value * cosine)
    said = _lever("reckon-adapter-lever", Known(length.value), lever, tool_length)
    if abs(cosine) < RIGHT_ANGLE_COSINE:
        said = "reckon-adapter-square", {}
    return _answer(asked, model, (asked.line, length, reach, turn), said=said)


def reckon_insert(
    *,
    tool_length: str | None,
    standoff: str | None,
    reference_standoff: str | None,
    wanted: str | None = None,
    setting: str | None = None,
) -> Answer:
    """The same for another insert head.

    tool_length: bolt axis to the grip mark with the insert the tool was adjusted with.
    standoff, reference_standoff: seat to bolt axis, of this insert and of that one.
    Others as in `reckon_adapter`.
    """
    asked = _asked(wanted, setting)
    length = line_above_zero(tool_length, Dimension.LENGTH, field="--tool-length", name="tool-length")
    this = line_from_zero(standoff, Dimension.LENGTH, field="--standoff", name="insert-standoff")
    usual = line_from_zero(
        reference_standoff, Dimension.LENGTH, field="--reference-standoff", name="reference-standoff"
    )
    with asked_as("--standoff", standoff):
        check_insert(
            tool_length_metre=length.value,
            standoff_metre=this.value,
            reference_standoff_metre=usual.value,
        )
    formula = setting_with_insert if asked.is_wanted else torque_with_insert

    def model(_maths: Any, torque: Any, tool: Any, new: Any, old: Any) -> Any:
        return formula(torque, tool_length_metre=tool, standoff_metre=new, reference_standoff_metre=old)

    lever = Known(length.value + this.value - usual.value)
    said = _lever("reckon-insert-lever", Known(length.value), lever, tool_length)
    return _answer(asked, model, (asked.line, length, this, usual), said=said)


def _asked(wanted: str | None, setting: str | None) -> _Asked:
    if (wanted is None) == (setting is None):
        raise InputRefused("--wanted", wanted, "want-reckon-torque")
    field, text = ("--wanted", wanted) if setting is None else ("--setting", setting)
    value, _ = typed(text, Dimension.TORQUE, field=field)
    line = line_above_zero(text, Dimension.TORQUE, field=field, name="torque")
    return _Asked(line, value.unit, wanted is not None)


def _lever(code: str, before: Known, after: Known, tool_length: str | None) -> Said:
    value, _ = typed(tool_length, Dimension.LENGTH, field="--tool-length")
    return code, {"before": figure(before, value.unit), "after": figure(after, value.unit)}


def _answer(asked: _Asked, model: Callable[..., Any], lines: tuple[Line, ...], *, said: Said) -> Answer:
    result = known(model, lines)
    given = figure(Known(asked.line.value, asked.line.width or None), asked.unit)
    code, name = ("reckon-set", "setting") if asked.is_wanted else ("reckon-gets", "torque")
    first: Said = (code, {"given": given, "result": figure(result, asked.unit)})
    other = "torque" if asked.is_wanted else "setting"
    numbers = numbered(name, result, "newton_metre") | {f"{other}_newton_metre": asked.line.value}
    return Answer((first, said, about_within(lines)), numbers, (IN_RANGE,))
