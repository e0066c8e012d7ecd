"""What an adapter or another insert head between tool and bolt does to the torque.

The formulas are plain, for floats, complex numbers and arrays; `check_adapter` and `check_insert` refuse what
they do not hold for.
"""

from math import isfinite
from typing import Any

from steelyard.errors import InputRefused


def setting_with_adapter(torque: Any, *, tool_length_metre: Any, adapter_metre: Any, cosine: Any) -> Any:
    """What to set on the tool, so that the bolt behind the adapter gets a torque.

    torque: wanted at the bolt, in any unit; the result is in the same.
    tool_length_metre: drive axis to the grip mark, L. [m] > 0
    adapter_metre: drive axis to the bolt's axis, E. [m] ≥ 0
    cosine: of the angle φ between tool and adapter: 1 straight out, 0 at 90°, −1 folded back.
    Returns T·L/(L + E·cos φ).
    Source: TM 1-1500-204-23-9, fig. 8-16; lever law.
    Left out: pulling away from the grip mark, the pivot of a click head, bending of the adapter, own weight.
    """
    return torque * tool_length_metre / (tool_length_metre + adapter_metre * cosine)


def torque_with_adapter(setting: Any, *, tool_length_metre: Any, adapter_metre: Any, cosine: Any) -> Any:
    """What the bolt behind the adapter gets at a setting: `setting_with_adapter` the other way round."""
    return setting * (tool_length_metre + adapter_metre * cosine) / tool_length_metre


def setting_with_insert(
    torque: Any, *, tool_length_metre: Any, standoff_metre: Any, reference_standoff_metre: Any
) -> Any:
    """What to set on a tool whose head is not the one it was adjusted with.

    torque: wanted at the bolt, in any unit; the result is in the same.
    tool_length_metre: bolt axis to the grip mark with the reference insert, L. [m] > 0
    standoff_metre, reference_standoff_metre: seat of the insert to the bolt axis, of this insert and of the
        one the tool was adjusted with. [m] ≥ 0
    Returns T·L/(L + s − s_ref).
    Source: lever law, as for an adapter that is as long as the difference. Left out: as there.
    """
    longer = standoff_metre - reference_standoff_metre
    return setting_with_adapter(torque, tool_length_metre=tool_length_metre, adapter_metre=longer, cosine=1)


def torque_with_insert(
    setting: Any, *, tool_length_metre: Any, standoff_metre: Any, reference_standoff_metre: Any
) -> Any:
    """What the bolt gets at a setting: `setting_with_insert` the other way round."""
    longer = standoff_metre - reference_standoff_metre
    return torque_with_adapter(setting, tool_length_metre=tool_length_metre, adapter_metre=longer, cosine=1)


def check_adapter(
    *, tool_length_metre: float, adapter_metre: float, cosine: float, flexes: bool = False
) -> None:
    """Raises InputRefused where the lever law does not give what an adapter does.

    tool_length_metre, adapter_metre, cosine: as for `setting_with_adapter`.
    flexes: a flex joint between tool and bolt: the angle is not known under load.
    Refused are a flex joint, a length that is not above zero, an adapter shorter than nothing, and one that
    reaches back to the hand or beyond it (L + E·cos φ ≤ 0).
    """
    if flexes:
        raise InputRefused("adapter", "flex joint", "want-stiff-adapter")
    _check_length("tool, length", tool_length_metre)
    if not (isfinite(adapter_metre) and adapter_metre >= 0):
        raise InputRefused(
            "adapter, length", f"{adapter_metre:g} m", "want-not-negative", what="length", example="50 mm"
        )
    if not tool_length_metre + adapter_metre * cosine > 0:
        raise InputRefused("adapter, length", f"{adapter_metre:g} m", "want-adapter-before-hand")


def check_insert(*, tool_length_metre: float, standoff_metre: float, reference_standoff_metre: float) -> None:
    """Raises InputRefused where the lengths leave no lever; terms as in `setting_with_insert`."""
    _check_length("tool, length", tool_length_metre)
    for name, standoff in (("insert", standoff_metre), ("reference insert", reference_standoff_metre)):
        if not (isfinite(standoff) and standoff >= 0):
            raise InputRefused(
                f"{name}, stand-off", f"{standoff:g} m", "want-not-negative", what="length", example="17.5 mm"
            )
    if not tool_length_metre + standoff_metre - reference_standoff_metre > 0:
        raise InputRefused("insert, stand-off", f"{standoff_metre:g} m", "want-adapter-before-hand")


def _check_length(field: str, metre: float) -> None:
    if not (isfinite(metre) and metre > 0):
        raise InputRefused(field, f"{metre:g} m", "want-positive", what="length", example="450.5 mm")
