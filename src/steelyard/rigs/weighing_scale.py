"""A weighing scale: how far its indication may lie from the load, and how a check with water corrects it."""

import math
from dataclasses import dataclass, replace

from steelyard.errors import InputRefused
from steelyard.published import household_limit_kilogram, scale_limit_kilogram
from steelyard.quantities import Line, Shape
from steelyard.rigs.load import Knowing
from steelyard.surroundings import CONVENTIONAL_DENSITY_KG_M3, water_density_kg_m3

MOST_GAIN_PERCENT = 50
"""Beyond it a scale shows another unit. Our own choice: 1 kg shown as 2.2 lb is +120 %."""

CANISTER_RATIO = 0.01
"""How far the volume of a canister that nobody gauged may be off. Our own choice."""


@dataclass(frozen=True, slots=True)
class LegalClass:
    """A legally verified scale.

    scale_class: as marked in the oval, III or IIII. interval_kilogram: verification interval e. [kg] > 0
    in_service: True for a scale in use (twice the limit), False for one just verified.
    """

    scale_class: str
    interval_kilogram: float
    in_service: bool


@dataclass(frozen=True, slots=True)
class Stated:
    """A stated accuracy, ±(ratio·reading + kilogram), as in a paper or a maker's sheet. [1], [kg] ≥ 0"""

    of_reading_ratio: float
    kilogram: float

    def __post_init__(self) -> None:
        for part in (self.of_reading_ratio, self.kilogram):
            if not (math.isfinite(part) and part >= 0):
                raise InputRefused(
                    "scale, accuracy", part, "want-not-negative", what="half-width", example="0.05 kg"
                )


@dataclass(frozen=True, slots=True)
class Household:
    """A bathroom, kitchen or luggage scale that promises nothing: what such scales usually do."""


@dataclass(frozen=True, slots=True)
class Scale:
    """One scale as it is used.

    name: its own among all scales of the workshop; detail of its lines.
    step_kilogram: of its display. [kg] > 0
    knowing: what its indication is: MASS where it was verified, adjusted or checked here, else FORCE.
    limit: how far an indication may lie from the load.
    gain_ratio: its relative error (indication/load − 1), the same at every load, once a check of this very
        scale has shown it. [1] −0.5 … 0.5. It then stands in place of `limit`. None: never checked.
    """

    name: str
    step_kilogram: float
    knowing: Knowing
    limit: LegalClass | Stated | Household
    gain_ratio: Line | None = None

    def __post_init__(self) -> None:
        positive_kilogram("scale, step", self.step_kilogram, what="step", example="0.1 kg")
        gain = self.gain_ratio
        if gain is not None and not abs(100 * gain.value) <= MOST_GAIN_PERCENT:
            shown, most = f"{100 * gain.value:.6g} %", MOST_GAIN_PERCENT
            raise InputRefused("scale, gain error", shown, "want-between", least=-most, most=most, unit="%")

    def corrected(self, gain_ratio: Line) -> "Scale":
        """The scale after a check where it is used: its gain error known, its indication a mass.

        gain_ratio: indication/load − 1 of the scale as it shows, such as `scale_from_water` gives. [1]
        """
        return replace(self, gain_ratio=gain_ratio, knowing=Knowing.MASS)

    def load_kilogram(self, indication_kilogram: float) -> float:
        """The best estimate of the load behind an indication, or behind a difference of two. [kg]"""
        return indication_kilogram / (1 + self.gain_ratio.value) if self.gain_ratio else indication_kilogram

    def limit_kilogram(self, indication_kilogram: float) -> float:
        """How far an indication may lie from the load, to either side. [kg]

        Raises InputRefused where the class of the scale does not reach.
        Source: `published`, for legal classes and household scales.
        """
        if isinstance(self.limit, LegalClass):
            return scale_limit_kilogram(
                self.limit.scale_class,
                interval_kilogram=self.limit.interval_kilogram,
                load_kilogram=indication_kilogram,
                in_service=self.limit.in_service,
            )
        if isinstance(self.limit, Stated):
            return self.limit.of_reading_ratio * indication_kilogram + self.limit.kilogram
        return household_limit_kilogram(indication_kilogram, self.step_kilogram)

    def error_line(self, limit_kilogram: float, *, load_kilogram: float, detail: str = "") -> Line:
        """The line `scale` of a load: its gain error where that is known, else a limit. [kg]

        limit_kilogram: half-width where no check has shown the gain. [kg]
        load_kilogram: what the gain acts on. [kg]; detail: the name of the scale where nothing is given.
        """
        name, gain = detail or self.name, self.gain_ratio
        if gain is None:
            return Line("scale", 0.0, limit_kilogram, Shape.RECTANGULAR, unit="kg", detail=name)
        width = load_kilogram * gain.width / (1 + gain.value)
        return Line("scale", 0.0, width, gain.shape, gain.dof, unit="kg", detail=name)

    def rounding_line(self, detail: str = "") -> Line:
        """The line `scale-rounding` of one indication: half a step to either side. [kg]"""
        half, name = self.step_kilogram / 2, detail or self.name
        return Line("scale-rounding", 0.0, half, Shape.RECTANGULAR, shared=False, unit="kg", detail=name)


def positive_kilogram(field: str, given: float, *, what: str = "mass", example: str = "20 kg") -> float:
    """The number itself, refused unless it is an ordinary one above zero. [kg]"""
    if not (math.isfinite(given) and given > 0):
        raise InputRefused(field, given, "want-positive", what=what, example=example)
    return given


def canister_litre(marked_litre: float, *, gauged_within_litre: float | None = None) -> Line:
    """The volume of a full canister as a line.

    marked_litre: marked, or found by gauging. [L] > 0
    gauged_within_litre: half-width where the volume was gauged. [L] ≥ 0; None: nobody gauged it, ±1 %.
    Raises InputRefused outside these limits.
    Source: ±1 % is our own choice. Left out: bulging when full, the level of the brim.
    """
    if not (math.isfinite(marked_litre) and marked_litre > 0):
        raise InputRefused("canister, volume", marked_litre, "want-positive", what="volume", example="10 L")
    within = CANISTER_RATIO * marked_litre if gauged_within_litre is None else gauged_within_litre
    if not (math.isfinite(within) and within >= 0):
        raise InputRefused(
            "canister, volume", within, "want-not-negative", what="half-width", example="0.02 L"
        )
    return Line("canister-volume", marked_litre, within, Shape.RECTANGULAR, unit="L")


def water_shows_kilogram(volume_litre: float, *, water_celsius: float, air_kg_m3: float) -> float:
    """What a scale that is right for the place shows under a volume of clean water, its vessel tared.

    volume_litre: of the water. [L] > 0; water_celsius: of the water. [°C] 0 … 40
    air_kg_m3: density of the air. [kg/m³] At 1.2 the result is the conventional mass of the water.
    Returns V·(ρ_w − ρ_air)/(1 − ρ_air/8000). [kg]
    Raises InputRefused outside the range of the water table.
    Source: weighing equation against weights of 8000 kg/m³ (OIML D 28, from memory); own derivation.
    Left out: dissolved air (2 ppm) and salts (hard tap water: some 300 ppm more).
    """
    density = water_density_kg_m3(water_celsius, air_saturated=False)
    return volume_litre / 1000 * (density - air_kg_m3) / (1 - air_kg_m3 / CONVENTIONAL_DENSITY_KG_M3)


def scale_from_water(
    *, volume_litre: Line, water_celsius: float, indication_kilogram: float, air_kg_m3: float, scale: Scale
) -> Line:
    """The gain error of a scale from a known volume of water, for `Scale.corrected`.

    volume_litre: such as `canister_litre` gives. [L] > 0
    water_celsius, air_kg_m3: as in `water_shows_kilogram`.
    indication_kilogram: as the scale shows it, the empty vessel tared or taken off. [kg] > 0
    scale: for its name and its step: an earlier correction does not count.
    Returns the line `scale-gain`, indication/expected − 1, with its standard uncertainty. [1]
    Raises InputRefused outside these limits.
    Source: JCGM 100:2008, 5.1.2, of a quotient; two roundings, full and empty.
    Left out: a scale whose error is not the same part of every load; spilled water; ±1 °C of water (0.02 %).
    """
    positive_kilogram("scale, indication", indication_kilogram)
    positive_kilogram("canister, volume", volume_litre.value, what="volume", example="10 L")
    expected = water_shows_kilogram(volume_litre.value, water_celsius=water_celsius, air_kg_m3=air_kg_m3)
    shown = indication_kilogram / expected
    rounding = math.sqrt(2) * scale.rounding_line().u / expected
    u = math.hypot(shown * volume_litre.u / volume_litre.value, rounding)
    return Line("scale-gain", shown - 1, u, Shape.NORMAL, detail=scale.name)
