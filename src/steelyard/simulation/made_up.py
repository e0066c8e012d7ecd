"""A made-up tool on a made-up kit: what a person would write down of them, and how far each may be off."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from steelyard.evaluation import reference_for_indication, reference_for_load
from steelyard.quantities import Dimension, Line, Shape, read_quantity
from steelyard.rigs import (
    HungWeight,
    Knowing,
    Load,
    OwnActs,
    Paper,
    PaperRow,
    PaperStates,
    Reference,
    Scale,
    Stated,
    Transducer,
    marked_mass,
    weighed_directly,
)
from steelyard.simulation.population import Part, RigKind, Widths
from steelyard.tools import Kind, Tool

if TYPE_CHECKING:
    import numpy as np

GRAVITY = Line("gravity", 9.81, 0.0005, unit="m/s²")
GRAVITY_ADJUST = Line("gravity-adjust", 9.81, 0.004, unit="m/s²")
DROP = Line("drop", 0.0, 0.004, unit="m")
DRIFT = 0.001  # of a transducer since its paper, half-width as a ratio
DRIBBLE = 0.002  # of the load: most water after the click
LOWEST = read_quantity("1 N·m", Dimension.TORQUE, field="lowest", example="1 N·m")
HIGHEST = read_quantity("200 N·m", Dimension.TORQUE, field="highest", example="200 N·m")
TOOL_KIND = {RigKind.KNOWN_MASSES: Kind.DIAL, RigKind.BEAM: Kind.BEAM}
STEP_VARIES = (
    0.85,
    1.15,
)  # of a display's step about its width, so that readings fall anywhere between two steps
PAPER_ERROR = 0.01  # most that a paper states
TARGETS_NEWTON_METRE = (40.0, 100.0)
ARMS_METRE = (0.40, 0.55)
OWN_BALANCE = 0.4  # of the grip mark
OWN_SHARE = 0.07  # of the torque that comes from the tool's own weight


@dataclass(frozen=True)
class MadeUp:
    """One tool on one kit.

    reference_at: the kit about a raw reading, load [kg] or indication [N m]. raw: about what is expected.
    target_newton_metre: set on the tool, or about what it shows. [N m]
    scatter_ratio: standard deviation of single pulls. [1]
    setting_step, setting_each_step: of the tool's scale, set once or set afresh for each pull; else 0. [N m]
    is_known_load: an indicating tool read under a known load; else a tool that is set.
    shown_step: step of an indicating tool's scale. [N m]
    raw_step: of the kit's display, 0 where there is none; rounds_zero: its zero is rounded as well. [as raw]
    load_step: in which a load is added; 0 where it is not. [kg]
    dribble: most water after the click; 0 where none. [kg]
    """

    reference_at: Callable[[float], Reference]
    raw: float
    target_newton_metre: float
    scatter_ratio: float
    setting_step: float = 0.0
    setting_each_step: float = 0.0
    is_known_load: bool = False
    shown_step: float = 0.0
    raw_step: float = 0.0
    rounds_zero: bool = False
    load_step: float = 0.0
    dribble: float = 0.0

    @property
    def full_scale_newton_metre(self) -> float:
        """The tool's maximum. [N m]"""
        return HIGHEST.base


def made_up(kind: RigKind, widths: Widths, generator: "np.random.Generator") -> MadeUp:
    """A tool and a kit of this kind, their nominal values drawn."""
    target = float(generator.uniform(*TARGETS_NEWTON_METRE))
    display = 2 * widths[Part.DISPLAY] * float(generator.uniform(*STEP_VARIES))
    arm = float(generator.uniform(*ARMS_METRE))
    mark = arm - float(generator.uniform(0.05, 0.10))
    tool = _tool(kind, widths, target=target, mark=mark)
    if kind in (RigKind.PAPER, RigKind.STATED):
        error = float(generator.uniform(-PAPER_ERROR, PAPER_ERROR)) if kind is RigKind.PAPER else None
        return _on_transducer(widths, tool=tool, target=target, display=display, error=error)
    return _hung(kind, widths, tool=tool, target=target, arm=arm, display=display)


def _tool(kind: RigKind, widths: Widths, *, target: float, mark: float) -> Tool:
    kilogram = OWN_SHARE * target / (GRAVITY.value * OWN_BALANCE * mark)
    within = kilogram * widths[Part.OWN]
    return Tool(
        number="made-up",
        kind=TOOL_KIND.get(kind, Kind.CLICK_ADJUSTABLE),
        make=None,
        lowest=LOWEST,
        highest=HIGHEST,
        step_newton_metre=None,
        directions=("cw",),
        grip_mark=Line("grip-mark", mark, 0.0005, unit="m"),
        length_independent=False,
        pivot=Line("pivot", 0.02, widths[Part.PIVOT], unit="m"),
        mass=Line("tool-mass", kilogram, within, unit="kg"),
        own_mass=Line("own-mass", kilogram, within, unit="kg"),
        own_arm=Line("own-arm", OWN_BALANCE * mark, 0.002, unit="m"),
        own_by_force=False,
        is_zeroed=False,
        is_set_each_time=widths[Part.SETTING_EACH] > 0.0,
        beam_scale=Line("beam-scale", 0.75 * mark, 0.005, unit="m"),
        expected_scatter_ratio=None,
    )


def _hung(kind: RigKind, widths: Widths, *, tool: Tool, target: float, arm: float, display: float) -> MadeUp:
    raw = (1 - OWN_SHARE) * target / (GRAVITY.value * arm)
    rig = HungWeight(
        arm=Line("arm", arm, arm * widths[Part.ARM], unit="m"),
        droop=Line("droop", 0.0, widths[Part.DROOP], unit="rad"),
        drop=DROP,
        gravity=GRAVITY,
        gravity_adjust=GRAVITY_ADJUST,
    )
    half = raw * widths[Part.LOAD]
    once, each = _setting_steps(widths, target)
    if kind is RigKind.BUCKET:
        step = raw * display
        scale = Scale("S", step, Knowing.FORCE, Stated(0.0, half))
        return MadeUp(
            lambda kg: reference_for_load(tool, rig, _bucket(scale, kg, dribble=DRIBBLE * raw)),
            raw,
            target,
            widths[Part.SPREAD],
            setting_step=once,
            setting_each_step=each,
            raw_step=step,
            dribble=DRIBBLE * raw,
        )
    reference = reference_for_load(tool, rig, marked_mass("M", raw, known_within_kilogram=half))
    if kind is RigKind.STEPS:
        return MadeUp(
            lambda _: reference,
            raw,
            target,
            widths[Part.SPREAD],
            setting_step=once,
            setting_each_step=each,
            load_step=2 * raw * widths[Part.STEP],
        )
    true = reference.torque_newton_metre(raw)
    return MadeUp(
        lambda _: reference,
        raw,
        true,
        widths[Part.SPREAD],
        is_known_load=True,
        shown_step=true * display,
    )


def _bucket(scale: Scale, kilogram: float, *, dribble: float) -> Load:
    """A weighed bucket, half of what may have run after the click taken off already."""
    load = weighed_directly(scale, kilogram)
    after = Line("dribble", 0.0, dribble / 2, unit="kg")
    return Load(load.kilogram, (*load.lines, after), load.knowing)


def _setting_steps(widths: Widths, target: float) -> tuple[float, float]:
    """Steps of the tool's scale: set once, set each time; one of them is 0. [N m]"""
    return 2 * target * widths[Part.SETTING], 2 * target * widths[Part.SETTING_EACH]


def _on_transducer(
    widths: Widths, *, tool: Tool, target: float, display: float, error: float | None
) -> MadeUp:
    """error: stated in a paper; None: no paper, but a stated accuracy. [1]"""
    step, paper, stated = target * display, None, None
    once, each = _setting_steps(widths, target)
    if error is not None:
        rows = tuple(PaperRow(at, error, 2 * widths[Part.PAPER], 2.0) for at in (1.0, HIGHEST.base))
        paper = Paper(PaperStates.ERROR, rows)
    else:
        stated = Line("stated", 0.0, widths[Part.STATED])
    transducer = Transducer(
        paper=paper,
        stated_of_reading=stated,
        stated_of_full_scale=None,
        others=(Line("drift", 0.0, DRIFT),),
        resolution=Line("resolution", 0.0, step, Shape.TRIANGULAR, shared=False, unit="N·m"),
    )

    def reference_at(indication: float) -> Reference:
        return reference_for_indication(
            tool,
            transducer,
            indication,
            own_acts=OwnActs.ADDS,
            gravity=GRAVITY,
            droop=Line("droop", 0.0, math.radians(3), unit="rad"),
        )

    return MadeUp(
        reference_at,
        (1 - OWN_SHARE) * target,
        target,
        widths[Part.SPREAD],
        setting_step=once,
        setting_each_step=each,
        raw_step=step,
        rounds_zero=True,
    )
