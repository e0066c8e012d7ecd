"""What each way of weighing a load is worth on a scale of the shop, before anything is weighed."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from steelyard.desk.figures import Known, figure
from steelyard.desk.kits import here
from steelyard.desk.ports import Body, Ledger
from steelyard.desk.typed_scale import KILOGRAM, exact_above_zero
from steelyard.desk.typed_table import with_unit
from steelyard.desk.weighing.ways import chosen_scale
from steelyard.desk.weighing.weighed import Weighing, scale_of, true_mass
from steelyard.desk.workshop import settings
from steelyard.errors import InputRefused
from steelyard.quantities import Line
from steelyard.records import Fields, Place, read_place
from steelyard.rigs import (
    Load,
    Scale,
    canister_litre,
    scale_from_water,
    weighed_by_difference,
    weighed_directly,
    weighed_in_combinations,
    weighed_in_placements,
)

USUAL_LOAD = "10"
PERSON_KILOGRAM = 80.0
WORTH_SAYING = 0.9  # a better way is named where it takes a tenth off the ±; our choice
GAUGED_LITRE, GAUGED_WITHIN_LITRE, WATER_CELSIUS, AIR_KG_M3 = 10.0, 0.02, 20.0, 1.2
"""The canister that a check with water is imagined with: weighed or measured out to 20 mL."""


@dataclass(frozen=True)
class Worth:
    """One way: the ± it leaves. [kg] None where the class of the scale does not reach."""

    way: str
    within_kilogram: float | None

    @property
    def said(self) -> str:
        """The ± as printed; empty where there is none."""
        return figure(Known(self.within_kilogram), KILOGRAM[0], digits=2) if self.within_kilogram else ""


@dataclass(frozen=True)
class WorthAsked:
    """All ways on one scale, for a load. [kg] best: the way with the smallest ±, None where none reaches."""

    scale: Body
    kilogram: float
    ways: tuple[Worth, ...]

    @property
    def best(self) -> Worth | None:
        """The smallest ±; the simpler way where two are alike."""
        reached = [each for each in self.ways if each.within_kilogram is not None]
        return min(reached, key=lambda each: each.within_kilogram or 0.0, default=None)


def weighing_worth(ledger: Ledger, typed: Mapping[str, str]) -> WorthAsked:
    """What every way leaves of a load's ±.

    typed: `scale`, id of a rig, which may be left out where there is one alone; `load`, about what it weighs,
        10 kg where nothing is said.
    Ways: `placements`, the load alone, however often; `difference` with a person of 80 kg; `combinations`:
        two loads of about this weight, each alone and both together; `water`: the load alone, once the scale
        was checked with 10 L known to 20 mL. No spread is foreseen: only weighing shows it.
    Raises InputRefused with the field.
    """
    said, text = settings(ledger), typed.get("load", "").strip() or USUAL_LOAD
    body = chosen_scale(here(ledger), typed)
    kilogram = exact_above_zero(with_unit(text, "kg", mark=said.reads_by), "load").base
    place = read_place(Fields(dict(said.place), place="place"))
    return _asked(body, kilogram, place)


def better_way(ledger: Ledger, weighing: Weighing) -> Worth | None:
    """The way that would leave the smallest ± of the least known mass; None where that gains little."""
    if not weighing.masses:
        return None
    mass = max(weighing.masses, key=lambda each: each.percent)
    place = read_place(Fields(dict(settings(ledger).place), place="place"))
    best = _asked(weighing.scale, mass.known.value, place).best
    if best is None or best.way == weighing.way:
        return None
    is_better = (best.within_kilogram or 0.0) < WORTH_SAYING * (mass.known.within or 0.0)
    return best if is_better else None


def _asked(body: Body, kilogram: float, place: Place) -> WorthAsked:
    return WorthAsked(body, kilogram, tuple(_ways(scale_of(body), kilogram, place)))


def _ways(scale: Scale, kilogram: float, place: Place) -> Iterator[Worth]:
    ways: dict[str, Callable[[], Load]] = {
        "placements": lambda: weighed_in_placements(scale, [kilogram] * 2),
        "difference": lambda: weighed_by_difference(
            scale, with_kilogram=PERSON_KILOGRAM + kilogram, without_kilogram=PERSON_KILOGRAM
        ),
        "combinations": lambda: weighed_in_combinations(
            scale, [[1, 0], [0, 1], [1, 1]], indications_kilogram=[kilogram, kilogram, 2 * kilogram]
        ).hung(0),
        "water": lambda: weighed_directly(scale.corrected(_gain(scale)), kilogram),
    }
    for way, work in ways.items():
        try:
            yield Worth(way, true_mass(work(), place).within)
        except InputRefused:
            yield Worth(way, None)


def _gain(scale: Scale) -> Line:
    litre = canister_litre(GAUGED_LITRE, gauged_within_litre=GAUGED_WITHIN_LITRE)
    return scale_from_water(
        volume_litre=litre,
        water_celsius=WATER_CELSIUS,
        indication_kilogram=GAUGED_LITRE,
        air_kg_m3=AIR_KG_M3,
        scale=scale,
    )
