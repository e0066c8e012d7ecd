"""One pull: what was read, what it is worth, and why it may not count."""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Pull:
    """One pull of the tool.

    typed: what the person wrote, unit and all.
    raw: load [kg] or indication [N m] at the signal; what the tool showed [N m] where the load was known.
    half_step: half the step between the last load without and the first with a click; 0 where none. [as raw]
    struck_out: why it does not count; None where it does. It stays visible.
    never_clicked: the load given was reached without a click, so the true one lies above.
    clicked: the answer of a yes/no trial under this load; None where the pull is no trial.
    set_newton_metre: what the tool was set to for this trial; None: the target. [N m]
    """

    typed: str
    raw: float
    half_step: float = 0.0
    struck_out: str | None = None
    never_clicked: bool = False
    clicked: bool | None = None
    set_newton_metre: float | None = None

    @property
    def is_counted(self) -> bool:
        """It enters mean and spread."""
        return self.struck_out is None and not self.never_clicked and self.clicked is None

    @property
    def is_said(self) -> bool:
        """It stands: not struck out."""
        return self.struck_out is None


def counted(pulls: Sequence[Pull]) -> tuple[Pull, ...]:
    """Those that enter mean and spread, in order."""
    return tuple(pull for pull in pulls if pull.is_counted)
