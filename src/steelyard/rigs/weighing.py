"""From indications and marked weights to loads: weighed directly, by difference, repeatedly; or marked."""

import math
import statistics
from collections.abc import Sequence
from dataclasses import replace

from steelyard.errors import InputRefused
from steelyard.published import casting_limit_kilogram, weight_limit_kilogram
from steelyard.quantities import Line, Shape
from steelyard.rigs.load import Load
from steelyard.rigs.weighing_scale import Scale, positive_kilogram


def weighed_directly(scale: Scale, indication_kilogram: float) -> Load:
    """A load alone on a scale that showed zero before.

    indication_kilogram: as shown. [kg] > 0
    Returns the load with the lines `scale` and `scale-rounding`.
    Raises InputRefused outside the range of the scale's class.
    Left out: the rounding of the zero, part of the limit of the scale; corners.
    """
    shown = positive_kilogram("scale, indication", indication_kilogram)
    load = scale.load_kilogram(shown)
    error = scale.error_line(scale.limit_kilogram(shown), load_kilogram=load)
    return Load(load, (error, scale.rounding_line()), scale.knowing)


def weighed_by_difference(scale: Scale, *, with_kilogram: float, without_kilogram: float) -> Load:
    """A load as the difference of two indications, such as a person with and without it.

    with_kilogram, without_kilogram: both as shown. [kg] without ≥ 0, with > without
    Returns the load with two lines `scale-rounding`, and two lines `scale`: a limit holds for each
        indication, so both count, as independent. Gain of the scale known: one line, on the difference only.
    Raises InputRefused outside these limits.
    Source: EURACHEM QUAM A2, mass by difference: the linearity counted twice.
    """
    if not (math.isfinite(without_kilogram) and without_kilogram >= 0):
        raise InputRefused(
            "scale, without", without_kilogram, "want-not-negative", what="mass", example="80.2 kg"
        )
    difference = positive_kilogram("scale, difference", with_kilogram - without_kilogram, what="difference")
    load = scale.load_kilogram(difference)
    indications = {f"{scale.name}, with": with_kilogram, f"{scale.name}, without": without_kilogram}
    if scale.gain_ratio is None:
        errors = [
            scale.error_line(scale.limit_kilogram(shown), load_kilogram=shown, detail=detail)
            for detail, shown in indications.items()
        ]
    else:
        errors = [scale.error_line(0.0, load_kilogram=load)]
    return Load(load, (*errors, *map(scale.rounding_line, indications)), scale.knowing)


def weighed_in_placements(scale: Scale, indications_kilogram: Sequence[float]) -> Load:
    """A load put on the scale again and again.

    indications_kilogram: one for each placement. [kg] > 0, two or more
    Returns their mean with the lines of `weighed_directly` and `scale-spread`, s/√n with n − 1 degrees of
        freedom. The rounding counts in full: placements that all show the same say nothing about it.
    Raises InputRefused for a single placement.
    Source: JCGM 100:2008, 4.2.3.
    """
    count = len(indications_kilogram)
    if count < 2:
        raise InputRefused("scale, placements", count, "want-enough", least=2, what="placements")
    shown = [positive_kilogram("scale, indication", each) for each in indications_kilogram]
    load = scale.load_kilogram(statistics.fmean(shown))
    error = scale.error_line(scale.limit_kilogram(max(shown)), load_kilogram=load)
    spread = statistics.stdev(shown) / math.sqrt(count)
    repeats = Line("scale-spread", 0.0, spread, Shape.NORMAL, count - 1, False, "kg", scale.name)
    return Load(load, (error, scale.rounding_line(), repeats), scale.knowing)


def marked_mass(
    name: str,
    nominal_kilogram: float,
    *,
    weight_class: str | None = None,
    known_within_kilogram: float | None = None,
    casting: bool = False,
    weighed_on: str | None = None,
) -> Load:
    """A weight that is believed for what is known of it.

    name: its own among all weights of the workshop. nominal_kilogram: marked or stated. [kg] > 0
    weight_class: as marked (`published.weight_limit_kilogram`); known_within_kilogram: half-width from a
        paper or an earlier weighing. [kg] ≥ 0; casting: a casting or gym plate that was never weighed.
    weighed_on: name of the scale of that weighing. Several that were weighed on one scale err together.
    Returns the load with the line `mass`, rectangular; `weighed-mass` of that scale where it was weighed.
    Raises InputRefused unless exactly one of the three is given.
    Source: `published`, for classes and castings.
    Left out: that the roundings of two weighings differ; they are taken to err together with the rest.
    """
    positive_kilogram("weight, nominal value", nominal_kilogram)
    if [weight_class is not None, known_within_kilogram is not None, casting].count(True) != 1:
        raise InputRefused(f"weight {name}", None, "want-one-trust")
    if weight_class is not None:
        within = weight_limit_kilogram(weight_class, nominal_kilogram=nominal_kilogram)
    elif known_within_kilogram is not None:
        within = known_within_kilogram
    else:
        within = casting_limit_kilogram(nominal_kilogram)
    if not (math.isfinite(within) and within >= 0):
        raise InputRefused(
            f"weight {name}", within, "want-not-negative", what="half-width", example="0.01 kg"
        )
    if weighed_on is None:
        line = Line("mass", 0.0, within, Shape.RECTANGULAR, unit="kg", detail=name)
    else:
        line = Line("weighed-mass", 0.0, within, Shape.RECTANGULAR, unit="kg", detail=weighed_on)
    return Load(nominal_kilogram, (line,))


def together(loads: Sequence[Load]) -> Load:
    """Several loads that hang at once.

    loads: one or more, all known in the same way (`Knowing`).
    Returns their sum with all lines. One error that acts on several of them (a scale, weights of one name)
        stays one line, its widths added; errors of their own stay apart, numbered where they have one name.
    Raises InputRefused where masses and readings of a force-type scale meet, and where one name stands for
        two different errors.
    Source: JCGM 100:2008, 5.2.2, note 1: fully correlated inputs add linearly.
    """
    if not loads:
        raise InputRefused("loads", 0, "want-enough", least=1, what="loads")
    knowings = {load.knowing for load in loads}
    if len(knowings) > 1:
        raise InputRefused("loads", ", ".join(sorted(knowings)), "want-same-knowing")
    lines: dict[tuple[str, str], Line] = {}
    for line in (line for load in loads for line in load.lines):
        merged = added(lines, line)
        lines[merged.name, merged.detail] = merged
    return Load(math.fsum(load.kilogram for load in loads), tuple(lines.values()), knowings.pop())


def added(lines: dict[tuple[str, str], Line], line: Line) -> Line:
    """What a further line becomes among those already there."""
    known = lines.get((line.name, line.detail))
    if known is None:
        return line
    if line.shared:
        if (known.shared, known.shape, known.dof) != (line.shared, line.shape, line.dof):
            raise InputRefused("loads", line.detail, "want-own-name")
        return replace(known, width=known.width + line.width)
    number = 2
    while (line.name, f"{line.detail} ({number})") in lines:
        number += 1
    return replace(line, detail=f"{line.detail} ({number})")
