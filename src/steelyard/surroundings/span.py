"""The range a formula is good for, and the refusal of what lies outside it."""

from dataclasses import dataclass

from steelyard.errors import InputRefused


@dataclass(frozen=True, slots=True)
class Span:
    """From `least` to `most`, both included, of one quantity.

    field: what the form calls it, such as `latitude`.
    unit: symbol of both ends, as a person reads it.
    """

    field: str
    least: float
    most: float
    unit: str

    def check(self, given: float) -> None:
        """Raises InputRefused unless `given` lies in the range; nan and inf do not."""
        if not self.least <= given <= self.most:
            raise InputRefused(
                self.field, given, "want-between", least=self.least, most=self.most, unit=self.unit
            )


HEIGHT = Span("height", -500, 9000, "m")
