"""Before any work: how well a kit would know a point, and which improvement would help most."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from steelyard.evaluation.point import estimate
from steelyard.evaluation.point_model import PointCase
from steelyard.quantities import Line, Shape
from steelyard.rigs import Reference

DRAWS = 200_000
WORTH = 0.05  # part of U that an improvement must take off to be named
MORE_PULLS = 10
PAPER_U = 0.0015  # of a paper with U = 0.3 %, k = 2


@dataclass(frozen=True)
class Improvement:
    """One change and the U it would lead to. [%]"""

    change: str
    expanded_percent: float


@dataclass(frozen=True)
class Fitness:
    """What a kit can decide at one point.

    expanded_percent: the full U to be expected at the verdict: kit, tool's resolution, declared spread.
    passes_percent: a tool is passed only when it is inside this; negative where no tool can pass; None where
        no limit applies.
    improvements: those worth it, best first.
    """

    expanded_percent: float
    passes_percent: float | None
    improvements: tuple[Improvement, ...]

    @property
    def is_hopeless(self) -> bool:
        """Even a tool without any deviation could not be passed."""
        return self.passes_percent is not None and self.passes_percent <= 0


def planned_raws(raw: float, *, scatter_ratio: float, pulls: int) -> tuple[float, ...]:
    """Readings about `raw` whose relative standard deviation is exactly the declared one, shape (pulls,)."""
    steps = [i - (pulls - 1) / 2 for i in range(pulls)]
    s = math.sqrt(math.fsum(x * x for x in steps) / (pulls - 1))
    return tuple(raw * (1 + scatter_ratio * x / s) for x in steps)


def fitness(case: PointCase, *, scatter_ratio: float, seed: int) -> Fitness:
    """The U to be expected at a point, and ranked improvements.

    case: of the planned raws, see `planned_raws`. scatter_ratio: declared spread of single pulls. [1]
    seed: of the Monte Carlo; the same for every change, so that they can be compared.
    Source: docs/explanation/uncertainty.md; ranked by Monte Carlo because the Welch–Satterthwaite U is not
    monotone in its inputs.
    """
    now = _expanded(case, seed)
    changes = []
    for change, changed in _changes(case, scatter_ratio):
        then = _expanded(changed, seed)
        if then < now * (1 - WORTH):
            changes.append(Improvement(change, then))
    limit = float(case.limit_percent) if case.limit_percent is not None else None
    ranked = tuple(sorted(changes, key=lambda c: c.expanded_percent))
    return Fitness(now, limit - now if limit is not None else None, ranked)


def _expanded(case: PointCase, seed: int) -> float:
    torques = [case.reference.torque_newton_metre(raw) for raw in case.raws]
    return estimate(case, case.measure, torques, seed=seed, draws=DRAWS).expanded_percent


def _narrow(width: float) -> Callable[[Line], Line]:
    """A rectangle no wider than this, in the line's own unit."""
    return lambda line: replace(line, width=width, shape=Shape.RECTANGULAR) if line.width > width else line


def _scaled(ratio: float) -> Callable[[Line], Line]:
    return lambda line: replace(line, width=line.width * ratio)


def _relative(ratio: float) -> Callable[[Line], Line]:
    """A rectangle no wider than this part of the line's value."""
    return lambda line: _narrow(abs(line.value) * ratio)(line)


def _stated_by_paper(line: Line) -> Line:
    return replace(line, width=PAPER_U, shape=Shape.NORMAL) if line.u > PAPER_U else line


CHANGES: tuple[tuple[str, tuple[str, ...], Callable[[Line], Line]], ...] = (
    ("change-arm", ("arm",), _narrow(0.001)),
    ("change-droop", ("droop",), _narrow(math.radians(0.5))),
    ("change-drop", ("drop",), _narrow(0.002)),
    ("change-own-weight", ("own-mass", "own-arm"), _relative(0.005)),
    ("change-pivot", ("pivot",), _narrow(0.005)),
    (
        "change-load",
        ("mass", "weighed-mass", "scale", "scale-rounding", "dribble", "load-step"),
        _scaled(0.1),
    ),
    ("change-gravity", ("gravity",), _relative(1e-4)),
    ("change-scale-gravity", ("gravity-adjust",), _relative(5e-4)),
    ("change-paper", ("stated", "paper"), _stated_by_paper),
    ("change-drift", ("drift",), _narrow(0.001)),
    ("change-resolution", ("resolution",), _scaled(0.1)),
    ("change-own-state", ("own-weight-unknown",), _narrow(0.0)),
    ("change-setting", ("setting", "reading"), _scaled(0.2)),
)


def _changes(case: PointCase, scatter_ratio: float) -> Sequence[tuple[str, PointCase]]:
    """Each change that touches this case, with the case as it would then be."""
    changed = []
    for change, names, make in CHANGES:
        reference = tuple(make(line) if line.name in names else line for line in case.reference.lines)
        tool = tuple(make(line) if line.name in names else line for line in case.tool_lines)
        if (reference, tool) != (case.reference.lines, case.tool_lines):
            model = Reference(case.reference.model, reference)
            changed.append((change, replace(case, reference=model, tool_lines=tool)))
    if len(case.raws) < MORE_PULLS:
        middle = math.fsum(case.raws) / len(case.raws)
        more = replace(
            case,
            raws=planned_raws(middle, scatter_ratio=scatter_ratio, pulls=MORE_PULLS),
            shown=case.shown[:1] * MORE_PULLS,
            half_steps=case.half_steps[:1] * MORE_PULLS,
        )
        changed.append(("change-pulls", more))
    return changed
