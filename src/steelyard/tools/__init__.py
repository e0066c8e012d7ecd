"""Torque tools: kinds, the limits they are held to, and what an adapter does to a setting.

In: what is written on the tool and in its limit. Out: `Kind`, `Limit`, `Measure`; settings with adapters.
Refuses: an adapter on a flex joint, one that reaches back to the hand.
"""

from steelyard.tools.adapters import (
    check_adapter,
    check_insert,
    setting_with_adapter,
    setting_with_insert,
    torque_with_adapter,
    torque_with_insert,
)
from steelyard.tools.kinds import Kind
from steelyard.tools.limits import Limit, Measure
from steelyard.tools.tool import Tool

__all__ = [
    "Kind",
    "Limit",
    "Measure",
    "Tool",
    "check_adapter",
    "check_insert",
    "setting_with_adapter",
    "setting_with_insert",
    "torque_with_adapter",
    "torque_with_insert",
]
