"""The points of a check at a glance, and torques as the page at the vice prints them."""

from dataclasses import dataclass

from steelyard.desk.ports import Body
from steelyard.quantities import Quantity
from steelyard.records import counted, is_enough, pulls_by_point


@dataclass(frozen=True)
class Glance:
    """One planned point. counted: pulls that count, answers of yes/no trials among them; trials: these alone;
    struck: those struck out. is_enough: more trials would not change the verdict.
    """

    number: int
    target: str
    direction: str
    counted: int
    struck: int
    planned: int
    trials: int = 0
    is_enough: bool = False

    @property
    def is_done(self) -> bool:
        """All planned pulls are read, or more yes/no trials would not change the verdict."""
        return self.is_enough or self.counted >= self.planned


def points_at_a_glance(body: Body, phase: str) -> tuple[Glance, ...]:
    """Every planned point of a check with how far it is; none before the kit is set up."""
    if body["setup"] is None:
        return ()
    return tuple(
        Glance(
            number=i,
            target=str(point["target"]),
            direction=str(point["direction"]),
            counted=len(counted(pulls)),
            struck=sum(pull["struck_out"] is not None for pull in pulls),
            planned=int(point["planned_pulls"]),
            trials=sum("clicked" in pull["pull"] for pull in counted(pulls)),
            is_enough=is_enough(body, phase, i),
        )
        for i, (point, pulls) in enumerate(
            zip(body["setup"]["points"], pulls_by_point(body, phase), strict=True)
        )
    )


def four_digits(like: Quantity) -> int:
    """Decimals with which a number of the size of a quantity has about four digits."""
    size = abs(float(like.number))
    return 2 if size >= 10 else 3 if size >= 1 else 4


def torque_in(newton_metre: float, like: Quantity, *, signed: bool = False) -> str:
    """A torque in the unit of another one, with about four digits at its size; the point as decimal mark."""
    decimals = four_digits(like)
    value = newton_metre / float(like.unit.factor)
    return f"{value:+.{decimals}f}" if signed else f"{value:.{decimals}f}"
