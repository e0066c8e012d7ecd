"""Published numbers of JCGM 100:2008, and one example of NIST TN 1900.

Seen in a secondary source: H.1, H.2 and the divisors. All others from memory; the arithmetic was done again.
"""

import math
import statistics
from typing import Any

import pytest

from printed import agrees
from steelyard.evaluation import covariance, coverage_factor, first_order, second_order
from steelyard.quantities import Line, Shape

NORMAL, RECTANGULAR, ARCSINE = Shape.NORMAL, Shape.RECTANGULAR, Shape.ARCSINE


@pytest.mark.parametrize(
    ("half_width", "shape", "printed"),
    [
        ("0.40e-6", Shape.RECTANGULAR, "0.23e-6"),  # 4.3.7, from memory
        ("0.26e-6", Shape.RECTANGULAR, "0.15e-6"),  # 4.3.8, half of b₋ + b₊ = 0.52e-6, from memory
        ("4", Shape.RECTANGULAR, "2.3"),  # 4.4.5, from memory
        ("4", Shape.TRIANGULAR, "1.6"),  # 4.4.6, from memory
        ("1", Shape.RECTANGULAR, "0.577350269"),  # 4.4.5, seen in a secondary source
        ("1", Shape.TRIANGULAR, "0.408248290"),  # 4.4.6, seen in a secondary source
        ("1", Shape.ARCSINE, "0.707106781"),  # seen in a secondary source
    ],
)
def test_a_half_width_becomes_the_printed_standard_uncertainty(
    half_width: str, shape: Shape, printed: str
) -> None:
    agrees(Line("line", 0.0, float(half_width), shape).u, printed)


def test_a_99_percent_interval_of_a_resistor_gives_its_standard_uncertainty() -> None:
    agrees(129 / coverage_factor(math.inf, 0.99), "50")  # µΩ; 4.3.4, from memory


TABLE_G2 = {  # ν: 95 %, 95.45 %, 99 %; table G.2, from memory
    "1": ("12.71", "13.97", "63.66"),
    "2": ("4.30", "4.53", "9.92"),
    "3": ("3.18", "3.31", "5.84"),
    "4": ("2.78", "2.87", "4.60"),
    "5": ("2.57", "2.65", "4.03"),
    "6": ("2.45", "2.52", "3.71"),
    "7": ("2.36", "2.43", "3.50"),
    "8": ("2.31", "2.37", "3.36"),
    "9": ("2.26", "2.32", "3.25"),
    "10": ("2.23", "2.28", "3.17"),
    "15": ("2.13", "2.18", "2.95"),
    "20": ("2.09", "2.13", "2.85"),
    "50": ("2.01", "2.05", "2.68"),
    "100": ("1.984", "2.025", "2.626"),
    "inf": ("1.960", "2.000", "2.576"),
}


@pytest.mark.parametrize("dof", TABLE_G2)
def test_the_factor_of_student_prints_as_table_g2(dof: str) -> None:
    for probability, printed in zip((0.95, 0.9545, 0.99), TABLE_G2[dof], strict=True):
        agrees(coverage_factor(float(dof), probability), printed)


def test_a_product_of_three_has_the_printed_effective_degrees_of_freedom() -> None:
    """G.4.1, example; from memory."""
    lines = [
        Line("a", 1.0, 0.0025, NORMAL, dof=9),
        Line("b", 1.0, 0.0057, NORMAL, dof=4),
        Line("c", 1.0, 0.0082, NORMAL, dof=14),
    ]
    result = first_order(lambda _maths, a, b, c: a * b * c, lines)
    agrees(100 * result.u, "1.03")
    agrees(result.dof, "19.0")
    agrees(result.dof, "18.99874231")
    agrees(coverage_factor(19), "2.09")
    agrees(100 * coverage_factor(19) * result.u, "2.2")


def test_the_half_width_truncates_the_degrees_of_freedom() -> None:
    """G.6.4, from memory."""
    result = first_order(
        lambda _maths, a, b: a + b,
        [Line("a", 0.0, 1.0, NORMAL, dof=4), Line("b", 0.0, 1.0, NORMAL, dof=5)],
    )
    assert result.dof == pytest.approx(4 / (1 / 4 + 1 / 5))
    assert result.expanded() == coverage_factor(8) * result.u


def gauge(_maths: Any, *v: Any) -> Any:
    """Length of an end gauge at 20 °C, H.1.2. [nm]"""
    standard, difference, random, systematic, expansion, room, cycle, unlike, apart = v
    return (
        standard + difference + random + systematic - standard * (unlike * (room + cycle) + expansion * apart)
    )


GAUGE = [  # H.1.3; seen in a secondary source
    Line("standard", 50_000_623.0, 25.0, NORMAL, dof=18),
    Line("difference", 215.0, 5.8, NORMAL, dof=24),
    Line("random", 0.0, 3.9, NORMAL, dof=5),
    Line("systematic", 0.0, 6.7, NORMAL, dof=8),
    Line("expansion", 11.5e-6, 2e-6),
    Line("room", -0.1, 0.2, NORMAL),
    Line("cycle", 0.0, 0.5, ARCSINE),
    Line("unlike", 0.0, 1e-6, RECTANGULAR, dof=50),
    Line("apart", 0.0, 0.05, RECTANGULAR, dof=2),
]


def test_h1_gives_the_printed_length_and_uncertainty() -> None:
    result = first_order(gauge, GAUGE)
    agrees(result.value, "50000838")
    agrees(result.u, "32")
    assert result.u == pytest.approx(float("31.663879111"), abs=1e-8)
    assert result.dof == pytest.approx(float("16.751855738"), abs=1e-8)
    assert math.floor(result.dof) == int("16")
    for name, printed in {
        "standard": "25",
        "apart": "16.599",
        "systematic": "6.7",
        "difference": "5.8",
        "random": "3.9",
        "unlike": "2.88679",
    }.items():
        agrees(
            next(c for c, line in zip(result.contributions, GAUGE, strict=True) if line.name == name), printed
        )


def test_h1_expanded_uses_truncated_degrees_of_freedom() -> None:
    """H.1.6: 93 nm is t99(16) times the printed 32 nm; seen in a secondary source."""
    result = first_order(gauge, GAUGE)
    assert result.expanded(0.99) == pytest.approx(float("92.483"), abs=5e-4)
    agrees(coverage_factor(16, 0.99), "2.9207816")
    assert math.ceil(result.expanded(0.99)) == int("93")
    agrees(round(coverage_factor(16, 0.99), 2) * 32, "93")


def test_h1_second_order_adds_the_mixed_terms() -> None:
    """H.1.7: 34 nm, with the rounded inputs of that clause; seen in a secondary source."""

    def rounded(_maths: Any, *v: Any) -> Any:
        standard, difference, unlike, room, expansion, apart = v
        return standard + difference - standard * (unlike * room + expansion * apart)

    lines = [
        Line("standard", 50_000_623.0, 25.0, NORMAL),
        Line("difference", 215.0, 9.7, NORMAL),
        Line("unlike", 0.0, 0.58e-6, NORMAL),
        Line("room", -0.1, 0.41, NORMAL),
        Line("expansion", 11.5e-6, 1.2e-6, NORMAL),
        Line("apart", 0.0, 0.029, NORMAL),
    ]
    first = first_order(rounded, lines)
    agrees(first.u, "31.71")
    second = second_order(rounded, first, cross=True)
    agrees(second.u, "34")
    agrees(second.u, "33.91115")


VOLT = ("5.007", "4.994", "5.005", "4.990", "4.999")  # table H.2; seen in a secondary source
MILLIAMPERE = ("19.663", "19.639", "19.640", "19.685", "19.678")
RADIAN = ("1.0456", "1.0438", "1.0468", "1.0428", "1.0433")

IMPEDANCE = {  # the three results of H.2.1, with v in V, i in A, p in rad
    "R": lambda maths, v, i, p: v / i * maths.cos(p),
    "X": lambda maths, v, i, p: v / i * maths.sin(p),
    "Z": lambda _maths, v, i, _p: v / i,
}


def impedance_lines() -> tuple[list[Line], list[list[float]]]:
    """Means of table H.2 and their correlation."""
    columns = [
        [float(x) for x in VOLT],
        [float(x) / 1000 for x in MILLIAMPERE],
        [float(x) for x in RADIAN],
    ]
    lines = [
        Line(name, statistics.fmean(x), statistics.stdev(x) / math.sqrt(5), NORMAL, dof=4)
        for name, x in zip(("volt", "ampere", "radian"), columns, strict=True)
    ]
    return lines, [[statistics.correlation(a, b) for b in columns] for a in columns]


@pytest.mark.parametrize(
    ("which", "value", "u", "exact_u"),  # table H.3; seen in a secondary source
    [
        ("R", "127.732", "0.071", "0.0710714073970"),
        ("X", "219.847", "0.295", "0.295581677359"),
        ("Z", "254.260", "0.236", "0.236336130082"),
    ],
)
def test_h2_gives_the_printed_impedance(which: str, value: str, u: str, exact_u: str) -> None:
    """The printed u came from rounded means, so they agree within a unit of the last digit."""
    lines, correlation = impedance_lines()
    result = first_order(IMPEDANCE[which], lines, correlation=correlation)
    agrees(result.value, value)
    assert result.u == pytest.approx(float(u), abs=1e-3)
    assert result.u == pytest.approx(float(exact_u), rel=1e-8)
    assert result.dof == pytest.approx(4)


def correlation_of(pair: tuple[str, str], lines: list[Line], correlation: list[list[float]]) -> float:
    a, b = (first_order(IMPEDANCE[which], lines, correlation=correlation) for which in pair)
    return covariance(a, b, correlation=correlation) / (a.u * b.u)


@pytest.mark.parametrize(
    ("pair", "printed", "exact"),  # table H.3; seen in a secondary source
    [
        (("R", "X"), "-0.588", "-0.588429784"),
        (("R", "Z"), "-0.485", "-0.485259224"),
        (("X", "Z"), "0.993", "0.992511649"),
    ],
)
def test_h2_gives_the_printed_correlations(pair: tuple[str, str], printed: str, exact: str) -> None:
    got = correlation_of(pair, *impedance_lines())
    assert got == pytest.approx(float(printed), abs=1e-3)
    assert got == pytest.approx(float(exact), abs=1e-8)


ROUNDED = [
    Line("volt", 4.9990, 0.0032, NORMAL),
    Line("ampere", 0.0196610, 0.0000095, NORMAL),
    Line("radian", 1.04446, 0.00075, NORMAL),
]
ROUNDED_R = [[1, -0.36, 0.86], [-0.36, 1, -0.65], [0.86, -0.65, 1]]


@pytest.mark.parametrize(
    ("which", "u"),
    [("R", "0.0699787279884"), ("X", "0.295716826846"), ("Z", "0.236602971835")],
)
def test_h2_from_rounded_means_gives_the_known_uncertainties(which: str, u: str) -> None:
    """H.2.3, GTC's own test."""
    result = first_order(IMPEDANCE[which], ROUNDED, correlation=ROUNDED_R)
    assert result.u == pytest.approx(float(u), rel=1e-10)
    assert math.isinf(result.dof)


@pytest.mark.parametrize(
    ("pair", "r"),
    [
        (("R", "X"), "-0.591484610819"),
        (("R", "Z"), "-0.490623905441"),
        (("X", "Z"), "0.992797472722"),
    ],
)
def test_h2_from_rounded_means_gives_the_known_correlations(pair: tuple[str, str], r: str) -> None:
    """H.2.3, GTC's own test."""
    assert correlation_of(pair, ROUNDED, ROUNDED_R) == pytest.approx(float(r), abs=1e-10)


MAXIMA = (  # °C; NIST TN 1900, example E2; from memory
    "18.75 28.25 25.75 28.00 28.50 20.75 21.00 22.75 18.50 27.25 20.75 "
    "26.50 28.00 23.25 28.00 21.75 26.00 26.50 28.00 33.25 32.00 29.50"
)


def test_the_mean_of_daily_maxima_has_the_printed_interval() -> None:
    """NIST TN 1900, example E2; from memory."""
    maxima = [float(x) for x in MAXIMA.split()]
    line = Line("maximum", statistics.fmean(maxima), statistics.stdev(maxima) / math.sqrt(22), NORMAL, dof=21)
    result = first_order(lambda _maths, x: x, [line])
    agrees(result.value, "25.6")
    agrees(result.u, "0.872")
    agrees(coverage_factor(result.dof), "2.08")
    agrees(result.value - result.expanded(), "23.8")
    agrees(result.value + result.expanded(), "27.4")
