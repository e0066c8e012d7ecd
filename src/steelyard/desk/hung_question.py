"""A question about a hung load, and the rig it describes."""

from dataclasses import dataclass

from steelyard.desk.reckon_place import gravity_line
from steelyard.desk.typed_lines import any_line, line_above_zero, line_from_zero
from steelyard.errors import InputRefused
from steelyard.quantities import UNITS, Dimension, Line
from steelyard.rigs import Air, HungWeight, Load, OwnWeight, Reference, hung_weight_reference
from steelyard.surroundings import CONVENTIONAL_AIR_KG_M3, CONVENTIONAL_DENSITY_KG_M3

LEVEL = "0°"
MOST_DROOP_DEGREE = 10


@dataclass(frozen=True, slots=True, kw_only=True)
class HungQuestion:
    """What a person typed; None where nothing was.

    load: mass of everything that hangs; wanted: torque. Exactly one of them, perhaps with ±, as all others.
    arm: drive axis to the mark.
    own_mass, balance: mass of the tool, drive axis to its balance point; own_reading, own_at: reading of a
        scale under the level tool, drive axis to where it lies; own_zero: the own weight left out on purpose.
        One of these three ways.
    gravity, or latitude and height: see `gravity_line`. droop: of the arm below horizontal; None: level.
    buoyancy: whether the lift of the air is taken off. unit: of the torque in the answer.
    """

    load: str | None = None
    wanted: str | None = None
    arm: str | None = None
    own_mass: str | None = None
    balance: str | None = None
    own_reading: str | None = None
    own_at: str | None = None
    own_zero: bool = False
    gravity: str | None = None
    latitude: str | None = None
    height: str | None = None
    droop: str | None = None
    buoyancy: bool = True
    unit: str | None = None


def hung_reference(question: HungQuestion) -> Reference:
    """The rig behind a question, as a model of the mass that hangs.

    Raises InputRefused for what cannot be read or is missing.
    """
    gravity = gravity_line(gravity=question.gravity, latitude=question.latitude, height=question.height)
    air = None
    if question.buoyancy:
        air = Air(
            Line("air-density", CONVENTIONAL_AIR_KG_M3), Line("load-density", CONVENTIONAL_DENSITY_KG_M3)
        )
    rig = HungWeight(
        arm=line_above_zero(question.arm, Dimension.LENGTH, field="--arm", name="arm"),
        droop=_droop(question.droop),
        drop=Line("drop", 0.0),
        gravity=gravity,
        gravity_adjust=gravity,
        air=air,
    )
    return hung_weight_reference(rig, Load(0.0), own=_own_weight(question))


def _droop(text: str | None) -> Line:
    line = any_line(text or LEVEL, Dimension.ANGLE, field="--droop", name="droop")
    most = MOST_DROOP_DEGREE * float(UNITS[Dimension.ANGLE]["°"].factor)
    if not abs(line.value) <= most:
        ends = {"least": -MOST_DROOP_DEGREE, "most": MOST_DROOP_DEGREE, "unit": "°"}
        raise InputRefused("--droop", text, "want-between", **ends)
    return line


def _own_weight(question: HungQuestion) -> OwnWeight:
    """Own weight in the one way that was given; refused where none was, or more than one."""
    by_mass = question.own_mass is not None or question.balance is not None
    by_reading = question.own_reading is not None or question.own_at is not None
    ways = [by_mass, by_reading, question.own_zero].count(True)
    if ways != 1:
        wanted = "want-reckon-one-own" if ways else "want-reckon-own"
        raise InputRefused("--own-mass", question.own_mass, wanted)
    if by_mass:
        return OwnWeight(
            line_above_zero(question.own_mass, Dimension.MASS, field="--own-mass", name="own-mass"),
            line_from_zero(question.balance, Dimension.LENGTH, field="--balance", name="own-arm"),
        )
    if by_reading:
        return OwnWeight(
            line_above_zero(question.own_reading, Dimension.MASS, field="--own-reading", name="own-mass"),
            line_above_zero(question.own_at, Dimension.LENGTH, field="--own-at", name="own-arm"),
        )
    return OwnWeight(Line("own-mass", 0.0), Line("own-arm", 0.0))
