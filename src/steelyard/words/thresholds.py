"""What yes/no answers say of a tool, in the same words at every door."""

from collections.abc import Callable, Mapping
from typing import Any

from steelyard.words.catalogue import say

Number = Callable[[float], float]
"""A number as the reader wants it printed."""
ONE_SIDED = {
    "only-clicks": ("bolts-at-most", "bound-at-most-more", "bound-at-most-less"),
    "only-no-clicks": ("bolts-at-least", "bound-at-least-more", "bound-at-least-less"),
}
"""The sentence, and the bound in it: above what was set, and below."""


def bolts_bound(threshold: Mapping[str, Any], number: Number) -> str:
    """What answers of one side alone say; empty where there is an estimate.

    threshold: `sides` and `bracket_percent`, as the content of a record has them.
    """
    codes = ONE_SIDED.get(threshold["sides"])
    if codes is None:
        return ""
    code, more, less = codes
    percent = next(end for end in threshold["bracket_percent"] if end is not None)
    return say(code, bound=say(more if percent >= 0 else less, percent=number(abs(percent))))


def bolts_estimate(percent: float, low: float, high: float, number: Number) -> str:
    """What bolts get against what was set, and between which ends. All in percent, more counted up."""
    code = "bolts-same" if round(percent, 1) == 0 else "bolts-more" if percent > 0 else "bolts-less"
    bolts = say(code, percent=number(abs(percent)), than=say("than-set"))
    return say("trials-estimate", bolts=bolts, between=between(low, high, number))


def between(low: float, high: float, number: Number) -> str:
    """An interval of what bolts get, in words of more and less."""
    if low < 0 < high:
        return say("trials-between-sides", low=number(-low), high=number(high))
    near, far = sorted((abs(low), abs(high)))
    side = say("trials-side-more" if high > 0 else "trials-side-less")
    return say("trials-between", low=number(near), high=number(far), side=side)


def bracket_lines(threshold: Mapping[str, Any], number: Number) -> tuple[str, ...]:
    """Bracket and scatter; nothing where answers of one side alone leave no bracket.

    threshold: as the content of a record has it.
    """
    low, high = threshold["bracket_percent"]
    if low is None or high is None:
        return ()
    scatter = {
        "scatter": threshold["scatter_percent"],
        "low": threshold["scatter_low_percent"],
        "high": threshold["scatter_high_percent"],
    }
    return (
        say(
            "trials-separated" if threshold["sides"] == "separated" else "trials-overlap",
            low=number(low),
            high=number(high),
        ),
        say("trials-scatter", **{name: number(value) for name, value in scatter.items()}),
    )


def answer_said(*, clicked: bool | None, never: bool) -> str:
    """One answer in words. clicked: None of a load between two, or poured."""
    if never:
        return say("trial-never-clicked")
    if clicked is None:
        return say("trial-clicked-between")
    return say("trial-clicked" if clicked else "trial-did-not")


def as_set(*, set_to: str | None, at: str | None) -> str:
    """What the tool was set to and where the load hung, where that is not as planned; empty where it is."""
    parts = [say("trial-set", set=set_to)] if set_to else []
    parts += [say("trial-at", at=at)] if at else []
    return ", ".join(parts)
