"""From what a person typed about a scale to the scale, and what a load on it weighs."""

import re
from typing import Any

from steelyard.desk.figures import Known, known
from steelyard.desk.typed_lines import asked_as
from steelyard.errors import InputRefused
from steelyard.findings import Finding, Severity
from steelyard.quantities import UNITS, Dimension, Line, Quantity, read_quantity
from steelyard.rigs import Household, Knowing, LegalClass, Load, Scale, Stated

KILOGRAM = (UNITS[Dimension.MASS]["kg"], UNITS[Dimension.MASS]["lb"])
HOUSEHOLD = "household"
OF_READING = re.compile(r"%|ppm|per ?cent|pct", re.IGNORECASE)
THIS_SCALE = "scale"


def scale_as_typed(step: str | None, *, scale_class: str | None, accuracy: str | None) -> Scale:
    """The scale of a question.

    step: of its display, such as `100 g`; for a class it counts as the interval e.
    scale_class: `III` or `IIII`, in use. accuracy: stated, such as `0.1 % + 50 g`, or `household`. One of
        both; a scale with a class shows a mass, another one a force.
    Raises InputRefused for what cannot be read.
    """
    if (scale_class is None) == (accuracy is None):
        raise InputRefused("--class", scale_class, "want-reckon-trust")
    step_kilogram = exact_above_zero(step, "--step").base
    limit = _class(scale_class, step_kilogram) if scale_class is not None else _accuracy(accuracy or "")
    knowing = Knowing.MASS if scale_class is not None else Knowing.FORCE
    return Scale(THIS_SCALE, step_kilogram, knowing, limit)


def exact_above_zero(text: str | None, field: str) -> Quantity:
    """A mass above zero that takes no ±: how far it may be off is the scale's matter."""
    quantity = read_quantity(text or "", Dimension.MASS, field=field)
    if not quantity.base > 0:
        raise InputRefused(field, text, "want-positive", what="mass", example="20.05 kg")
    return quantity


def mass_of(load: Load) -> Known:
    """The kilograms of a load with their ±."""

    def model(_maths: Any, raw: Any, *errors: Any) -> Any:
        return raw + sum(errors)

    return known(model, (Line("load", load.kilogram), *load.lines))


def elsewhere(scale: Scale) -> tuple[Finding, ...]:
    """What to mind where a scale was adjusted for another place."""
    if scale.knowing is Knowing.FORCE:
        return (Finding("reckon-scale-elsewhere", Severity.NOTE),)
    return ()


def _class(scale_class: str, step_kilogram: float) -> LegalClass:
    name = scale_class.strip().upper()
    if name not in ("III", "IIII"):
        raise InputRefused("--class", scale_class, "want-one-of", names="III, IIII")
    return LegalClass(name, step_kilogram, in_service=True)


def _accuracy(text: str) -> Stated | Household:
    """`0.1 %`, `50 g`, `0.1 % + 50 g` or `household`."""
    if text.strip().casefold() == HOUSEHOLD:
        return Household()
    of_reading = amount = 0.0
    for part in text.lstrip(" ±").split("+"):
        if OF_READING.search(part):
            of_reading += read_quantity(part, Dimension.RATIO, field="--accuracy").base
        else:
            amount += read_quantity(part, Dimension.MASS, field="--accuracy").base
    with asked_as("--accuracy", text):
        return Stated(of_reading, amount)
