"""Every model of the rigs with plausible lines, for tests that ask the same of all of them."""

from typing import Any

from steelyard.quantities import Line, Shape
from steelyard.rigs import (
    Air,
    BeamPlace,
    Drum,
    HungWeight,
    Knowing,
    Lead,
    Load,
    OwnActs,
    OwnWeight,
    Paper,
    PaperRow,
    PaperStates,
    Pivot,
    Reference,
    Transducer,
    drum_reference,
    hung_weight_reference,
    transducer_reference,
)

GRAVITY = Line("gravity", 9.8122, 0.0005)
ADJUST = Line("gravity-adjust", 9.81, 0.004)
AIR = Air(Line("air-density", 1.19, 0.05), Line("load-density", 7200.0, 300.0))
OWN = OwnWeight(
    Line("own-mass", 0.93, 0.005, Shape.NORMAL, dof=9), Line("own-arm", 0.18, 0.005, Shape.TRIANGULAR)
)
DROOP = Line("droop", 0.02, 0.03, Shape.TRIANGULAR)
PIVOT = Pivot(
    place=Line("pivot", 0.02, 0.015),
    mark=Line("mark", 0.40, 0.002),
    tool=Line("tool-mass", 0.93, 0.005, Shape.NORMAL),
    outer_ratio=Line("outer", 0.8, 0.2),
    head_place_ratio=Line("head", 0.5, 0.5),
)
BEAM = BeamPlace(Line("scale-place", 0.32, 0.002), Line("mark", 0.40, 0.002))
LINES_OF_LOAD = (Line("scale", 0.01, 0.05), Line("placements", 0.0, 0.01, Shape.NORMAL, dof=9))
MASS = Load(14.55, LINES_OF_LOAD)
READING = Load(14.55, LINES_OF_LOAD, Knowing.FORCE)


def arm(*, lead: Lead = Lead.DOWN, air: Air | None = AIR) -> HungWeight:
    """An arm of 0.41 m, drooping a little."""
    return HungWeight(
        arm=Line("arm", 0.41, 0.001),
        droop=DROOP,
        drop=Line("drop", 0.008, 0.01),
        gravity=GRAVITY,
        gravity_adjust=ADJUST,
        air=air,
        pulley_loss=Line("pulley", 0.0 if lead is Lead.DOWN else 0.01, 0.0 if lead is Lead.DOWN else 0.01),
        lead=lead,
    )


def transducer(states: PaperStates) -> Reference:
    """A transducer with a paper, its zero taken with the tool on it."""
    rows = (PaperRow(20.0, 0.004, 0.01, 2.0), PaperRow(100.0, -0.002, 0.006, 2.0))
    kit = Transducer(
        paper=Paper(states, rows),
        stated_of_reading=Line("stated", 0.0, 0.002),
        stated_of_full_scale=Line("stated-full-scale", 0.0, 0.05),
        others=(Line("drift", 0.0, 0.003), Line("mounting", 0.0, 0.002, Shape.ARCSINE)),
        resolution=Line("resolution", 0.0, 0.01, Shape.TRIANGULAR),
    )
    return transducer_reference(kit, 60.0, own=OWN, own_acts=OwnActs.ADDS, gravity=GRAVITY, droop=DROOP)


REFERENCES: dict[str, tuple[float, Reference]] = {
    "plain": (14.55, hung_weight_reference(arm(), MASS, own=OWN)),
    "without air": (14.55, hung_weight_reference(arm(air=None), MASS, own=OWN)),
    "force-type scale": (14.55, hung_weight_reference(arm(), READING, own=OWN)),
    "zeroed": (14.55, hung_weight_reference(arm(), MASS, own=OWN, zeroed=True)),
    "pivoted": (14.55, hung_weight_reference(arm(), MASS, own=OWN, pivot=PIVOT)),
    "beam": (14.55, hung_weight_reference(arm(), MASS, own=OWN, beam=BEAM)),
    "up": (14.55, hung_weight_reference(arm(lead=Lead.UP), MASS, own=OWN)),
    "across": (14.55, hung_weight_reference(arm(lead=Lead.ACROSS), MASS, own=OWN)),
    "drum": (
        14.55,
        drum_reference(
            Drum(Line("drum", 0.10, 0.0005), Line("cord", 0.003, 0.0005), GRAVITY, ADJUST, AIR), MASS
        ),
    ),
    "transducer error": (60.0, transducer(PaperStates.ERROR)),
    "transducer correction": (60.0, transducer(PaperStates.CORRECTION)),
}


def torque_model(name: str) -> tuple[Any, tuple[Line, ...]]:
    """The torque of one of them as a model of its lines alone, the raw reading being given."""
    raw, reference = REFERENCES[name]

    def model(maths: Any, *values: Any) -> Any:
        return reference.model(maths, raw, *values)

    return model, reference.lines
