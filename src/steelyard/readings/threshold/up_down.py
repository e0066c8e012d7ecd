"""The up-and-down estimate of Dixon and Mood, for comparison."""

from collections.abc import Sequence
from dataclasses import dataclass

from steelyard.errors import InputRefused

RATIO = 0.3  # below which the standard deviation is no more than a guess


@dataclass(frozen=True, slots=True)
class UpDown:
    """mean, s: of the thresholds, in the unit of the levels. s_is_guess: too little scatter for more."""

    mean: float
    s: float
    s_is_guess: bool
    counted: int


def dixon_mood(
    levels: Sequence[float], responded: Sequence[bool], *, step: float, by_responses: bool | None = None
) -> UpDown:
    """Mean and standard deviation from an up-and-down run.

    levels: of each trial, on one lattice. responded: whether it gave way (clicked, failed), as long.
    step: of the lattice, > 0. by_responses: count the responses, or the others; None: whichever is rarer,
        the responses where both are as many.
    Raises InputRefused where nothing of the counted sort happened.
    Source: m = x₀ + d(A/N ∓ ½), s = 1.62 d((NB − A²)/N² + 0.029), or 0.53 d where that ratio is below 0.3;
        Çalışkan et al. 2021, doi 10.3221/IGF-ESIS.58.25, eq. 1–4 (after Dixon and Mood).
    """
    yes = sum(responded)
    if by_responses is None:
        by_responses = yes <= len(responded) - yes
    chosen = [x for x, y in zip(levels, responded, strict=True) if y is by_responses]
    if not chosen:
        raise InputRefused("trials", len(levels), "want-both-answers")
    least = min(chosen)
    places = [round((x - least) / step) for x in chosen]
    n, a, b = len(places), sum(places), sum(i * i for i in places)
    ratio = (n * b - a * a) / n**2
    mean = least + step * (a / n - 0.5 if by_responses else a / n + 0.5)
    if ratio < RATIO:
        return UpDown(mean, 0.53 * step, True, n)
    return UpDown(mean, 1.62 * step * (ratio + 0.029), False, n)
