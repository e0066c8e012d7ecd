"""From a check as written to points ready for evaluation."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from steelyard.errors import InputRefused
from steelyard.evaluation import (
    FEWEST_FOR_IN,
    PointCase,
    ScaleStep,
    deviation,
    reference_for_indication,
    reference_for_load,
    repeats,
    step_of_reading,
    step_of_setting,
)
from steelyard.quantities import Line, Shape
from steelyard.readings.threshold import Answer, clicked, not_clicked
from steelyard.records import CheckForm, HungKit, PointForm, PullForm, TransducerKit, Variation
from steelyard.rigs import HungWeight, Load, Reference, how_own_acts
from steelyard.tools import Measure

FEWEST_PULLS = 2
POURED_RATIO = 5e-4  # of a poured load, to either side: finer than any scatter, so that the step is nothing
FAR = 3  # times the target: beyond that a reading needs `sure`


@dataclass(frozen=True)
class ReadPull:
    """One pull with what the kit makes of it, counted or not.

    torque_newton_metre: by the kit; shown_newton_metre: set on or shown by the tool. [N m]
    """

    form: PullForm
    torque_newton_metre: float
    shown_newton_metre: float

    @property
    def iso_percent(self) -> float | None:
        """ISO deviation of this pull alone; None at no torque at all."""
        true = self.torque_newton_metre
        if true == 0.0:
            return None
        return 100 * float(deviation(Measure.ISO, self.shown_newton_metre, true, full_scale=1.0))


@dataclass(frozen=True)
class ReadyPoint:
    """A point as written, every pull as read, and the case of the counted ones."""

    form: PointForm
    pulls: tuple[ReadPull, ...]
    case: PointCase


def ready_point(form: CheckForm, point: PointForm) -> ReadyPoint:
    """One point ready for evaluation.

    With yes/no trials, or pulls that never clicked, all that was read is judged as one threshold.
    Raises InputRefused for fewer than two pulls that count, or answers that stand, and for an odd reading
    without `sure`.
    """
    reference, pulls = read_pulls(form, point)
    if point.is_threshold:
        return ReadyPoint(point, pulls, _threshold_case(form, point, reference, pulls))
    counted = [p for p in pulls if p.form.pull.is_counted]
    if len(counted) < FEWEST_PULLS:
        raise InputRefused(f"point {point.name}, pulls", len(counted), "want-two-pulls")
    for values in ([p.torque_newton_metre for p in counted], [p.shown_newton_metre for p in counted]):
        if 0.0 in values or math.fsum(values) <= 0:
            raise InputRefused(f"point {point.name}, pulls", None, "want-forward-pulls")
    raws = tuple(point.load.kilogram if point.load is not None else p.form.pull.raw for p in counted)
    case = point_case(
        form,
        point,
        reference,
        raws=raws,
        shown=tuple(p.shown_newton_metre for p in counted),
        half_steps=tuple(p.form.pull.half_step for p in counted),
    )
    return ReadyPoint(point, pulls, case)


def answers_of(
    form: CheckForm, point: PointForm, reference: Reference, pulls: Sequence[ReadPull]
) -> tuple[Answer, ...]:
    """What the pulls of a point that stand say of its threshold, in order.

    Source: own derivation, docs/explanation/yes-no.md: with the set torque X and the load's torque T every
        trip is seen at T/X − 1, whichever of the two was stepped.
    """
    return tuple(answer_of(reference, read) for read in pulls if read.form.pull.is_said)


def answer_of(reference: Reference, read: ReadPull) -> Answer:
    """What one pull says of the threshold, whether it stands or not. reference: the kit at the point."""
    pull = read.form.pull
    if pull.clicked is not None or pull.never_clicked:
        level = 100 * (read.torque_newton_metre / read.shown_newton_metre - 1)
        return clicked(level) if pull.clicked else not_clicked(level)
    half = max(pull.half_step, POURED_RATIO * pull.raw)
    low, high = (
        100 * (reference.torque_newton_metre(raw) / read.shown_newton_metre - 1)
        for raw in (pull.raw - half, pull.raw + half)
    )
    return Answer(low, high)


def _threshold_case(
    form: CheckForm, point: PointForm, reference: Reference, pulls: Sequence[ReadPull]
) -> PointCase:
    said = [p for p in pulls if p.form.pull.is_said]
    if len(said) < FEWEST_PULLS:
        raise InputRefused(f"point {point.name}, pulls", len(said), "want-two-answers", fewest=FEWEST_FOR_IN)
    case = point_case(
        form,
        point,
        reference,
        raws=(math.fsum(p.form.pull.raw for p in said) / len(said),) * len(said),
        shown=(point.target.base,) * len(said),
        half_steps=(0.0,) * len(said),
    )
    return replace(case, answers=answers_of(form, point, reference, pulls))


def read_pulls(form: CheckForm, point: PointForm) -> tuple[Reference, tuple[ReadPull, ...]]:
    """The kit at a point, and every pull with what it makes of it.

    Raises InputRefused for an odd reading without `sure`, and where no load is known.
    """
    is_known_load = point.load is not None
    reference = point_reference(form, point, _raw_mean(point))
    pulls = []
    for i, pull in enumerate(point.pulls, 1):
        net = pull.pull.raw
        raw = point.load.kilogram if point.load is not None else net
        torque = _reference_of(form, point, pull, reference).torque_newton_metre(raw)
        shown = net if is_known_load else pull.pull.set_newton_metre or point.target.base
        _refuse_odd(point, i, pull, shown if is_known_load else torque)
        pulls.append(ReadPull(pull, torque, shown))
    return reference, tuple(pulls)


def point_case(
    form: CheckForm,
    point: PointForm,
    reference: Reference,
    *,
    raws: tuple[float, ...],
    shown: tuple[float, ...],
    half_steps: tuple[float, ...],
) -> PointCase:
    """The case of some readings at a point. Arguments as in `PointCase`."""
    tool = form.tool
    is_load_known = isinstance(form.kit, HungKit) and tool.kind.is_indicating
    varying = repeats(shown if is_load_known else raws)
    relative_s = varying.s / varying.mean
    step = _scale_step(form, point.target.base, shown)
    return PointCase(
        target_newton_metre=point.target.base,
        direction=point.direction,
        raws=raws,
        shown=shown,
        half_steps=half_steps,
        reference=reference,
        tool_lines=(
            *step.lines,
            *(_variation_line(v, relative_s) for v in form.variations),
            *form.extras,
        ),
        setting_step_ratio=step.each_time_ratio,
        full_scale_newton_metre=tool.highest.base,
        measure=form.limit.measure,
        limit_percent=form.limit.percent_at(
            point.target.base,
            maximum_newton_metre=tool.highest.base,
            is_main_direction=point.direction == tool.directions[0],
        ),
        is_load_known=is_load_known,
    )


def _raw_mean(point: PointForm) -> float:
    """About where the readings lie, for a paper to be read at; the target where none counts yet."""
    counted = [p.pull.raw for p in point.pulls if p.pull.is_counted]
    return math.fsum(counted) / len(counted) if counted else point.target.base


def _reference_of(form: CheckForm, point: PointForm, pull: PullForm, reference: Reference) -> Reference:
    """The kit as it was read while a pull counted: striking it out does not move its own figure.

    Of a trial at another mark, the kit with that arm.

    reference: of the pulls that count; also of one struck out where no paper reaches.
    """
    if pull.arm is not None and isinstance(form.kit, HungKit) and isinstance(form.kit.rig, HungWeight):
        rig = replace(form.kit.rig, arm=pull.arm)
        return reference_for_load(form.tool, rig, pull.load or _worst_load(point))
    if pull.pull.struck_out is None or not isinstance(form.kit, TransducerKit):
        return reference
    about = [p.pull.raw for p in point.pulls if p is pull or p.pull.is_counted]
    try:
        return indication_reference(form, form.kit, point, math.fsum(about) / len(about))
    except InputRefused:
        return reference


def point_reference(form: CheckForm, point: PointForm, indication_newton_metre: float) -> Reference:
    """The kit at this point, with the lines of the load that is known worst."""
    if isinstance(form.kit, HungKit):
        return reference_for_load(form.tool, form.kit.rig, point.load or _worst_load(point))
    return indication_reference(form, form.kit, point, indication_newton_metre)


def indication_reference(
    form: CheckForm, kit: TransducerKit, point: PointForm, indication_newton_metre: float
) -> Reference:
    """A transducer at this point, about an indication. [N m]"""
    acts = how_own_acts(kit.axis, kit.zeroed, pull=point.pull or kit.pull, is_tool_zeroed=form.tool.is_zeroed)
    return reference_for_indication(
        form.tool,
        kit.transducer,
        indication_newton_metre,
        own_acts=acts,
        gravity=form.place.gravity,
        droop=kit.droop,
    )


def _worst_load(point: PointForm) -> Load:
    hung = [p for p in point.pulls if p.load is not None]
    counts = [p for p in hung if p.pull.struck_out is None]
    loads = [p.load for p in (counts or hung) if p.load is not None]
    if not loads:
        raise InputRefused(f"point {point.name}, pulls", None, "want-pulls")
    if len({load.knowing for load in loads}) > 1:
        raise InputRefused(f"point {point.name}, pulls", None, "want-one-knowing")
    return max(loads, key=lambda load: math.fsum(line.u**2 for line in load.lines))


def _refuse_odd(point: PointForm, number: int, pull: PullForm, reading: float) -> None:
    if pull.is_sure or pull.pull.struck_out is not None:
        return
    if not 0 < reading <= FAR * point.target.base:
        raise InputRefused(
            f"point {point.name}, pull {number}", pull.pull.typed, "want-sure", target=point.target.typed
        )


def _scale_step(form: CheckForm, target_newton_metre: float, shown: tuple[float, ...]) -> ScaleStep:
    """The step of the tool's own scale, as it was set, or read at a known load."""
    tool, step = form.tool, form.tool.step_newton_metre
    if not step or not (tool.kind.is_adjustable or tool.kind.is_indicating):
        return ScaleStep()
    if tool.kind.is_indicating:
        return step_of_reading(step, shown)
    return step_of_setting(step, target_newton_metre, each_time=tool.is_set_each_time)


def _variation_line(variation: Variation, relative_s: float) -> Line:
    """What a changed condition adds.

    Source: ISO 6789-2:2017 6.2 (from memory) for `iso-sum`; own choice for `excess`.
    """
    means = [mean.base for mean in variation.means]
    middle = math.fsum(means) / len(means)
    if variation.combine == "iso-sum":
        return Line(variation.name, 0.0, (max(means) - min(means)) / 2 / middle, Shape.RECTANGULAR)
    between = (repeats(means).s / middle) ** 2 - relative_s**2 / variation.pulls_each
    return Line(variation.name, 0.0, math.sqrt(max(0.0, between)), Shape.NORMAL, dof=len(means) - 1)
