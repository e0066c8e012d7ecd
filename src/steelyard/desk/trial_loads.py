"""Which loads and settings a shop can really make for a trial, and at which level each would try the tool."""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import combinations

from steelyard.desk.able import load_for_target
from steelyard.desk.hanging import target_kilogram
from steelyard.errors import InputRefused
from steelyard.evaluation import raw_at, reference_for_load
from steelyard.published import HAND_LIFT
from steelyard.quantities import Dimension, read_within
from steelyard.records import CheckForm, HungKit, PointForm, load_pieces, read_load
from steelyard.rigs import Drum, HungWeight, Load, Scale, weighed_directly

MOST_PIECES = 12  # own masses that are tried in every combination; of more, the lightest are left out
FINEST_POUR = 0.0025  # of the load: nobody pours to better, our choice
REACH = 0.15  # of the target to either side: farther out a tool is found with the ordinary pulls
FEW = 4  # combinations of own masses near the target, below which stepping them tells little
SAME = 1e-9
SET_DIGITS = 6  # of a setting: more than any scale has


class Way(StrEnum):
    """What is stepped. LOAD: marked weights. POURED: something weighed. SETTING: the tool, under one load."""

    LOAD = "load"
    POURED = "poured"
    SETTING = "setting"


@dataclass(frozen=True)
class Makeable:
    """Something that can be tried. load: as a person would write it; at: mark, where not the kit's own.

    kilogram: in all. set_typed: what the tool is set to; set_newton_metre: the same.
    level_percent: torque of the load over the setting, T/X − 1. u_ratio: u of the load, of itself. [1]
    """

    way: Way
    load: str
    kilogram: float
    set_typed: str
    set_newton_metre: float
    level_percent: float
    at: str | None = None
    u_ratio: float = 0.0

    @property
    def is_heavy(self) -> bool:
        """More than a person should lift by hand."""
        return self.kilogram > HAND_LIFT.most


def makeable(
    form: CheckForm,
    point: PointForm,
    way: Way,
    *,
    at: str | None = None,
    hanging: str | None = None,
    about_percent: float = 0.0,
) -> tuple[Makeable, ...]:
    """Everything that can be tried at a point, by level; empty for a transducer.

    at: another mark, as typed. hanging: the load that stays where the setting is stepped; None: the nearest.
    about_percent: where the tool is believed to trip; what lies about it can be tried as well as what lies
    about the setting.
    Raises InputRefused where the kit or the tool lacks something, and with the field `at` or `load`.
    """
    kit = form.kit
    if not isinstance(kit, HungKit):
        return ()
    maker = _Maker(form, point, kit, at, about_percent)
    if way is Way.SETTING:
        found = maker.settings(hanging)
    else:
        found = maker.weights() if way is Way.LOAD else maker.poured()
    return tuple(sorted(found, key=lambda each: each.level_percent))


def ways_of(form: CheckForm, near: Sequence[Makeable]) -> tuple[Way, ...]:
    """What can be stepped with this kit and tool, the handiest first. near: what its own masses can make."""
    kit = form.kit
    if not isinstance(kit, HungKit):
        return ()
    ways = [Way.LOAD] if len(near) >= FEW else []
    if form.tool.kind.is_adjustable and form.tool.step_newton_metre and near:
        ways.append(Way.SETTING)
    if kit.scales:
        ways.append(Way.POURED)
    return tuple(ways) or ((Way.LOAD,) if near else ())


def changed_pieces(before: str, after: str) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What to take off and what to hang on, from one load as written to another."""
    was, will = load_pieces(before), load_pieces(after)
    return tuple(p for p in was if p not in will), tuple(p for p in will if p not in was)


class _Maker:
    """Goes through what a shop has."""

    def __init__(
        self, form: CheckForm, point: PointForm, kit: HungKit, at: str | None, about_percent: float
    ) -> None:
        self.form, self.point, self.kit, self.at = form, point, kit, at or None
        about = about_percent / 100
        self.least, self.most = min(about, 0.0) - REACH, max(about, 0.0) + REACH
        self.target = point.target.base
        self.always = kit.always.kilogram if kit.always is not None else 0.0
        self.rig = kit.rig
        if self.at is not None:
            self.rig = with_arm(kit.rig, self.at, field="at")
        wanted = target_kilogram(form, point)
        if wanted is None:
            wanted = load_for_target(form, replace(point, load=None), kit).kilogram
        self.reference = reference_for_load(form.tool, self.rig, Load(wanted))
        self.wanted = raw_at(self.reference, self.target, wanted)
        self.none = self.reference.torque_newton_metre(0.0)
        self.slope = (self.reference.torque_newton_metre(wanted) - self.none) / wanted

    def is_near(self, level_percent: float) -> bool:
        """Worth being tried."""
        return 100 * self.least <= level_percent <= 100 * self.most

    def torque(self, kilogram: float) -> float:
        """By the kit; it is linear in the load, so that two of them say all. [N m]"""
        return self.none + self.slope * kilogram

    def weights(self) -> Iterator[Makeable]:
        """Every combination of own masses that lies near the target."""
        free = [(n, m.kilogram) for n, m in self.kit.masses.items() if n not in self._hanging_always()]
        free = sorted(free, key=lambda each: -each[1])[-MOST_PIECES:]
        best: dict[float, Makeable] = {}
        for count in range(1, len(free) + 1):
            for chosen in combinations(free, count):
                kilogram = self.always + math.fsum(kg for _, kg in chosen)
                made = self._hung(Way.LOAD, " + ".join(name for name, _ in chosen), kilogram)
                if made is not None:
                    made = replace(made, u_ratio=self._u_kilogram(name for name, _ in chosen) / kilogram)
                    key = round(made.level_percent, 3)
                    best[key] = min(best.get(key, made), made, key=lambda each: each.u_ratio)
        yield from best.values()

    def _u_kilogram(self, names: Iterable[str]) -> float:
        """Standard uncertainty of some masses together, each line for itself. [kg]"""
        return math.hypot(*(line.u for name in names for line in self.kit.masses[name].lines))

    def poured(self) -> Iterator[Makeable]:
        """A bucket filled to so much, weighed on the best scale for it, in steps that a hand can pour."""
        rest = max(self.wanted - self.always, SAME)
        known = {name: _u_on(scale, rest) for name, scale in self.kit.scales.items()}
        if not known:
            return
        name = min(known, key=lambda each: known[each])
        scale = self.kit.scales[name]
        for i in range(round(self.least / FINEST_POUR), round(self.most / FINEST_POUR) + 1):
            kilogram = self.wanted * (1 + i * FINEST_POUR)
            shown = (kilogram - self.always) / scale.load_kilogram(1.0)
            shown = round(shown / scale.step_kilogram) * scale.step_kilogram
            if shown > 0:
                there = self.always + scale.load_kilogram(shown)
                made = self._hung(Way.POURED, f"{_decimals(shown, scale.step_kilogram)} kg on {name}", there)
                if made is not None:
                    yield made

    def settings(self, hanging: str | None) -> Iterator[Makeable]:
        """The tool set to every step of its scale, under one load."""
        step = self.form.tool.step_newton_metre
        load, kilogram = self._staying(hanging)
        if not step or load is None:
            return
        unit = self.form.tool.lowest.unit
        torque = self.torque(kilogram)
        lowest, highest = self.form.tool.lowest.base, self.form.tool.highest.base
        for k in range(math.ceil(lowest / step - SAME), math.floor(highest / step + SAME) + 1):
            setting = k * step
            level = 100 * (torque / setting - 1)
            if self.is_near(level):
                typed = f"{setting / float(unit.factor):.{SET_DIGITS}g} {unit.symbol}"
                yield Makeable(Way.SETTING, load, kilogram, typed, setting, level, self.at)

    def _staying(self, hanging: str | None) -> tuple[str | None, float]:
        if hanging:
            return hanging, self.always + read_load(hanging, self.kit, field="load").kilogram
        near = min(self.weights(), key=lambda m: abs(m.level_percent), default=None)
        return (None, 0.0) if near is None else (near.load, near.kilogram)

    def _hung(self, way: Way, load: str, kilogram: float) -> Makeable | None:
        level = 100 * (self.torque(kilogram) / self.target - 1)
        if not self.is_near(level):
            return None
        return Makeable(way, load, kilogram, self.point.target.typed, self.target, level, self.at)

    def _hanging_always(self) -> tuple[str, ...]:
        return load_pieces(self.kit.always_typed) if self.kit.always_typed else ()


def _u_on(scale: Scale, kilogram: float) -> float:
    """Standard uncertainty of a load on a scale; infinite where its class does not reach. [kg]"""
    try:
        return math.hypot(*(line.u for line in weighed_directly(scale, kilogram).lines))
    except InputRefused:
        return math.inf


def with_arm(rig: HungWeight | Drum, typed: str, *, field: str) -> HungWeight:
    """The same rig with the load at another mark. Raises InputRefused with the field."""
    if not isinstance(rig, HungWeight):
        raise InputRefused(field, typed, "want-arm-for-mark")
    value, half = read_within(typed, Dimension.LENGTH, field=field)
    if value.base <= 0:
        raise InputRefused(field, typed, "want-positive", what="arm", example="450 mm")
    within = float(half.exact) if half is not None else 0.0
    return replace(rig, arm=replace(rig.arm, value=value.base, width=within))


def _decimals(value: float, step: float) -> str:
    """As a scale of that step would show it."""
    places = max(0, -math.floor(math.log10(step) + SAME))
    return f"{value:.{places}f}"
