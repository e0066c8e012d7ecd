"""The limit a tool is held to: how much, of what, in which convention, and whose it is."""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum


class Measure(StrEnum):
    """How a deviation is counted, X what was set or shown and T what the reference says.

    ISO: (X − T)/T. APPLIED: (T − X)/X. FULL_SCALE_ISO and FULL_SCALE_APPLIED: X − T and T − X over the tool's
    maximum. Source: ISO 6789-2:2017 5.1 (from memory); SAE AS28431A (seen in a secondary source).
    """

    ISO = "iso"
    APPLIED = "applied"
    FULL_SCALE_ISO = "full-scale-iso"
    FULL_SCALE_APPLIED = "full-scale-applied"


@dataclass(frozen=True, slots=True)
class Limit:
    """A maximum permissible deviation.

    percent: of reading or of full scale, to either side. > 0
    measure: how the deviation is counted.
    source: whose limit it is, as printed beside it.
    small_percent, small_up_to_newton_metre, split_by_point: another percentage for tools whose
        maximum (or for points whose target) is not above a torque.
    other_direction_percent: in a direction that is not the tool's main one.
    from_percent_of_maximum: below that part of the tool's maximum the limit does not apply.
    published: its code where it was taken from a published table; None where a person wrote it.
    """

    percent: Decimal
    measure: Measure
    source: str
    small_percent: Decimal | None = None
    small_up_to_newton_metre: Decimal | None = None
    split_by_point: bool = False
    other_direction_percent: Decimal | None = None
    from_percent_of_maximum: Decimal | None = None
    published: str | None = None

    def percent_at(
        self, target_newton_metre: float, *, maximum_newton_metre: float, is_main_direction: bool
    ) -> Decimal | None:
        """The percentage that applies at a point; None where the limit does not reach so low."""
        if self.from_percent_of_maximum is not None:
            lowest = float(self.from_percent_of_maximum) / 100 * maximum_newton_metre
            if target_newton_metre < lowest * (1 - 1e-12):
                return None
        if not is_main_direction and self.other_direction_percent is not None:
            return self.other_direction_percent
        if self.small_percent is not None and self.small_up_to_newton_metre is not None:
            split = target_newton_metre if self.split_by_point else maximum_newton_metre
            if split <= float(self.small_up_to_newton_metre) * (1 + 1e-12):
                return self.small_percent
        return self.percent
