"""What a known volume of water says about a scale."""

import math
from dataclasses import replace
from typing import Any

from steelyard.desk.answer import Answer, Said
from steelyard.desk.figures import Known, about_within, both, figure, numbered
from steelyard.desk.reckon_place import height_line
from steelyard.desk.typed_lines import any_line, asked_as, line_above_zero, typed
from steelyard.desk.typed_scale import KILOGRAM, THIS_SCALE, exact_above_zero
from steelyard.errors import InputRefused
from steelyard.evaluation import coverage_factor
from steelyard.quantities import UNITS, Dimension, Line
from steelyard.rigs import Household, Knowing, Scale, canister_litre, scale_from_water, water_shows_kilogram
from steelyard.surroundings import air_density_at_height_kg_m3

LITRE = UNITS[Dimension.VOLUME]["L"]


def reckon_water(
    *,
    volume: str | None,
    temperature: str | None,
    height: str | None = None,
    air_density: str | None = None,
    shows: str | None = None,
    step: str | None = None,
) -> Answer:
    """What a scale that is right shows under a volume of water, and what another indication means.

    volume: such as `10 L ± 0.05 L`; without ± it counts as not gauged, ±1 %.
    temperature: of the water, perhaps with ±. height, air_density: of the place; one of both.
    shows, step: what the scale shows, vessel taken off, and the step of its display; None: no scale judged.
    Numbers: `expected_kilogram`, and with `shows` `scale_error_percent`, both with their `within`.
    Raises InputRefused for what cannot be read, ice, and water above 40 °C.
    Source and left out: `rigs.weighing_scale`.
    """
    litre = litre_line(volume, field="--volume")
    warm = celsius_line(temperature, field="--temperature")
    air = _air_kg_m3(height, air_density)
    with asked_as("--temperature", temperature):
        expected = _expected(litre, warm, air_kg_m3=air)
    first: Said = ("reckon-water", {"mass": both(expected, KILOGRAM)})
    about = [about_within((litre, warm))]
    if not _has_within(volume, "--volume"):
        about.insert(0, ("reckon-water-not-gauged", {}))
    numbers = numbered("expected", expected, "kilogram") | {"air_kg_m3": air}
    if shows is None:
        return Answer((first, *about), numbers)
    scale = Scale(THIS_SCALE, exact_above_zero(step, "--step").base, Knowing.FORCE, Household())
    shown = exact_above_zero(shows, "--shows").base
    gain = water_gain(scale, shown, litre=litre, warm=warm, air_kg_m3=air)
    percent = Known(100 * gain.value, 100 * (gain.within or 0.0))
    numbers |= numbered("scale_error", percent, "percent")
    return Answer((_judged(gain), first, *about), numbers)


def _has_within(volume: str | None, field: str) -> bool:
    return typed(volume, Dimension.VOLUME, field=field)[1] is not None


def litre_line(volume: str | None, *, field: str) -> Line:
    """The volume of a canister; ±1 % where no ± stands beside it, since nobody gauged it. [L]"""
    line = line_above_zero(volume, Dimension.VOLUME, field=field, name="canister-volume")
    litre = float(LITRE.factor)
    within = line.width / litre if _has_within(volume, field) else None
    return replace(canister_litre(line.value / litre, gauged_within_litre=within), detail=field)


def celsius_line(temperature: str | None, *, field: str) -> Line:
    """The temperature of the water, perhaps with ±. [°C]"""
    return any_line(temperature, Dimension.TEMPERATURE, field=field, name="water-temperature")


def _air_kg_m3(height: str | None, air_density: str | None) -> float:
    if height is not None and air_density is not None:
        raise InputRefused("--air-density", air_density, "want-reckon-one-air")
    if air_density is None:
        return air_density_at_height_kg_m3(height_line(height).value)
    line = line_above_zero(air_density, Dimension.DENSITY, field="--air-density", name="air-density")
    if not 0.3 <= line.value <= 1.6:
        raise InputRefused("--air-density", air_density, "want-between", least=0.3, most=1.6, unit="kg/m³")
    return line.value


def _expected(litre: Line, warm: Line, *, air_kg_m3: float) -> Known:
    """What a right scale shows: volume and temperature each by half the change across their ±."""

    def shown(celsius: float) -> float:
        return water_shows_kilogram(litre.value, water_celsius=celsius, air_kg_m3=air_kg_m3)

    value = shown(warm.value)
    if not litre.width and not warm.width:
        return Known(value)
    by_warmth = _reach(shown, warm)
    return Known(value, coverage_factor(math.inf) * math.hypot(value * litre.u / litre.value, by_warmth))


def _reach(shown: Any, warm: Line) -> float:
    """Standard uncertainty by the temperature: the larger change to either side, as a rectangle."""
    here = shown(warm.value)
    change = max(abs(shown(warm.value + side * warm.width) - here) for side in (-1, 1))
    return float(replace(warm, width=change).u)


def water_gain(
    scale: Scale, indication_kilogram: float, *, litre: Line, warm: Line, air_kg_m3: float
) -> Known:
    """Relative error of a scale with its ±, the temperature's counted too. [1] Source: `scale_from_water`."""
    gain = scale_from_water(
        volume_litre=litre,
        water_celsius=warm.value,
        indication_kilogram=indication_kilogram,
        air_kg_m3=air_kg_m3,
        scale=scale,
    )

    def shown(celsius: float) -> float:
        return indication_kilogram / water_shows_kilogram(
            litre.value, water_celsius=celsius, air_kg_m3=air_kg_m3
        )

    return Known(gain.value, coverage_factor(gain.dof) * math.hypot(gain.u, _reach(shown, warm)))


def _judged(gain: Known) -> Said:
    """Whether the water shows the scale wrong, and what to do."""
    within = gain.within or 0.0
    percent = figure(Known(abs(gain.value), within), UNITS[Dimension.RATIO]["%"])
    if abs(gain.value) <= within:
        return "reckon-water-right", {"percent": percent}
    code = "reckon-water-high" if gain.value > 0 else "reckon-water-low"
    return code, {"percent": percent, "divisor": f"{1 + gain.value:.4f}"}
