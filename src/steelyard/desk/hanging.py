"""What hangs at a point, and what should: the load for its target, where to begin, pieces named twice."""

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from steelyard.desk.able import load_for_target
from steelyard.desk.cases import ReadPull
from steelyard.desk.ports import Body
from steelyard.errors import InputRefused
from steelyard.findings import Finding, Severity
from steelyard.published import HAND_LIFT
from steelyard.quantities import Dimension, read_quantity
from steelyard.records import CheckForm, HungKit, PointForm, Weights, load_pieces, read_load, read_table
from steelyard.rigs import HungWeight, Reference
from steelyard.surroundings import STANDARD_GRAVITY_M_S2

BEGIN_BELOW = 0.10  # of the target, or twice the limit where that is more: our choice
STEP_SHARE = 4  # half a step should be that many times better than the limit
ARM_STEP = 10  # mm to which an arm is rounded up
FAR_OUT = 1.5  # times the grip mark, from which a mark is worth a second look at the tape; our choice
Facts = Mapping[str, str | float | int]


@dataclass(frozen=True)
class Hanging:
    """What hangs at a point.

    target_kilogram: in all, so that the kit says the target; None where that cannot be reckoned.
    load: as it was said when the kit was set up, where the tool shows a torque; load_kilogram: in all.
    begin: own masses to begin a pull with, joined as in a load, empty where they do not reach;
    begin_kilogram: in all, safely below the click; None where the tool does not signal.
    """

    kit: HungKit
    target_kilogram: float | None
    load: str = ""
    load_kilogram: float | None = None
    begin: str = ""
    begin_kilogram: float | None = None

    @property
    def always(self) -> str:
        """What is counted by itself at every pull, as typed."""
        return self.kit.always_typed

    @property
    def always_kilogram(self) -> float:
        """Its mass; 0 where nothing hangs by itself."""
        return self.kit.always.kilogram if self.kit.always is not None else 0.0

    @property
    def mass_kilogram(self) -> Mapping[str, float]:
        """The mass of each marked weight by its name."""
        return {name: load.kilogram for name, load in self.kit.masses.items()}

    @property
    def scale_ratio(self) -> Mapping[str, float]:
        """Load over indication of each scale by its name."""
        return {name: scale.load_kilogram(1.0) for name, scale in self.kit.scales.items()}

    def sum_kilogram(self, text: str) -> float | None:
        """A load as typed, without what always hangs; None where it cannot be read. [kg]"""
        try:
            return read_load(text.strip(), self.kit, field="load").kilogram
        except InputRefused:
            return None


def hanging(form: CheckForm, point: PointForm) -> Hanging | None:
    """What hangs at a point of a kit that is set up; None for a transducer."""
    kit = form.kit
    if not isinstance(kit, HungKit):
        return None
    wanted = target_kilogram(form, point)
    if point.load is not None:
        return Hanging(kit, wanted, load=point.load_typed, load_kilogram=point.load.kilogram)
    if wanted is None or form.tool.kind.is_indicating:
        return Hanging(kit, wanted)
    limit = form.limit.percent_at(
        point.target.base,
        maximum_newton_metre=form.tool.highest.base,
        is_main_direction=point.direction == form.tool.directions[0],
    )
    below = max(BEGIN_BELOW, 2 * float(limit or 0) / 100)
    return _begun(Hanging(kit, wanted), below)


def target_kilogram(form: CheckForm, point: PointForm) -> float | None:
    """What must hang in all so that the kit says the target; None where that cannot be reckoned. [kg]"""
    if not isinstance(form.kit, HungKit):
        return None
    try:
        return load_for_target(form, replace(point, load=None), form.kit).kilogram
    except InputRefused:
        return None


def planned_hanging(table: Mapping[str, Any], points: tuple[Body, ...]) -> tuple[Hanging, ...]:
    """What must hang in all at each planned point, before any load was said; empty for a transducer.

    table: a check form without points. Raises InputRefused where it cannot be read.
    """
    form = read_table(table)
    kit = form.kit
    if not isinstance(kit, HungKit):
        return ()
    return tuple(Hanging(kit, target_kilogram(form, _planned(point))) for point in points)


def _planned(point: Body) -> PointForm:
    target = read_quantity(str(point["target"]), Dimension.TORQUE, field="target")
    return PointForm(target, str(point["direction"]), None, (), int(point["planned_pulls"]))


def _begun(hangs: Hanging, below_ratio: float) -> Hanging:
    """With a load to begin with: own masses, the largest first, or just so much where they do not reach."""
    most = (hangs.target_kilogram or 0.0) * (1 - below_ratio)
    rest = most - hangs.always_kilogram
    if rest <= 0:
        return hangs
    free = {n: kg for n, kg in hangs.mass_kilogram.items() if n not in load_pieces(hangs.always)}
    if math.fsum(free.values()) < rest:
        return replace(hangs, begin_kilogram=most)
    names = []
    for name, kilogram in sorted(free.items(), key=lambda item: -item[1]):
        if kilogram <= rest:
            names.append(name)
            rest -= kilogram
    return replace(hangs, begin=" + ".join(names), begin_kilogram=most - rest if names else most)


def refuse_piece_twice(text: str, kit: HungKit | Weights, *, field: str) -> None:
    """A marked mass is one piece: it cannot hang twice in one load. Raises InputRefused with the field."""
    twice = _twice(text, kit)
    if twice is not None:
        raise InputRefused(field, text, "want-each-piece-once", piece=twice)


def _twice(text: str, kit: HungKit | Weights) -> str | None:
    counts = Counter(piece for piece in load_pieces(text) if piece in kit.masses)
    return next((piece for piece, count in counts.items() if count > 1), None)


def piece_doubts(kit: HungKit, loads: tuple[str, ...], facts: Facts, *, of: str) -> Iterator[Finding]:
    """A load that names what hangs at every pull already, or one piece twice: it may be counted twice.

    loads: as written. facts: for the sentence, `piece` apart. of: `pull` or `load`.
    """
    always = load_pieces(kit.always_typed) if kit.always_typed else ()
    named = dict.fromkeys(piece for load in loads for piece in load_pieces(load))
    for piece in named:
        if piece in always:
            yield Finding(f"names-always-{of}", Severity.WARN, {**facts, "piece": piece})
    for piece in dict.fromkeys(filter(None, (_twice(load, kit) for load in loads))):
        yield Finding(f"names-twice-{of}", Severity.WARN, {**facts, "piece": piece})


def known_load_doubts(form: CheckForm, point: PointForm) -> Iterator[Finding]:
    """The same of the load that was said when the kit was set up."""
    if isinstance(form.kit, HungKit) and point.load is not None:
        facts = {"point": point.name, "typed": point.load_typed}
        yield from piece_doubts(form.kit, (point.load_typed,), facts, of="load")


def heavy_doubts(point: PointForm, kilogram: float) -> Iterator[Finding]:
    """More in all than a person should lift by hand, and the arm that would do with less. [kg]"""
    if kilogram > HAND_LIFT.most:
        facts = {"load_kilogram": kilogram, "most_kilogram": HAND_LIFT.most}
        arm = {"arm_millimetre": _light_arm(point.target.base)}
        yield Finding("trials-heavy", Severity.WARN, {"point": point.name, **facts, **arm})


def _light_arm(target_newton_metre: float) -> int:
    """The arm on which a load that a hand can lift makes a torque, rounded up. [mm]"""
    metre = target_newton_metre / (HAND_LIFT.most * STANDARD_GRAVITY_M_S2)
    return ARM_STEP * math.ceil(1000 * metre / ARM_STEP)


def mark_doubts(form: CheckForm, point: PointForm, arms_metre: Iterable[float] = ()) -> Iterator[Finding]:
    """The mark lies much farther out than the tool is held: on a bar that carries the weights, or misread.

    arms_metre: other marks than the kit's own. [m] Nothing where the tool's grip mark is not known.
    """
    grip = form.tool.grip_mark
    if grip is None or not isinstance(form.kit, HungKit) or not isinstance(form.kit.rig, HungWeight):
        return
    farthest = max((form.kit.rig.arm.value, *arms_metre))
    if farthest > FAR_OUT * grip.value:
        marks = {"at_millimetre": round(1000 * farthest), "grip_millimetre": round(1000 * grip.value)}
        yield Finding("arm-far-out", Severity.WARN, {"point": point.name, **marks})


def coarse_step(
    pull: ReadPull,
    reference: Reference,
    *,
    between: tuple[float | None, float | None],
    limit_percent: float,
    facts: Facts,
) -> Iterator[Finding]:
    """The two loads of a click lie on either side of the limit, and a finer step would part them.

    between: the torques inside the limit. [N m]
    Left out: everything else that is not known; it widens what the step alone leaves open.
    Source: own derivation; the half-width of a step that does not decide is a quarter of the limit, as
    standards ask of a kit.
    """
    load, half = pull.form.pull.raw, pull.form.pull.half_step
    if half == 0.0:
        return
    below, above = (reference.torque_newton_metre(load + side) for side in (-half, half))
    if not any(edge is not None and below < edge < above for edge in between):
        return
    enough = limit_percent / 100 / STEP_SHARE * (below + above) / (above - below)  # of the half-width
    if enough < 1:
        step = 2 * half
        finer = {"step_kilogram": step, "enough_kilogram": _rounded_down(step * enough)}
        yield Finding("step-too-coarse", Severity.WARN, {**facts, **finer})


def _rounded_down(kilogram: float) -> float:
    """To two digits, never up."""
    unit = 10.0 ** (math.floor(math.log10(kilogram)) - 1)
    return math.floor(kilogram / unit) * unit
