"""The acceleration of free fall at a place, and what is known of it where the place is not."""

import math

from steelyard.quantities import Line, Shape
from steelyard.surroundings.span import HEIGHT, Span

STANDARD_GRAVITY_M_S2 = 9.80665
"""The conventional value. Source: 3rd CGPM (1901); exact."""

GRAVITY_STANDARD_U_RATIO = 5e-5
"""Relative standard uncertainty of a computed gravity: terrain and ground differ from the smooth ellipsoid.
Source: from memory, medium confidence ("a few times 1e-5")."""

# WGS 84, as quoted in encyclopaedias under “international gravity formula”; m from memory (high confidence).
EQUATOR_M_S2 = 9.7803253359
SOMIGLIANA_K = 0.00193185265241
ECCENTRICITY_SQUARED = 0.0066943799901
SEMI_MAJOR_METRE = 6378137.0
FLATTENING = 1 / 298.257223563
CENTRIFUGAL_M = 0.00344978650684

LATITUDE = Span("latitude", -90, 90, "°")
LATITUDE_WITHIN = Span("latitude, within", 0, 45, "°")
HEIGHT_WITHIN = Span("height, within", 0, 9000, "m")

PLAUSIBLE_LEAST_M_S2 = 9.780
PLAUSIBLE_MOST_M_S2 = 9.834


def normal_gravity_m_s2(latitude_degree: float, *, height_metre: float) -> float:
    """Gravity of the smooth earth at a latitude and a height.

    latitude_degree: geodetic, as a map or a phone gives it; north positive. [°] −90 … 90
    height_metre: above sea level, taken for the height above the ellipsoid. [m] −500 … 9000
    Returns gravity. [m/s²]
    Raises InputRefused outside these limits.
    Source: Somigliana's closed form with the constants of WGS 84, and its second-order series in height
        (the report of WGS 84, NIMA TR 8350.2, from memory).
    Left out: hills and rock (see `GRAVITY_STANDARD_U_RATIO`), tides, and the geoid: up to 100 m, so 31 ppm.
    """
    LATITUDE.check(latitude_degree)
    HEIGHT.check(height_metre)
    return somigliana(latitude_degree, height_metre)


def somigliana(latitude_degree: float, height_metre: float) -> float:
    """The formula behind `normal_gravity_m_s2`, without its limits. [m/s²]"""
    sine_squared = math.sin(math.radians(latitude_degree)) ** 2
    sea_level = (
        EQUATOR_M_S2 * (1 + SOMIGLIANA_K * sine_squared) / math.sqrt(1 - ECCENTRICITY_SQUARED * sine_squared)
    )
    share = height_metre / SEMI_MAJOR_METRE
    slope = 2 * (1 + FLATTENING + CENTRIFUGAL_M - 2 * FLATTENING * sine_squared)
    return sea_level * (1 - slope * share + 3 * share**2)


def local_gravity(
    latitude_degree: float,
    *,
    height_metre: float,
    latitude_within_degree: float = 0.0,
    height_within_metre: float = 0.0,
) -> Line:
    """Gravity at a place as a line of a budget.

    latitude_degree, height_metre: as for `normal_gravity_m_s2`.
    latitude_within_degree: half-width of what the latitude may be. [°] 0 … 45
    height_within_metre: half-width of what the height may be. [m] 0 … 9000
    Returns the line `gravity` [m/s²], normal: the formula's own uncertainty and the two half-widths
        (each taken as a rectangle, through the larger change to either side) in quadrature.
    Raises InputRefused outside these limits.
    Source: `normal_gravity_m_s2`; JCGM 100:2008 4.3.7 and 5.1.2 for the combination.
    Left out: the curve of gravity inside the half-widths, as the estimate is not shifted for it.
    """
    LATITUDE_WITHIN.check(latitude_within_degree)
    HEIGHT_WITHIN.check(height_within_metre)
    gravity_m_s2 = normal_gravity_m_s2(latitude_degree, height_metre=height_metre)

    def reach(north: float, up: float) -> float:
        shifted = (somigliana(latitude_degree + side * north, height_metre + side * up) for side in (-1, 1))
        return max(abs(other - gravity_m_s2) for other in shifted)

    u_m_s2 = math.hypot(
        GRAVITY_STANDARD_U_RATIO * gravity_m_s2,
        reach(latitude_within_degree, 0) / math.sqrt(3),
        reach(0, height_within_metre) / math.sqrt(3),
    )
    return Line("gravity", gravity_m_s2, u_m_s2, Shape.NORMAL, unit="m/s²")


def plausible_gravity() -> Line:
    """Gravity where nothing is known about the place at which a scale was adjusted.

    Returns the line `gravity-adjust` [m/s²], rectangular from 9.780 to 9.834: from the equator to the pole
        at sea level (9.7803 … 9.8322), carried to the largest value on the earth's surface (9.8337).
    Source: WGS 84 as above; the largest value from Hirt et al. 2013. The choice of range is our own.
    Left out: adjusting on high mountains near the equator, where gravity falls to 9.764.
    """
    middle = (PLAUSIBLE_LEAST_M_S2 + PLAUSIBLE_MOST_M_S2) / 2
    half = (PLAUSIBLE_MOST_M_S2 - PLAUSIBLE_LEAST_M_S2) / 2
    return Line("gravity-adjust", middle, half, Shape.RECTANGULAR, unit="m/s²")
