"""One torque tool: what is written on it and what was measured on it."""

from dataclasses import dataclass

from steelyard.quantities import Line, Quantity
from steelyard.tools.kinds import Kind


@dataclass(frozen=True)
class Tool:
    """A hand torque tool.

    number: the shop's own. lowest, highest: range from the lowest marked value.
    step_newton_metre: graduation of its scale or last digit of its display; None for preset tools. [N m]
    directions: in which it is used, the main one first.
    grip_mark: drive axis to the middle of the grip. [m]; length_independent: declared so by its maker.
    pivot: drive axis to the pivot of a click head, where it is known. [m]
    mass: of the whole tool. [kg]
    own_mass, own_arm: mass and balance point, or reading of a scale and where it lay. [kg], [m];
        own_by_force: that scale was a force-type one adjusted elsewhere.
    is_zeroed: an indicating tool zeroed in the measuring position, its own weight acting.
    is_set_each_time: the setting was made afresh for each pull.
    beam_scale: drive axis to the scale of a beam wrench. [m]
    expected_scatter_ratio: standard deviation of single pulls, as expected before the work. [1]
    """

    number: str
    kind: Kind
    make: str | None
    lowest: Quantity
    highest: Quantity
    step_newton_metre: float | None
    directions: tuple[str, ...]
    grip_mark: Line | None
    length_independent: bool | None
    pivot: Line | None
    mass: Line | None
    own_mass: Line | None
    own_arm: Line | None
    own_by_force: bool
    is_zeroed: bool
    is_set_each_time: bool
    beam_scale: Line | None
    expected_scatter_ratio: float | None

    @property
    def own_is_zero_on_purpose(self) -> bool:
        """Its own weight was given as nothing."""
        return self.own_mass is not None and self.own_mass.value == 0.0
