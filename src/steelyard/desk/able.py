"""Before any work: can this kit decide this tool at these points?"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from steelyard.desk.cases import indication_reference, point_case
from steelyard.errors import InputRefused
from steelyard.evaluation import (
    Fitness,
    fitness,
    planned_raws,
    reference_for_load,
)
from steelyard.findings import Finding, Severity
from steelyard.published import HAND_LIFT
from steelyard.records import CheckForm, HungKit, PointForm, read_check
from steelyard.rigs import Load, together, weighed_directly
from steelyard.surroundings import STANDARD_GRAVITY_M_S2

USUAL_SCATTER = 0.005  # of single pulls where nobody said, our assumption; shown as such
WELL_KNOWN = 0.005  # standard uncertainty of a mass, of itself: worse ones are left on the floor, our choice
SETTLED = 1e-9


@dataclass(frozen=True)
class AblePoint:
    """What the kit can decide at one point.

    mass_kilogram: to be hung so that the kit says the target; None for a transducer.
    step_kilogram: in which that load can grow, half of it to either side is in U; 0 where it is poured.
    grip_newton: force at the grip mark; None where the tool has none.
    always: what of that load hangs at every pull by itself, as typed; always_kilogram: its mass.
    """

    form: PointForm
    limit_percent: str | None
    fitness: Fitness
    mass_kilogram: float | None
    step_kilogram: float
    grip_newton: float | None
    always: str = ""
    always_kilogram: float = 0.0

    @property
    def grip_kilogram(self) -> float | None:
        """The mass that pulls as hard as the hand must, in standard gravity."""
        return self.grip_newton / STANDARD_GRAVITY_M_S2 if self.grip_newton is not None else None


@dataclass(frozen=True)
class AbleKit:
    """A kit and a tool before the work. scatter_ratio: spread of single pulls; is_guessed: nobody said it."""

    form: CheckForm
    points: tuple[AblePoint, ...]
    scatter_ratio: float
    is_guessed: bool
    findings: tuple[Finding, ...]

    @property
    def verdict(self) -> str:
        """`able`, `partly`, or `hopeless` at every point that has a limit."""
        limited = [p.fitness.is_hopeless for p in self.points if p.limit_percent is not None]
        return "able" if not any(limited) else "hopeless" if all(limited) else "partly"


def ask_kit(content: bytes) -> AbleKit:
    """What a kit can decide.

    content: a check form; pulls in it are not looked at and may be missing.
    Raises InputRefused with field, value and what is wanted.
    """
    return ask_form(read_check(content))


def ask_form(form: CheckForm) -> AbleKit:
    """What a kit can decide, of a form that was read already.

    Raises InputRefused where the kit or the tool lacks something, such as the tool's own weight.
    """
    given = form.tool.expected_scatter_ratio
    scatter = given if given is not None else USUAL_SCATTER
    points = tuple(_point(form, point, scatter) for point in form.points)
    return AbleKit(form, points, scatter, given is None, tuple(_findings(form, points)))


def _findings(form: CheckForm, points: tuple[AblePoint, ...]) -> Iterator[Finding]:
    heaviest = max((p.mass_kilogram or 0.0 for p in points), default=0.0)
    if heaviest > HAND_LIFT.most:
        yield Finding("heavy-load", Severity.WARN, {"load_kilogram": heaviest})
    if isinstance(form.kit, HungKit) and not form.place.is_gravity_known:
        yield Finding("gravity-unknown", Severity.WARN)


def _point(form: CheckForm, point: PointForm, scatter: float) -> AblePoint:
    target, pulls = point.target.base, point.planned_pulls
    kit, mark = form.kit, form.tool.grip_mark
    mass = None
    if isinstance(kit, HungKit):
        load = point.load or load_for_target(form, point, kit)
        reference = reference_for_load(form.tool, kit.rig, load)
        raw = mass = load.kilogram
    else:
        reference = indication_reference(form, kit, point, target)
        raw = target
    shows = mass is not None and form.tool.kind.is_indicating
    step = 0.0 if shows or not isinstance(kit, HungKit) else _step_kilogram(kit)
    case = point_case(
        form,
        point,
        reference,
        raws=(raw,) * pulls if shows else planned_raws(raw, scatter_ratio=scatter, pulls=pulls),
        shown=planned_raws(target, scatter_ratio=scatter, pulls=pulls) if shows else (target,) * pulls,
        half_steps=(step / 2,) * pulls,
    )
    found = fitness(case, scatter_ratio=scatter, seed=form.seed)
    limit = str(case.limit_percent) if case.limit_percent is not None else None
    grip = target / mark.value if mark is not None else None
    always = kit.always if isinstance(kit, HungKit) else None
    return AblePoint(
        point,
        limit,
        found,
        mass,
        step,
        grip,
        always=kit.always_typed if isinstance(kit, HungKit) else "",
        always_kilogram=always.kilogram if always is not None else 0.0,
    )


def _step_kilogram(kit: HungKit) -> float:
    """The finest step in which the load can grow: none where a bucket is weighed, else the smallest mass."""
    if kit.scales or not kit.masses:
        return 0.0
    return min(mass.kilogram for mass in kit.masses.values())


def load_for_target(form: CheckForm, point: PointForm, kit: HungKit) -> Load:
    """A load of the kit's own masses or on its scale that makes the target, what always hangs included.

    Raises InputRefused where the tool alone makes more, where the kit has nothing to hang, and where the
    tool lacks something such as its own weight.
    """
    kilogram = point.target.base / STANDARD_GRAVITY_M_S2 / _arm_metre(kit)
    for _ in range(100):  # torque is a straight line in the load: the secant step lands at once
        load = _made(kilogram, point, kit)
        reference = reference_for_load(form.tool, kit.rig, load)
        torque = reference.torque_newton_metre(kilogram)
        slope = reference.torque_newton_metre(kilogram + 1) - torque
        step = (point.target.base - torque) / slope
        kilogram += step
        if kilogram <= 0:
            raise InputRefused(f"point {point.name}", point.target.typed, "want-torque-above-own")
        if abs(step) < SETTLED * kilogram:
            break
    return _made(kilogram, point, kit)


def _arm_metre(kit: HungKit) -> float:
    from steelyard.rigs import HungWeight

    return kit.rig.arm.value if isinstance(kit.rig, HungWeight) else kit.rig.drum.value / 2


def _known_best(kit: HungKit, kilogram: float) -> list[Load]:
    """The masses that are known well where they suffice, else all."""
    masses = list(kit.masses.values())
    well = [m for m in masses if math.hypot(*(line.u for line in m.lines)) <= WELL_KNOWN * m.kilogram]
    return well if math.fsum(m.kilogram for m in well) >= kilogram else masses


def _made(kilogram: float, point: PointForm, kit: HungKit) -> Load:
    """That mass out of the kit's masses, largest first, if they suffice; else weighed on its first scale."""
    always = kit.always
    rest = kilogram - (always.kilogram if always is not None else 0.0)
    chosen = [always] if always is not None else []
    if math.fsum(mass.kilogram for mass in kit.masses.values()) >= rest:
        for mass in sorted(_known_best(kit, rest), key=lambda m: -m.kilogram):
            if mass.kilogram <= rest:
                chosen.append(mass)
                rest -= mass.kilogram
        chosen = chosen or [min(kit.masses.values(), key=lambda m: m.kilogram)]
    elif kit.scales:
        chosen.append(weighed_directly(next(iter(kit.scales.values())), max(rest, 1e-3)))
    if not chosen:
        raise InputRefused(f"point {point.name}", f"{kilogram:.3f} kg", "want-means-to-load")
    load = together(chosen)
    lines = load.lines if kit.dribble is None else (*load.lines, kit.dribble)
    return Load(kilogram, lines, load.knowing)
