"""Papers are read in their own sense, and the tool's own weight counts where it acts."""

import pytest

from steelyard.errors import InputRefused
from steelyard.quantities import Line, Shape
from steelyard.rigs import OwnActs, OwnWeight, Paper, PaperRow, PaperStates, Transducer, transducer_reference

LEVEL, GRAVITY = Line("droop", 0.0), Line("gravity", 10.0)
RESOLUTION = Line("resolution", 0.0, 0.1, Shape.TRIANGULAR, shared=False)
OWN = OwnWeight(Line("own-mass", 1.0), Line("own-arm", 0.2))


def paper(states: PaperStates, *stated: float) -> Paper:
    rows = [PaperRow(at, s, 0.003, 2.0) for at, s in zip((50.0, 100.0, 200.0), stated, strict=True)]
    return Paper(states, tuple(rows))


def torque(
    indication: float, papers: Paper | None, *, acts: OwnActs = OwnActs.NOT, stated: float | None = None
) -> float:
    transducer = Transducer(papers, Line("stated", 0.0, stated) if stated else None, None, (), RESOLUTION)
    reference = transducer_reference(
        transducer, indication, own=OWN, own_acts=acts, gravity=GRAVITY, droop=LEVEL
    )
    return reference.torque_newton_metre(indication)


def test_shows_100_true_99_5_in_each_of_the_three_forms() -> None:
    # own worked row: q = (100 − 99.5)/99.5, c = (99.5 − 100)/100
    error = paper(PaperStates.ERROR, 0.0, 0.5 / 99.5, 0.0)
    correction = paper(PaperStates.CORRECTION, 0.0, -0.005, 0.0)
    stated = paper(PaperStates.TORQUE, 50.0, 99.5, 200.0)
    for one in (error, correction, stated):
        assert torque(100.0, one) == pytest.approx(99.5, rel=1e-14)


def test_between_rows_it_is_a_straight_line() -> None:
    assert torque(75.0, paper(PaperStates.CORRECTION, 0.0, -0.01, 0.0)) == pytest.approx(75.0 * 0.995)
    assert torque(150.0, paper(PaperStates.TORQUE, 50.0, 99.0, 201.0)) == pytest.approx(150.0)


def test_outside_the_rows_it_refuses_unless_an_accuracy_is_stated() -> None:
    rows = paper(PaperStates.CORRECTION, 0.0, 0.0, 0.0)
    with pytest.raises(InputRefused, match=r"between 50 N·m and 200 N·m"):
        torque(201.0, rows)
    assert torque(201.0, rows, stated=0.01) == pytest.approx(201.0)


@pytest.mark.parametrize(
    ("acts", "more"), [(OwnActs.NOT, 0.0), (OwnActs.ADDS, 2.0), (OwnActs.TAKES, -2.0), (OwnActs.UNKNOWN, 0.0)]
)
def test_own_weight_adds_or_takes(acts: OwnActs, more: float) -> None:
    assert torque(100.0, None, acts=acts, stated=0.01) == pytest.approx(100.0 + more)


def test_own_weight_that_may_act_widens_the_line() -> None:
    transducer = Transducer(None, Line("stated", 0.0, 0.01), None, (), RESOLUTION)
    reference = transducer_reference(
        transducer, 100.0, own=OWN, own_acts=OwnActs.UNKNOWN, gravity=GRAVITY, droop=LEVEL
    )
    line = next(line for line in reference.lines if line.name == "own-weight-unknown")
    assert line.width == pytest.approx(2.0)
