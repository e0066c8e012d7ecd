"""Which point made the verdict of a tool."""

import pytest

from steelyard.evaluation import Verdict, deciding_point

IN, OUT, CANT_TELL, NO_LIMIT = Verdict.IN, Verdict.OUT, Verdict.CANT_TELL, Verdict.NO_LIMIT


@pytest.mark.parametrize(
    ("points", "used_up", "place"),
    [
        ([IN, IN, IN], [0.3, 0.7, 0.5], 1),
        ([CANT_TELL, OUT, IN], [1.3, 1.1, 0.9], 1),
        ([IN, OUT, IN], [0.9, 0.8, 0.2], 1),
        ([OUT, CANT_TELL, OUT], [1.2, 3.0, 1.6], 2),
        ([IN, CANT_TELL], [0.99, 0.95], 1),
        ([NO_LIMIT, IN], [0.0, 0.4], 1),
        ([NO_LIMIT, NO_LIMIT], [0.0, 0.0], None),
    ],
)
def test_it_is_the_worst_of_those_with_the_tools_own_verdict(
    points: list[Verdict], used_up: list[float], place: int | None
) -> None:
    assert deciding_point(points, used_up) == place
