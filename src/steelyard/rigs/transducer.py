"""A torque transducer or digital adapter as a reference: its paper, its own errors, zero and axis."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from steelyard.errors import InputRefused
from steelyard.quantities import Line, Shape
from steelyard.rigs.hung_weight import OwnWeight
from steelyard.rigs.reference import Reference


class PaperStates(StrEnum):
    """What the numbers in a paper mean.

    ERROR: indication error q = (I − T)/T. CORRECTION: c = (T − I)/I. TORQUE: the torque T at an indication I.
    """

    ERROR = "error"
    CORRECTION = "correction"
    TORQUE = "torque"


@dataclass(frozen=True, slots=True)
class PaperRow:
    """One row: at which indication, what is stated there, and its expanded uncertainty.

    indication_newton_metre: zero taken off. [N m] > 0
    stated: a ratio for ERROR and CORRECTION, a torque for TORQUE. [1] or [N m]
    expanded_ratio: U of the row as a ratio of the torque; coverage: its k.
    """

    indication_newton_metre: float
    stated: float
    expanded_ratio: float
    coverage: float


@dataclass(frozen=True, slots=True)
class Paper:
    """What a laboratory wrote about a transducer: rows in rising order of indication."""

    states: PaperStates
    rows: tuple[PaperRow, ...]

    def reaches(self, indication_newton_metre: float) -> bool:
        """The indication lies between the first and the last row."""
        first, last = self.rows[0], self.rows[-1]
        return first.indication_newton_metre <= indication_newton_metre <= last.indication_newton_metre


@dataclass(frozen=True, slots=True)
class Transducer:
    """One transducer as it is used.

    paper: None where it has none; then the stated accuracy must say how good it is.
    stated_of_reading, stated_of_full_scale: stated accuracy, rectangular, one error for all points; beside a
        paper it speaks only where the paper does not reach. [1], [N m]
    others: drift since the paper, hysteresis, temperature, mounting: errors as a ratio of the torque. [1]
    resolution: of zero and reading together. [N m]
    """

    paper: Paper | None
    stated_of_reading: Line | None
    stated_of_full_scale: Line | None
    others: tuple[Line, ...]
    resolution: Line


class OwnActs(StrEnum):
    """What the tool's own weight does to the reading.

    NOT: drive axis vertical, or zeroed before the tool went on. ADDS, TAKES: zeroed with the tool on, axis
    horizontal, pulled down or up. UNKNOWN: either may be.
    """

    NOT = "not"
    ADDS = "adds"
    TAKES = "takes"
    UNKNOWN = "unknown"


class Axis(StrEnum):
    """How the drive axis lies while measuring."""

    VERTICAL = "vertical"
    HORIZONTAL = "horizontal"
    UNKNOWN = "unknown"


class Zeroed(StrEnum):
    """When the transducer was zeroed: before the tool went on, or with the tool on it."""

    BEFORE_TOOL = "before-tool"
    WITH_TOOL = "with-tool"
    UNKNOWN = "unknown"


class PullWay(StrEnum):
    """Which way the end of the handle moves, axis horizontal."""

    DOWN = "down"
    UP = "up"


OWN_SIGN = {OwnActs.NOT: 0, OwnActs.ADDS: 1, OwnActs.TAKES: -1, OwnActs.UNKNOWN: 0}


def how_own_acts(axis: Axis, zeroed: Zeroed, *, pull: PullWay | None, is_tool_zeroed: bool) -> OwnActs:
    """What the tool's own weight does to the comparison of tool and transducer.

    pull: needed where the weight acts. is_tool_zeroed: the tool shows torque and was zeroed in position, too.
    Raises InputRefused where the weight acts and nobody said which way the arm was pulled.
    Source: own derivation, docs/explanation/transducer.md.
    """
    if axis is Axis.VERTICAL:
        return OwnActs.NOT
    if axis is Axis.UNKNOWN or zeroed is Zeroed.UNKNOWN:
        return OwnActs.UNKNOWN
    if (zeroed is Zeroed.WITH_TOOL) == is_tool_zeroed:
        return OwnActs.NOT
    if pull is None:
        raise InputRefused("kit.pull", None, "want-pull")
    return OwnActs.ADDS if (pull is PullWay.DOWN) == (zeroed is Zeroed.WITH_TOOL) else OwnActs.TAKES


def transducer_reference(
    transducer: Transducer,
    indication_newton_metre: float,
    *,
    own: OwnWeight | None,
    own_acts: OwnActs,
    gravity: Line,
    droop: Line,
) -> Reference:
    """The torque behind an indication, as a model of that indication with the zero taken off.

    indication_newton_metre: about which the paper is read. [N m] > 0
    own, own_acts: the tool's own weight and what it does; own may be None only where it does NOT act.
    gravity, droop: of shop and arm, for the own weight. [m/s²], [rad]
    Raises InputRefused where the paper does not reach this indication.
    Source: GUM-style product model, own derivation, docs/explanation/transducer.md.
    """
    paper, stated = _what_speaks(transducer, indication_newton_metre)
    states, paper_line = read_paper(paper, indication_newton_metre)
    relative = [line for line in (stated[0], *transducer.others) if line is not None]
    amounts = [line for line in (stated[1], transducer.resolution) if line is not None]
    if own is not None and own_acts is OwnActs.UNKNOWN:
        moment = own.kilogram.value * own.arm.value * gravity.value
        amounts.append(Line("own-weight-unknown", 0.0, moment, unit="N·m"))
    weight = (own.kilogram, own.arm) if own is not None else (Line("own-mass", 0.0), Line("own-arm", 0.0))
    sign, split = OWN_SIGN[own_acts], 5 + len(relative)
    torque = _torque_by_error if states is PaperStates.ERROR else _torque_by_correction

    def model(maths: Any, raw: Any, *v: Any) -> Any:
        paper, own_kg, own_m, g, tilt = v[:5]
        acting = sign * own_kg * own_m * g * maths.cos(tilt)
        return torque(raw, paper) * (1 + sum(v[5:split])) + sum(v[split:]) + acting

    return Reference(model, (paper_line, *weight, gravity, droop, *relative, *amounts))


def _what_speaks(
    transducer: Transducer, indication_newton_metre: float
) -> tuple[Paper | None, tuple[Line | None, Line | None]]:
    """The paper where it reaches; beyond it the stated accuracy, where one was given on purpose."""
    stated = (transducer.stated_of_reading, transducer.stated_of_full_scale)
    paper = transducer.paper
    if paper is None or (any(stated) and not paper.reaches(indication_newton_metre)):
        return None, stated
    return paper, (None, None)


def _torque_by_error(indication: Any, error_ratio: Any) -> Any:
    """T = I/(1 + q). [N m]"""
    return indication / (1 + error_ratio)


def _torque_by_correction(indication: Any, correction_ratio: Any) -> Any:
    """T = I·(1 + c). [N m]"""
    return indication * (1 + correction_ratio)


def read_paper(paper: Paper | None, indication_newton_metre: float) -> tuple[PaperStates, Line]:
    """Error or correction of a paper at an indication, between its rows along a straight line.

    Returns what it is and the line that carries it; the larger U of the two neighbours counts. [1]
    Raises InputRefused outside the rows.
    """
    if paper is None:
        return PaperStates.CORRECTION, Line("paper", 0.0)
    rows = paper.rows
    if not paper.reaches(indication_newton_metre):
        raise InputRefused(
            "kit.paper",
            f"{indication_newton_metre:.6g} N·m",
            "want-inside-paper",
            lowest=f"{rows[0].indication_newton_metre:.6g} N·m",
            highest=f"{rows[-1].indication_newton_metre:.6g} N·m",
        )
    below, above = _neighbours(rows, indication_newton_metre)
    span = above.indication_newton_metre - below.indication_newton_metre
    part = (indication_newton_metre - below.indication_newton_metre) / span if span else 0.0
    stated = below.stated + part * (above.stated - below.stated)
    u = max(row.expanded_ratio / row.coverage for row in (below, above))
    if paper.states is PaperStates.TORQUE:
        stated = stated / indication_newton_metre - 1
    states = PaperStates.ERROR if paper.states is PaperStates.ERROR else PaperStates.CORRECTION
    return states, Line("paper", stated, u, Shape.NORMAL)


def _neighbours(rows: Sequence[PaperRow], indication: float) -> tuple[PaperRow, PaperRow]:
    for below, above in zip(rows, rows[1:], strict=False):
        if indication <= above.indication_newton_metre:
            return below, above
    return rows[-1], rows[-1]
