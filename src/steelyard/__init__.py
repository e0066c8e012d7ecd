"""Steelyard: what torque a hand torque tool really delivers, how sure that is, and whether it is good enough.

The names below are the program's own core, the same that the command line uses; docs/reference/python.md
shows five short examples. They are loaded when first used, so that the import costs next to nothing.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from steelyard.desk import ask_kit, check_content, judge_check
    from steelyard.errors import InputRefused, NotFound, SteelyardError
    from steelyard.evaluation import first_order, first_order_many, monte_carlo, repeats, second_order
    from steelyard.findings import Finding
    from steelyard.quantities import Dimension, Line, Quantity, Shape, read_quantity, read_within
    from steelyard.surroundings import local_gravity
    from steelyard.tools import setting_with_adapter
    from steelyard.words import say

HOMES = {
    "ask_kit": "desk",
    "check_content": "desk",
    "judge_check": "desk",
    "InputRefused": "errors",
    "NotFound": "errors",
    "SteelyardError": "errors",
    "first_order": "evaluation",
    "first_order_many": "evaluation",
    "monte_carlo": "evaluation",
    "repeats": "evaluation",
    "second_order": "evaluation",
    "Finding": "findings",
    "Dimension": "quantities",
    "Line": "quantities",
    "Quantity": "quantities",
    "Shape": "quantities",
    "read_quantity": "quantities",
    "read_within": "quantities",
    "local_gravity": "surroundings",
    "setting_with_adapter": "tools",
    "say": "words",
}

__all__ = [
    "Dimension",
    "Finding",
    "InputRefused",
    "Line",
    "NotFound",
    "Quantity",
    "Shape",
    "SteelyardError",
    "ask_kit",
    "check_content",
    "first_order",
    "first_order_many",
    "judge_check",
    "local_gravity",
    "monte_carlo",
    "read_quantity",
    "read_within",
    "repeats",
    "say",
    "second_order",
    "setting_with_adapter",
]


def __getattr__(name: str) -> Any:
    """A public name, from its room."""
    if name not in HOMES:
        raise AttributeError(f"module 'steelyard' has no attribute '{name}'")
    return getattr(import_module(f"steelyard.{HOMES[name]}"), name)
