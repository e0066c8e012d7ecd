"""Reading one table of a form: every field by name and kind, unknown ones refused."""

from collections.abc import Callable, Iterator, Mapping
from datetime import date
from decimal import Decimal
from typing import Any, TypeVar

from steelyard.errors import InputRefused
from steelyard.quantities import Dimension, Line, Quantity, Shape, read_number, read_quantity, read_within

T = TypeVar("T")
LONGEST_TEXT = 2000
EXAMPLES = {
    Dimension.TORQUE: "100 N·m",
    Dimension.MASS: "9.62 kg",
    Dimension.LENGTH: "450 mm",
    Dimension.ANGLE: "2°",
    Dimension.RATIO: "0.5 %",
    Dimension.TEMPERATURE: "21 °C",
    Dimension.PRESSURE: "1013 hPa",
    Dimension.DURATION: "2 s",
    Dimension.ACCELERATION: "9.8145 m/s²",
}
WHAT = {Dimension.TORQUE: "torque", Dimension.MASS: "mass", Dimension.LENGTH: "length"}


class Fields:
    """One table of a form. Each reader takes the field's name; `end` refuses what nobody asked for."""

    def __init__(self, table: object, *, place: str) -> None:
        if not isinstance(table, Mapping):
            raise InputRefused(place or "the file", table, "want-table", place=place)
        self._left: dict[str, Any] = dict(table)
        self.place = place

    def name(self, field: str) -> str:
        """The field in words: `tool.mass`."""
        return f"{self.place}.{field}" if self.place else field

    def has(self, field: str) -> bool:
        """The field is there and not yet read."""
        return field in self._left

    def end(self) -> None:
        """Raise InputRefused for the first field that was not read."""
        for field in self._left:
            raise InputRefused(self.place or "the file", field, "want-known-field")

    def peek(self, field: str) -> Any:
        """What stands there, left unread."""
        return self._left.get(field)

    def put(self, field: str, value: object) -> None:
        """Set what a reader will find there."""
        self._left[field] = value

    def raw(self, field: str) -> Any:
        """What stands there, or None."""
        return self._left.pop(field, None)

    def text(self, field: str) -> str | None:
        """A short text."""
        value = self.raw(field)
        if value is None:
            return None
        if not isinstance(value, str) or not value.strip():
            raise InputRefused(self.name(field), value, "want-text")
        if len(value) > LONGEST_TEXT:
            raise InputRefused(self.name(field), value, "want-shorter", longest=LONGEST_TEXT)
        if not all(c.isprintable() or c in "\n\t" for c in value):
            raise InputRefused(self.name(field), value, "want-printable")
        return value.strip()

    def needed(self, field: str, read: Callable[[str], T | None], wanted: str, **facts: object) -> T:
        """What `read(field)` returns; refused where the field is missing."""
        value = read(field)
        if value is None:
            raise InputRefused(self.name(field), None, wanted, **facts)
        return value

    def flag(self, field: str) -> bool | None:
        """true or false."""
        value = self.raw(field)
        if value is not None and not isinstance(value, bool):
            raise InputRefused(self.name(field), value, "want-true-false")
        return value

    def whole(self, field: str, *, least: int, most: int) -> int | None:
        """A whole number between two bounds."""
        value = self.raw(field)
        if value is None:
            return None
        if not isinstance(value, int) or isinstance(value, bool) or not least <= value <= most:
            raise InputRefused(self.name(field), value, "want-whole", least=least, most=most)
        return value

    def day(self, field: str) -> date | None:
        """A date, bare as 2026-11-20 or quoted."""
        value = self.raw(field)
        if isinstance(value, str):
            try:
                value = date.fromisoformat(value.strip())
            except ValueError:
                raise InputRefused(self.name(field), value, "want-date") from None
        if value is not None and type(value) is not date:
            raise InputRefused(self.name(field), value, "want-date")
        return value

    def choice(self, field: str, choices: Callable[[str], T], names: Iterator[str] | list[str]) -> T | None:
        """One of some words."""
        value = self.text(field)
        if value is None:
            return None
        listed = list(names)
        if value not in listed:
            raise InputRefused(self.name(field), value, "want-one-of", names=", ".join(listed))
        return choices(value)

    def number(self, field: str) -> Decimal | None:
        """A number without a unit: quoted, or bare where it is whole or has a point."""
        value = self.raw(field)
        if value is None:
            return None
        if isinstance(value, bool) or not isinstance(value, str | int | float):
            raise InputRefused(self.name(field), value, "want-number")
        return read_number(value if isinstance(value, str) else repr(value), field=self.name(field))

    def quoted(self, field: str, dimension: Dimension) -> str | None:
        """A text with a number and unit; a bare TOML number is refused with the reason."""
        value = self.raw(field)
        if value is not None and not isinstance(value, str):
            raise InputRefused(self.name(field), value, "want-unit", example=f'"{EXAMPLES[dimension]}"')
        return value

    def quantity(
        self, field: str, dimension: Dimension, *, above_zero: bool = True, signed: bool = False
    ) -> Quantity | None:
        """A number with its unit."""
        text = self.quoted(field, dimension)
        if text is None:
            return None
        quantity = read_quantity(text, dimension, field=self.name(field), example=EXAMPLES[dimension])
        if not signed:
            self._sign(field, quantity.base, quantity.typed, dimension, above_zero=above_zero)
        return quantity

    def line(
        self,
        field: str,
        line: str,
        dimension: Dimension,
        *,
        above_zero: bool = True,
        signed: bool = False,
        example: str = "",
    ) -> Line | None:
        """A value with an optional ± after it, as a rectangular line; or a table with value, U, k."""
        if isinstance(self._left.get(field), Mapping):
            return self._stated(field, line, dimension, above_zero=above_zero, signed=signed)
        text = self.quoted(field, dimension)
        if text is None:
            return None
        value, half = read_within(text, dimension, field=self.name(field), example=example)
        if not signed:
            self._sign(field, value.base, value.typed, dimension, above_zero=above_zero)
        width = float(half.exact) if half is not None else 0.0
        return Line(line, value.base, width, Shape.RECTANGULAR, unit=BASE_SYMBOL[dimension])

    def _stated(self, field: str, line: str, dimension: Dimension, *, above_zero: bool, signed: bool) -> Line:
        inner = Fields(self.raw(field), place=self.name(field))
        example = EXAMPLES[dimension]
        value = inner.needed(
            "value",
            lambda f: inner.quantity(f, dimension, above_zero=above_zero, signed=signed),
            "want-unit",
            example=example,
        )
        expanded = inner.needed(
            "U", lambda f: inner.quantity(f, dimension, above_zero=False), "want-unit", example=example
        )
        coverage = inner.needed("k", inner.number, "want-number")
        if coverage <= 0:
            raise InputRefused(inner.name("k"), coverage, "want-positive", what="number", example="2")
        inner.end()
        u = expanded.base / float(coverage)
        return Line(line, value.base, u, Shape.NORMAL, unit=BASE_SYMBOL[dimension])

    def _sign(self, field: str, base: float, typed: str, dimension: Dimension, *, above_zero: bool) -> None:
        facts = {"what": WHAT.get(dimension, "value"), "example": EXAMPLES[dimension]}
        if above_zero and base <= 0:
            raise InputRefused(self.name(field), typed, "want-positive", **facts)
        if base < 0:
            raise InputRefused(self.name(field), typed, "want-not-negative", **facts)

    def inner(self, field: str) -> "Fields":
        """A table within; empty where it is missing."""
        value = self.raw(field)
        return Fields({} if value is None else value, place=self.name(field))

    def tables(self, field: str, *, most: int = 200) -> list["Fields"]:
        """A list of tables within; empty where it is missing."""
        value = self.raw(field)
        if value is None:
            return []
        if not isinstance(value, list):
            raise InputRefused(self.name(field), value, "want-tables", table=field)
        if len(value) > most:
            raise InputRefused(self.name(field), f"{len(value)}", "want-fewer-tables", most=most)
        return [Fields(item, place=f"{self.name(field)} {i}") for i, item in enumerate(value, 1)]


BASE_SYMBOL = {
    Dimension.TORQUE: "N·m",
    Dimension.MASS: "kg",
    Dimension.LENGTH: "m",
    Dimension.ANGLE: "rad",
    Dimension.RATIO: "1",
    Dimension.TEMPERATURE: "°C",
    Dimension.PRESSURE: "Pa",
    Dimension.ACCELERATION: "m/s²",
}
