"""Limits and tables others have published, each with its document, edition and clause, or the word "memory".

In: a class, a nominal value, a load, a kind of tool, as the document names them.
Out: limits (± of a weight, a scale, a torque tool), densities as a `Line`, figures of common practice; all
with a source, and where a choice is our own it says so.
Refuses: a class, value or kind the document does not cover.
A figure marked "memory" is recalled, not read in the document: show it so, claim no conformity with it.
"""

from steelyard.published.densities import Material, load_materials, material_density
from steelyard.published.practice import (
    EXERCISE_INDICATING,
    EXERCISE_SETTING,
    HAND_LIFT,
    LOAD_TIME,
    PAUSE,
    REFERENCE_SHARE,
    ROOM_CHANGE,
    ROOM_TEMPERATURE,
    Custom,
)
from steelyard.published.scales import (
    HOUSEHOLD_SCALE_SOURCE,
    LEGAL_SCALE_SOURCE,
    household_limit_kilogram,
    scale_limit_kilogram,
)
from steelyard.published.source import Source
from steelyard.published.torque_limits import (
    TOOL_KINDS,
    PublishedLimit,
    published_limit,
    published_limit_codes,
)
from steelyard.published.weights import (
    CASTING_SOURCE,
    DISC_SOURCE,
    WEIGHT_SOURCE,
    casting_limit_kilogram,
    disc_limit_kilogram,
    weight_classes,
    weight_limit_kilogram,
)

__all__ = [
    "CASTING_SOURCE",
    "DISC_SOURCE",
    "EXERCISE_INDICATING",
    "EXERCISE_SETTING",
    "HAND_LIFT",
    "HOUSEHOLD_SCALE_SOURCE",
    "LEGAL_SCALE_SOURCE",
    "LOAD_TIME",
    "PAUSE",
    "REFERENCE_SHARE",
    "ROOM_CHANGE",
    "ROOM_TEMPERATURE",
    "TOOL_KINDS",
    "WEIGHT_SOURCE",
    "Custom",
    "Material",
    "PublishedLimit",
    "Source",
    "casting_limit_kilogram",
    "disc_limit_kilogram",
    "household_limit_kilogram",
    "load_materials",
    "material_density",
    "published_limit",
    "published_limit_codes",
    "scale_limit_kilogram",
    "weight_classes",
    "weight_limit_kilogram",
]
