"""What hangs, as written: names of masses, weighings on a scale, masses with ±, joined by +."""

import re

from steelyard.errors import InputRefused
from steelyard.quantities import Dimension, Line, read_quantity, read_within
from steelyard.records.fields import Fields
from steelyard.records.kit import HungKit, Weights
from steelyard.rigs import (
    Household,
    Knowing,
    LegalClass,
    Load,
    Scale,
    Stated,
    marked_mass,
    together,
    weighed_directly,
)

JOINED = re.compile(r"\s\+\s")
ON = re.compile(r"\s+on\s+")
SCALE_CLASSES = ["III", "IIII"]


def read_masses(fields: Fields) -> dict[str, Load]:
    """The shop's own masses by name."""
    masses: dict[str, Load] = {}
    for table in fields.tables("mass"):
        name, load = _mass(table)
        if name in masses:
            raise InputRefused(table.name("name"), name, "want-own-name")
        masses[name] = load
    return masses


def _mass(fields: Fields) -> tuple[str, Load]:
    name = fields.needed("name", fields.text, "want-text")
    text = fields.needed(
        "value", lambda f: fields.quoted(f, Dimension.MASS), "want-unit", example="5 kg ± 2 g"
    )
    value, half = read_within(text, Dimension.MASS, field=fields.name("value"))
    if value.base <= 0:
        raise InputRefused(fields.name("value"), value.typed, "want-positive", what="mass", example="5 kg")
    load = marked_mass(
        name,
        value.base,
        weight_class=fields.text("class"),
        known_within_kilogram=float(half.exact) if half is not None else None,
        casting=fields.flag("casting") or False,
        weighed_on=fields.text("weighed_on"),
    )
    fields.end()
    return name, load


def read_scales(fields: Fields) -> dict[str, Scale]:
    """The shop's scales by name."""
    scales: dict[str, Scale] = {}
    for table in fields.tables("scale"):
        scale = _scale(table)
        if scale.name in scales:
            raise InputRefused(table.name("name"), scale.name, "want-own-name")
        scales[scale.name] = scale
    return scales


def _scale(fields: Fields) -> Scale:
    step = fields.needed(
        "step", lambda f: fields.quantity(f, Dimension.MASS), "want-unit", example="5 g"
    ).base
    scale = Scale(
        name=fields.needed("name", fields.text, "want-text"),
        step_kilogram=step,
        knowing=fields.needed(
            "knows",
            lambda f: fields.choice(f, Knowing, list(Knowing)),
            "want-one-of",
            names=", ".join(Knowing),
        ),
        limit=_limit(fields, step),
    )
    gain = fields.line("gain", "scale-gain", Dimension.RATIO, signed=True)
    fields.end()
    return scale if gain is None else scale.corrected(gain)


def _limit(table: Fields, step_kilogram: float) -> LegalClass | Stated | Household:
    """How far an indication may be off: a legal class, what is stated, or as usual in a household."""
    scale_class = table.choice("class", str, SCALE_CLASSES)
    if scale_class is not None:
        interval = table.quantity("interval", Dimension.MASS)
        in_service = table.flag("in_service")
        return LegalClass(
            scale_class,
            interval.base if interval is not None else step_kilogram,
            in_service=True if in_service is None else in_service,
        )
    if table.has("within") or table.has("within_of_reading"):
        of_reading = table.quantity("within_of_reading", Dimension.RATIO, above_zero=False)
        within = table.quantity("within", Dimension.MASS, above_zero=False)
        return Stated(of_reading.base if of_reading else 0.0, within.base if within else 0.0)
    return Household()


def load_pieces(text: str) -> tuple[str, ...]:
    """The pieces of a load as written, in order."""
    return tuple(piece.strip() for piece in JOINED.split(text))


def read_load(text: str, kit: HungKit | Weights, *, field: str) -> Load:
    """Everything in one text, summed: `M-5 + M-2 + 0.35 kg on S-2`, or `20 kg ± 10 g`."""
    return together([_piece(piece, kit, field) for piece in load_pieces(text)])


def _piece(piece: str, kit: HungKit | Weights, field: str) -> Load:
    if piece in kit.masses:
        return kit.masses[piece]
    weighing = ON.split(piece)
    if len(weighing) == 2:
        scale = kit.scales.get(weighing[1])
        if scale is None:
            names = ", ".join(kit.scales) or "none is given"
            raise InputRefused(field, weighing[1], "want-scale-name", names=names)
        return weigh(weighing[0], scale, field=field)
    value, half = read_within(piece, Dimension.MASS, field=field)
    if value.base <= 0:
        raise InputRefused(field, piece, "want-positive", what="mass", example="9.62 kg")
    if half is not None:
        line = Line("mass", 0.0, float(half.exact), unit="kg", detail=value.typed)
        return Load(value.base, (line,))
    if len(kit.scales) != 1:
        raise InputRefused(field, piece, "want-known-load")
    return weigh(piece, next(iter(kit.scales.values())), field=field)


def weigh(text: str, scale: Scale, *, field: str) -> Load:
    """An indication of one scale as a load."""
    shown = read_quantity(text, Dimension.MASS, field=field, example="9.62 kg")
    if shown.base <= 0:
        raise InputRefused(field, text, "want-positive", what="mass", example="9.62 kg")
    return weighed_directly(scale, shown.base)
