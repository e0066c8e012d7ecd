"""Which kits and tools are made up: kinds of rig, the parts of their ±, and how wide each part is."""

import math
from collections.abc import Mapping
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np


class RigKind(StrEnum):
    """Kinds of rig, each with the tool that is measured on it.

    KNOWN_MASSES: a dial wrench read under hung known masses. BUCKET: a click wrench, water poured, the
    bucket weighed on a force-type scale. STEPS: a click wrench, load added in steps. PAPER, STATED: a click
    wrench on a transducer with a paper, or with a stated accuracy. BEAM: a beam wrench read against known
    weights.
    """

    KNOWN_MASSES = "known-masses"
    BUCKET = "bucket"
    STEPS = "steps"
    PAPER = "paper"
    STATED = "stated"
    BEAM = "beam"


class Part(StrEnum):
    """What may make most of the ±.

    SETTING: one setting for all pulls; SETTING_EACH: set afresh for each. DISPLAY: the last digit or
    graduation of what is read: of the tool, the scale or the transducer. STEP: of a load added in steps.
    """

    ARM = "arm"
    LOAD = "load"
    OWN = "own"
    PIVOT = "pivot"
    DROOP = "droop"
    SPREAD = "spread"
    SETTING = "setting"
    SETTING_EACH = "setting-each"
    DISPLAY = "display"
    STEP = "step"
    PAPER = "paper"
    STATED = "stated"


_HUNG = (Part.ARM, Part.LOAD, Part.OWN, Part.DROOP, Part.SPREAD)
_SET = (Part.SETTING, Part.SETTING_EACH)
_ON_TRANSDUCER = (Part.OWN, Part.SPREAD, *_SET, Part.DISPLAY)
PARTS: Mapping[RigKind, tuple[Part, ...]] = {
    RigKind.KNOWN_MASSES: (*_HUNG, Part.PIVOT, Part.DISPLAY),
    RigKind.BUCKET: (*_HUNG, Part.PIVOT, *_SET, Part.DISPLAY),
    RigKind.STEPS: (*_HUNG, Part.PIVOT, *_SET, Part.STEP),
    RigKind.PAPER: (*_ON_TRANSDUCER, Part.PAPER),
    RigKind.STATED: (*_ON_TRANSDUCER, Part.STATED),
    RigKind.BEAM: (*_HUNG, Part.DISPLAY),
}

USUAL: Mapping[Part, float] = {
    Part.ARM: 0.0045,
    Part.LOAD: 0.003,
    Part.OWN: 0.05,
    Part.PIVOT: 0.02,
    Part.DROOP: math.radians(3),
    Part.SPREAD: 0.004,
    Part.SETTING: 0.008,
    Part.SETTING_EACH: 0.008,
    Part.DISPLAY: 0.003,
    Part.STEP: 0.004,
    Part.PAPER: 0.0025,
    Part.STATED: 0.01,
}
"""Usual width of each part, as a ratio of what it is part of; the pivot in m, the droop in rad.

A half-width; for the spread and the paper a standard deviation. Our own choice: a careful shop.
"""

WIDE: Mapping[Part, float] = {
    Part.ARM: 0.02,
    Part.LOAD: 0.02,
    Part.OWN: 0.30,
    Part.PIVOT: 0.02,
    Part.DROOP: math.radians(9),
    Part.SPREAD: 0.012,
    Part.SETTING: 0.02,
    Part.SETTING_EACH: 0.02,
    Part.DISPLAY: 0.02,
    Part.STEP: 0.02,
    Part.PAPER: 0.01,
    Part.STATED: 0.02,
}
"""Width of the part that dominates a cell, counted as in `USUAL`."""

NARROWED = 0.2  # of the usual width: every other part of a cell that one part dominates
APART = 3.0  # times more or less than usual: how far widths differ over the whole population

Widths = Mapping[Part, float]


def dominated_by(part: Part) -> Widths:
    """Widths of a cell in which one part makes most of the ±. A tool is set once or each time, never both."""
    widths = {each: NARROWED * usual for each, usual in USUAL.items()}
    return {**_one_setting(widths, each_time=part is Part.SETTING_EACH), part: WIDE[part]}


def drawn_widths(generator: "np.random.Generator") -> Widths:
    """Widths of one case of the whole population, each log-uniform about its usual one; pivot ≤ 20 mm."""
    factors = APART ** generator.uniform(-1.0, 1.0, len(USUAL))
    widths = {part: usual * float(f) for (part, usual), f in zip(USUAL.items(), factors, strict=True)}
    widths[Part.PIVOT] = min(widths[Part.PIVOT], USUAL[Part.PIVOT])
    return _one_setting(widths, each_time=bool(generator.random() < 0.5))


def _one_setting(widths: dict[Part, float], *, each_time: bool) -> dict[Part, float]:
    off = Part.SETTING if each_time else Part.SETTING_EACH
    return {**widths, off: 0.0}
