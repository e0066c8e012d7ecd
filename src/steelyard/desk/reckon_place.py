"""Gravity at a place."""

from dataclasses import replace

from steelyard.desk.answer import Answer, Said
from steelyard.desk.figures import Known, figure, number, numbered
from steelyard.desk.typed_lines import any_line, asked_as, latitude_line
from steelyard.errors import InputRefused
from steelyard.evaluation import coverage_factor
from steelyard.quantities import UNITS, Dimension, Line
from steelyard.surroundings import STANDARD_GRAVITY_M_S2, local_gravity

STANDARD_WORDS = ("standard", "g_n", "gn")
LEAST_M_S2, MOST_M_S2 = 9.7, 9.9  # a little beyond what exists on the earth's surface


def reckon_gravity(*, latitude: str | None, height: str | None) -> Answer:
    """Gravity at a place, and how far it is from the standard value.

    latitude: as typed, such as `51.5` or `33.9° S ± 0.5°`; height: above sea level, such as `35 m`.
    Numbers: `gravity_m_s2`, its `within`, `difference_from_standard_percent`.
    Raises InputRefused for what cannot be read or lies off the earth.
    Source and left out: `surroundings.local_gravity`.
    """
    line = gravity_line(gravity=None, latitude=latitude, height=height)
    result = Known(line.value, coverage_factor(line.dof) * line.u)
    percent = 100 * (line.value / STANDARD_GRAVITY_M_S2 - 1)
    unit = UNITS[Dimension.ACCELERATION]["m/s²"]
    lines: tuple[Said, ...] = (
        ("reckon-gravity", {"gravity": figure(result, unit)}),
        (
            "reckon-gravity-standard",
            {"percent": f"{percent:+.3f}", "standard": number(STANDARD_GRAVITY_M_S2, digits=6)},
        ),
        ("reckon-gravity-within", {}),
    )
    numbers = numbered("gravity", result, "m_s2") | {"difference_from_standard_percent": percent}
    return Answer(lines, numbers)


def gravity_line(*, gravity: str | None, latitude: str | None, height: str | None) -> Line:
    """Gravity as typed, or of the place.

    gravity: such as `9.81 m/s²`, perhaps with ±, or `standard`; then latitude and height must be None.
    Raises InputRefused where neither or both are given: gravity is never guessed.
    """
    place = latitude is not None or height is not None
    if gravity is not None and place:
        raise InputRefused("--gravity", gravity, "want-reckon-one-gravity")
    if gravity is None:
        return _of_place(latitude, height) if place else _missing()
    if gravity.strip().casefold() in STANDARD_WORDS:
        return Line("gravity", STANDARD_GRAVITY_M_S2, unit="m/s²", detail="--gravity")
    line = any_line(gravity, Dimension.ACCELERATION, field="--gravity", name="gravity")
    if not LEAST_M_S2 <= line.value <= MOST_M_S2:
        raise InputRefused(
            "--gravity", gravity, "want-between", least=LEAST_M_S2, most=MOST_M_S2, unit="m/s²"
        )
    return line


def _missing() -> Line:
    raise InputRefused("--gravity", None, "want-reckon-gravity")


def _of_place(latitude: str | None, height: str | None) -> Line:
    if latitude is None:
        raise InputRefused("--latitude", None, "want-latitude")
    where = latitude_line(latitude, field="--latitude")
    up = height_line(height)
    with asked_as("--latitude", latitude):
        line = local_gravity(
            where.value,
            height_metre=up.value,
            latitude_within_degree=where.width,
            height_within_metre=up.width,
        )
    return replace(line, detail="--latitude")


def height_line(height: str | None) -> Line:
    """A height above sea level; refused where none is given: it may be 0 m, but only if somebody says so."""
    if height is None:
        raise InputRefused("--height", None, "want-height")
    line = any_line(height, Dimension.LENGTH, field="--height", name="height")
    if not -500 <= line.value <= 9000:
        raise InputRefused("--height", height, "want-between", least=-500, most=9000, unit="m")
    return line
