"""The table [kit] of the check form: hung weights, a drum, or a transducer."""

import math

from steelyard.errors import InputRefused
from steelyard.published import material_density
from steelyard.quantities import Dimension, Line
from steelyard.records.fields import Fields
from steelyard.records.form_load import read_load, read_masses, read_scales
from steelyard.records.form_place import Place
from steelyard.records.form_transducer import read_transducer
from steelyard.records.kit import DENSE_ANYTHING, DROP_UNKNOWN, HungKit, Kit
from steelyard.rigs import Air, Drum, HungWeight, Lead
from steelyard.surroundings import plausible_gravity
from steelyard.tools import Tool

MOST_DROOP_DEGREE = 10
DROOP_BY_EYE = Line("droop", 0.0, math.radians(3), unit="rad")  # level by eye, our assumption
KINDS = ["hung-weight", "drum", "transducer"]


def read_kit(fields: Fields, tool: Tool, place: Place) -> Kit:
    """The kit of a check, fit for the kind of tool."""
    kind = fields.needed(
        "kind", lambda f: fields.choice(f, str, KINDS), "want-one-of", names=", ".join(KINDS)
    )
    if kind == "hung-weight" and tool.kind.is_driver:
        raise InputRefused("kit.kind", kind, "want-arm-tool")
    if kind == "drum" and not tool.kind.is_driver:
        raise InputRefused("kit.kind", kind, "want-driver")
    name = fields.needed("name", fields.text, "want-text")
    if kind == "transducer":
        return read_transducer(fields, name)
    scales = read_scales(fields)
    masses = read_masses(fields)
    always = fields.text("always")
    dribble = fields.quantity("dribble", Dimension.MASS)
    rig = _hung(fields, place) if kind == "hung-weight" else _drum(fields, place)
    half = dribble.base / 2 if dribble is not None else 0.0
    kit = HungKit(
        name=name,
        rig=rig,
        masses=masses,
        scales=scales,
        always=None,
        dribble=Line("dribble", 0.0, half, unit="kg") if dribble is not None else None,
    )
    fields.end()
    if always is None:
        return kit
    hanging = read_load(always, kit, field="kit.always")
    return HungKit(name, rig, masses, scales, hanging, kit.dribble, always)


def _hung(fields: Fields, place: Place) -> HungWeight:
    lead = fields.choice("lead", Lead, list(Lead)) or Lead.DOWN
    loss = fields.quantity("pulley_loss", Dimension.RATIO, above_zero=False)
    if loss is None and lead is not Lead.DOWN:
        raise InputRefused(fields.name("pulley_loss"), None, "want-unit", example="2 %")
    half = loss.base / 2 if loss is not None else 0.0
    return HungWeight(
        arm=fields.needed(
            "arm", lambda f: fields.line(f, "arm", Dimension.LENGTH), "want-unit", example="450 mm"
        ),
        droop=read_droop(fields),
        drop=fields.line("drop", "drop", Dimension.LENGTH, signed=True) or DROP_UNKNOWN,
        gravity=place.gravity,
        gravity_adjust=_gravity_adjust(fields),
        air=_air(fields, place),
        pulley_loss=Line("pulley", half, half),
        lead=lead,
    )


def _drum(fields: Fields, place: Place) -> Drum:
    return Drum(
        drum=fields.needed(
            "drum", lambda f: fields.line(f, "drum", Dimension.LENGTH), "want-unit", example="100 mm"
        ),
        cord=fields.needed(
            "cord",
            lambda f: fields.line(f, "cord", Dimension.LENGTH, above_zero=False),
            "want-unit",
            example="3 mm",
        ),
        gravity=place.gravity,
        gravity_adjust=_gravity_adjust(fields),
        air=_air(fields, place),
    )


def read_droop(fields: Fields) -> Line:
    """Droop of the arm under load; by eye where nothing is said."""
    droop = fields.line("droop", "droop", Dimension.ANGLE, signed=True)
    if droop is None:
        return DROOP_BY_EYE
    if abs(droop.value) + droop.width > math.radians(MOST_DROOP_DEGREE) * (1 + 1e-12):
        raise InputRefused(fields.name("droop"), f"{math.degrees(droop.value):.4g}°", "want-small-droop")
    return droop


def _gravity_adjust(fields: Fields) -> Line:
    given = fields.line("scale_gravity", "gravity-adjust", Dimension.ACCELERATION)
    return given if given is not None else plausible_gravity()


def _air(fields: Fields, place: Place) -> Air | None:
    material = fields.text("material")
    density = DENSE_ANYTHING if material is None else material_density(material)
    return None if place.air is None else Air(place.air, density)
