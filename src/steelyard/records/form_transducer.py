"""A transducer or digital adapter in the check form, with its paper."""

import math
from decimal import Decimal

from steelyard.errors import InputRefused
from steelyard.quantities import Dimension, Line, Shape
from steelyard.records.fields import Fields
from steelyard.records.kit import PaperFacts, TransducerKit
from steelyard.rigs import Axis, Paper, PaperRow, PaperStates, PullWay, Transducer, Zeroed, read_paper

MODES = ["track", "peak", "first-peak"]
TELLING = 5e-4  # of the torque: below that the wrong sense of a paper does no harm
OTHERS = ("drift", "hysteresis", "temperature", "mounting")
LEVEL = Line("droop", 0.0, math.radians(3), unit="rad")


def read_transducer(fields: Fields, name: str) -> TransducerKit:
    """The transducer of a check; axis and zero are always asked for.

    A display that flickers by more than a step counts as half the flicker and one step.
    Source: DKD-R 3-8:2003 (seen).
    """
    resolution = fields.needed(
        "resolution", lambda f: fields.quantity(f, Dimension.TORQUE), "want-unit", example="0.1 N·m"
    )
    flicker = fields.quantity("flicker", Dimension.TORQUE, above_zero=False)
    step = resolution.base
    if flicker is not None and flicker.base > step:
        step += flicker.base / 2
    paper_fields = fields.inner("paper") if fields.has("paper") else None
    paper, facts = _paper(paper_fields) if paper_fields is not None else (None, None)
    of_reading = fields.quantity("stated_of_reading", Dimension.RATIO)
    of_full_scale = fields.quantity("stated_of_full_scale", Dimension.TORQUE)
    if paper is None and of_reading is None and of_full_scale is None:
        raise InputRefused("kit.paper", None, "want-paper-or-accuracy")
    others = []
    for other in OTHERS:
        half = fields.quantity(other, Dimension.RATIO, above_zero=False)
        if half is not None and half.base > 0.0:
            others.append(Line(other, 0.0, half.base, Shape.RECTANGULAR))
    zero = fields.quantity("zero_reading", Dimension.TORQUE, signed=True)
    kit = TransducerKit(
        name=name,
        transducer=Transducer(
            paper=paper,
            stated_of_reading=Line("stated", 0.0, of_reading.base) if of_reading else None,
            stated_of_full_scale=(
                Line("stated-full-scale", 0.0, of_full_scale.base, unit="N·m") if of_full_scale else None
            ),
            others=tuple(others),
            resolution=Line("resolution", 0.0, step, Shape.TRIANGULAR, shared=False, unit="N·m"),
        ),
        paper=facts,
        axis=fields.needed("axis", lambda f: fields.choice(f, Axis, list(Axis)), "want-axis"),
        zeroed=fields.needed("zeroed", lambda f: fields.choice(f, Zeroed, list(Zeroed)), "want-zero"),
        pull=fields.choice("pull", PullWay, list(PullWay)),
        droop=LEVEL,
        mode=fields.choice("mode", str, MODES) or "track",
        is_torque_tool=fields.flag("torque_tool") or False,
        zero_newton_metre=zero.base if zero is not None else 0.0,
    )
    fields.end()
    return kit


def _paper(fields: Fields) -> tuple[Paper, PaperFacts]:
    states = fields.needed(
        "states",
        lambda f: fields.choice(f, PaperStates, list(PaperStates)),
        "want-one-of",
        names=", ".join(PaperStates),
    )
    facts = PaperFacts(
        fields.text("certificate"), fields.text("laboratory"), fields.day("issued"), fields.day("due")
    )
    rows = tuple(_row(table, states) for table in fields.tables("row"))
    steps = [row.indication_newton_metre for row in rows]
    if not rows or any(b <= a for a, b in zip(steps, steps[1:], strict=False)):
        raise InputRefused(fields.name("row"), None, "want-rising-rows")
    paper = Paper(states, rows)
    shows = fields.needed(
        "worked_shows", lambda f: fields.quantity(f, Dimension.TORQUE), "want-unit", example="100.0 N·m"
    )
    true = fields.needed(
        "worked_true", lambda f: fields.quantity(f, Dimension.TORQUE), "want-unit", example="99.5 N·m"
    )
    _confirm(paper, shows.base, true.base, step=true.step_base, typed=true.typed)
    fields.end()
    return paper, facts


def _confirm(paper: Paper, shows: float, true: float, *, step: float, typed: str) -> None:
    """Raise unless the worked row says what the person's choice of `states` makes of it."""
    states, line = read_paper(paper, shows)
    expected = shows / (1 + line.value) if states is PaperStates.ERROR else shows * (1 + line.value)
    if abs(expected - true) > step / 2 * (1 + 1e-9):
        raise InputRefused("kit.paper.worked_true", typed, "want-worked-row", expected=f"{expected:.6g} N·m")
    other = 2 * shows - expected  # about what the opposite sense would make of it
    if abs(other - true) <= step / 2 and abs(other - expected) > TELLING * shows:
        raise InputRefused("kit.paper.worked_true", typed, "want-finer-worked-row")


def _row(fields: Fields, states: PaperStates) -> PaperRow:
    at = fields.needed("at", lambda f: fields.quantity(f, Dimension.TORQUE), "want-unit", example="100 N·m")
    if states is PaperStates.TORQUE:
        torque = fields.needed(
            "torque", lambda f: fields.quantity(f, Dimension.TORQUE), "want-unit", example="99.5 N·m"
        )
        stated = torque.base
    else:
        ratio = fields.needed(
            states.value,
            lambda f: fields.line(f, f, Dimension.RATIO, signed=True),
            "want-unit",
            example="0.5 %",
        )
        stated = ratio.value
    expanded = fields.needed("U", lambda f: fields.quantity(f, Dimension.RATIO), "want-unit", example="0.3 %")
    coverage = fields.number("k") or Decimal(2)
    if coverage <= 0:
        raise InputRefused(fields.name("k"), coverage, "want-positive", what="number", example="2")
    fields.end()
    return PaperRow(at.base, stated, expanded.base, float(coverage))
