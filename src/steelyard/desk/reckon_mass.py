"""A mass weighed with and without, or put on the scale again and again."""

from steelyard.desk.answer import Answer, Said
from steelyard.desk.figures import Known, both, figure, number, numbered
from steelyard.desk.typed_lines import asked_as, line_from_zero
from steelyard.desk.typed_scale import KILOGRAM, elsewhere, exact_above_zero, mass_of, scale_as_typed
from steelyard.errors import InputRefused
from steelyard.evaluation import repeats
from steelyard.quantities import Dimension, read_quantities
from steelyard.rigs import Load, Scale, weighed_by_difference, weighed_in_placements


def reckon_mass(
    *,
    step: str | None,
    with_it: str | None = None,
    without_it: str | None = None,
    placements: str | None = None,
    scale_class: str | None = None,
    accuracy: str | None = None,
) -> Answer:
    """A mass as the difference of two indications of one scale, or as the mean of several.

    step, scale_class, accuracy: of the scale, see `scale_as_typed`.
    with_it, without_it: both indications.
    placements: what the scale showed each time the load alone was put on it, such as `9.62 9.63 9.61 kg`.
        In place of the other two.
    Numbers: `mass_kilogram` and its `within`; with placements also `spread_kilogram`, s of one of them.
    Raises InputRefused for what cannot be read and outside the range of the class.
    Source and left out: `rigs.weighed_by_difference`, `rigs.weighed_in_placements`.
    """
    scale = scale_as_typed(step, scale_class=scale_class, accuracy=accuracy)
    if placements is None:
        return _answer(scale, _difference(scale, with_it, without_it), about="reckon-mass-within")
    if with_it is not None or without_it is not None:
        raise InputRefused("--placements", placements, "want-reckon-one-weighing")
    shown = [each.base for each in read_quantities(placements, Dimension.MASS, field="--placements")]
    with asked_as("--placements", placements):
        load = weighed_in_placements(scale, shown)
    return _answer(scale, load, about="reckon-mass-placements", spread_kilogram=repeats(shown).s)


def _difference(scale: Scale, with_it: str | None, without_it: str | None) -> Load:
    if with_it is None and without_it is None:
        raise InputRefused("--with", None, "want-reckon-weighing")
    heavy = exact_above_zero(with_it, "--with").base
    light = line_from_zero(without_it, Dimension.MASS, field="--without", name="without").value
    with asked_as("--with", with_it):
        return weighed_by_difference(scale, with_kilogram=heavy, without_kilogram=light)


def _answer(scale: Scale, load: Load, *, about: str, spread_kilogram: float | None = None) -> Answer:
    mass = mass_of(load)
    facts = {"percent": number(100 * (mass.within or 0.0) / mass.value, digits=2)}
    numbers = numbered("mass", mass, "kilogram")
    if spread_kilogram is not None:
        facts["spread"] = figure(Known(spread_kilogram), KILOGRAM[0], digits=2)
        numbers["spread_kilogram"] = spread_kilogram
    lines: tuple[Said, ...] = (("reckon-mass", {"mass": both(mass, KILOGRAM)}), (about, facts))
    return Answer(lines, numbers, elsewhere(scale))
