"""Kinds of hand torque tools and what each implies for a check."""

from enum import StrEnum


class Kind(StrEnum):
    """What sort of tool it is: setting tools signal a torque (Type II), indicating ones show it (Type I)."""

    CLICK_ADJUSTABLE = "click-adjustable"
    CLICK_PRESET = "click-preset"
    CLICK_NO_SCALE = "click-no-scale"
    SPLIT_BEAM = "split-beam"
    BREAK_OVER = "break-over"
    SLIPPER_WRENCH = "slipper-wrench"
    SLIPPER_DRIVER = "slipper-driver"
    DRIVER_ADJUSTABLE = "driver-adjustable"
    DRIVER_PRESET = "driver-preset"
    DRIVER_DIAL = "driver-dial"
    DRIVER_ELECTRONIC = "driver-electronic"
    DIAL = "dial"
    BEAM = "beam"
    ELECTRONIC = "electronic"

    @property
    def is_driver(self) -> bool:
        """Without an arm: nothing can be hung on it."""
        return self in _DRIVERS

    @property
    def is_indicating(self) -> bool:
        """It shows a torque instead of signalling one that was set."""
        return self in _INDICATING

    @property
    def is_adjustable(self) -> bool:
        """The person sets a torque on a scale, which then has a resolution."""
        return self in _SET_ON_A_SCALE

    @property
    def trips_about_a_pivot(self) -> bool:
        """Where the hand pulls may matter, because the mechanism's pivot may lie off the drive axis."""
        return not self.is_driver and self is not Kind.BEAM


_DRIVERS = {
    Kind.SLIPPER_DRIVER,
    Kind.DRIVER_ADJUSTABLE,
    Kind.DRIVER_PRESET,
    Kind.DRIVER_DIAL,
    Kind.DRIVER_ELECTRONIC,
}
_INDICATING = {Kind.DRIVER_DIAL, Kind.DRIVER_ELECTRONIC, Kind.DIAL, Kind.BEAM, Kind.ELECTRONIC}
_SET_ON_A_SCALE = {Kind.CLICK_ADJUSTABLE, Kind.SPLIT_BEAM, Kind.SLIPPER_WRENCH, Kind.DRIVER_ADJUSTABLE}
