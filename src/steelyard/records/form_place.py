"""The table [place] of the check form: gravity and air where the check is made."""

import math
from dataclasses import dataclass, replace

from steelyard.errors import InputRefused
from steelyard.quantities import Dimension, Line, Shape
from steelyard.records.fields import Fields
from steelyard.surroundings import (
    air_density_at_height_kg_m3,
    air_density_kg_m3,
    local_gravity,
    plausible_gravity,
)

LATITUDE_EXAMPLE = "54.3 °"
AIR_WITHIN_RATIO = 0.05  # of a density estimated from height: weather and temperature, our assumption
AIR_MEASURED_RATIO = 0.005  # of one computed from readings of the room
AIR_ANYWHERE = Line("air-density", 1.1, 0.15, Shape.RECTANGULAR, unit="kg/m³")  # sea level to 2500 m


@dataclass(frozen=True)
class Place:
    """Where a check is made.

    gravity: with what is not known of it. [m/s²]; air: density, None leaves buoyancy out. [kg/m³]
    room_celsius, room_change_celsius: of the room, and by how much it changed during the check. [°C]
    is_gravity_known: False where nothing was said of the place and the whole range of the Earth stands in.
    """

    gravity: Line
    air: Line | None
    room_celsius: float | None
    room_change_celsius: float | None
    is_gravity_known: bool

    @property
    def is_air_assumed(self) -> bool:
        """Nothing was said of the height, and air of any inhabited place stands in."""
        return self.air is AIR_ANYWHERE


def read_place(fields: Fields) -> Place:
    """Where the check is made; an empty table means anywhere on Earth."""
    given = fields.line("gravity", "gravity", Dimension.ACCELERATION)
    latitude = _latitude(fields)
    height = fields.line("height", "height", Dimension.LENGTH, above_zero=False, signed=True)
    room = fields.quantity("room_temperature", Dimension.TEMPERATURE, signed=True)
    change = fields.quantity("room_change", Dimension.TEMPERATURE, above_zero=False)
    pressure = fields.quantity("air_pressure", Dimension.PRESSURE)
    humidity = fields.quantity("humidity", Dimension.RATIO, above_zero=False)
    buoyancy = fields.flag("buoyancy")
    fields.end()
    if given is not None and not 9.7 <= given.value <= 9.9:
        raise InputRefused(
            "place.gravity", f"{given.value:.6g} m/s²", "want-between", least=9.7, most=9.9, unit="m/s²"
        )
    if latitude is not None and height is None:
        raise InputRefused("place.height", None, "want-unit", example="12 m")
    gravity = given
    if gravity is None and latitude is not None and height is not None:
        gravity = local_gravity(
            math.degrees(latitude.value),
            height_metre=height.value,
            latitude_within_degree=math.degrees(latitude.u) * math.sqrt(3),
            height_within_metre=height.u * math.sqrt(3),
        )
    room_celsius = room.base if room is not None else None
    measured = (
        room_celsius,
        pressure.base / 100 if pressure else None,
        humidity.base * 100 if humidity else None,
    )
    air = None if buoyancy is False else _air(measured, height)
    return Place(
        gravity or _anywhere(), air, room_celsius, change.base if change else None, gravity is not None
    )


def _latitude(fields: Fields) -> Line | None:
    """Degrees north; south with a minus or an S behind."""
    text = fields.peek("latitude")
    half = text.strip()[-1:].upper() if isinstance(text, str) else ""
    if isinstance(text, str) and half in ("N", "S"):
        fields.put("latitude", text.strip()[:-1])
    line = fields.line("latitude", "latitude", Dimension.ANGLE, signed=True, example=LATITUDE_EXAMPLE)
    return replace(line, value=-line.value) if line is not None and half == "S" else line


def _anywhere() -> Line:
    line = plausible_gravity()
    return Line("gravity", line.value, line.width, line.shape, unit=line.unit)


def _air(measured: tuple[float | None, float | None, float | None], height: Line | None) -> Line:
    room, pressure, humidity = measured
    if room is not None and pressure is not None and humidity is not None:
        density = air_density_kg_m3(room, pressure_hectopascal=pressure, humidity_percent=humidity)
        return Line("air-density", density, density * AIR_MEASURED_RATIO, Shape.RECTANGULAR, unit="kg/m³")
    if height is not None:
        density = air_density_at_height_kg_m3(height.value)
        return Line("air-density", density, density * AIR_WITHIN_RATIO, Shape.RECTANGULAR, unit="kg/m³")
    return AIR_ANYWHERE
