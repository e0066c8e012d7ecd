"""A load weighed well, or a scale checked with water: what was read off the scale, and what that makes."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from steelyard.desk.figures import Known, figure
from steelyard.desk.kits import Shelf, here
from steelyard.desk.ports import Body, Ledger
from steelyard.desk.reckon_combinations import read_row
from steelyard.desk.reckon_scale import celsius_line, litre_line, water_gain
from steelyard.desk.typed_lines import asked_as
from steelyard.desk.typed_scale import KILOGRAM, exact_above_zero
from steelyard.desk.typed_table import as_shown, with_unit
from steelyard.desk.weighing.weighed import (
    PERCENT,
    CheckedScale,
    WeighedMass,
    Weighing,
    as_kept,
    gain_line,
    knows_kilogram,
    scale_of,
    true_mass,
)
from steelyard.desk.workshop import settings
from steelyard.errors import InputRefused, NotFound
from steelyard.evaluation import repeats
from steelyard.findings import Finding, Severity
from steelyard.quantities import Dimension, read_quantity, read_within
from steelyard.records import Fields, Place, read_place
from steelyard.rigs import (
    Knowing,
    Load,
    Scale,
    weighed_by_difference,
    weighed_in_combinations,
    weighed_in_placements,
)

WEIGH_WAYS = ("difference", "placements", "combinations", "water")
MOST_PLACEMENTS, MOST_ROWS = 10, 100
PLACEMENTS = tuple(f"shown{number}" for number in range(1, MOST_PLACEMENTS + 1))
WEIGH_FIELDS: Mapping[str, tuple[str, ...]] = {
    "difference": ("with", "without"),
    "placements": PLACEMENTS,
    "combinations": ("rows",),
    "water": ("volume", "temperature", "full", "empty"),
}
"""What each way asks for, beside `scale`, and `mass` where one that is there is weighed anew."""
WEIGH_UNITS = {"rows": "", "volume": "L", "temperature": "°C"}
"""Units that stand beside the fields; kg beside every other."""
AIR_KG_M3 = 1.2  # of the conventional mass, where buoyancy is left out on purpose
POOR_PERCENT = 1.0  # a quarter of ±4 %, the limit that is usual; what a load should be known to


@dataclass(frozen=True)
class _Asked:
    """What all ways have at hand."""

    shelf: Shelf
    body: Body
    scale: Scale
    place: Place
    texts: Mapping[str, str]
    anew: Body | None


def weigh(ledger: Ledger, way: str, typed: Mapping[str, str]) -> Weighing:
    """What was read off a scale, worked out; nothing is kept.

    typed: `scale`, id of a rig, which may be left out where there is one alone; what WEIGH_FIELDS names, a
        bare number in the unit beside its field; `mass`, id of one that is weighed anew, by difference or in
        placements.
    Raises NotFound for another way; InputRefused with the field.
    Source and left out: `rigs.weighing`, `rigs.combinations`, `rigs.weighing_scale`. On a scale that knows
        force the load is reading·g of the place where it was adjusted / g here; own derivation,
        docs/explanation/hung-weight.md.
    """
    if way not in WEIGH_WAYS:
        raise NotFound(way)
    asked = _asked(ledger, way, typed)
    work = {
        "difference": _difference,
        "placements": _placements,
        "combinations": _combinations,
        "water": _water,
    }
    return work[way](asked)


def chosen_scale(shelf: Shelf, typed: Mapping[str, str]) -> Body:
    """The scale that is meant. Raises InputRefused with the field `scale`."""
    name = typed.get("scale", "").strip()
    if not shelf.scales:
        raise InputRefused("scale", None, "want-weigh-a-scale")
    if not name and len(shelf.scales) == 1:
        return shelf.scales[0]
    found = next((body for body in shelf.scales if body["id"] == name), None)
    if found is None:
        raise InputRefused("scale", name or None, "want-weigh-scale")
    return found


def _asked(ledger: Ledger, way: str, typed: Mapping[str, str]) -> _Asked:
    said, shelf = settings(ledger), here(ledger)
    body = chosen_scale(shelf, typed)
    texts = {}
    for name in WEIGH_FIELDS[way]:
        text = typed.get(name, "").replace("\r\n", "\n").strip()
        if text:
            unit = WEIGH_UNITS.get(name, "kg")
            texts[name] = with_unit(text, unit, mark=said.reads_by) if unit else text
    if way == "combinations":
        texts = {"rows": "\n".join(_rows(texts.get("rows", ""), said.reads_by))}
    place = read_place(Fields(dict(said.place), place="place"))
    return _Asked(shelf, body, scale_of(body), place, texts, _anew(shelf, way, typed))


def _anew(shelf: Shelf, way: str, typed: Mapping[str, str]) -> Body | None:
    name = typed.get("mass", "").strip()
    if not name or way not in ("difference", "placements"):
        return None
    found = next((body for body in shelf.masses if body["id"] == name), None)
    if found is None:
        raise InputRefused("mass", name, "want-weigh-mass")
    return found


def _more_than_its_doubt(asked: _Asked, mass: Known, field: str) -> Known:
    """The mass. Raises InputRefused where its ± reaches zero."""
    if not mass.value > (mass.within or 0.0):
        within = figure(Known(mass.within or 0.0), KILOGRAM[0], digits=2)
        raise InputRefused(field, asked.texts.get(field), "want-weigh-more", within=within)
    return mass


def _indication(texts: Mapping[str, str], field: str) -> float:
    return exact_above_zero(texts.get(field), field).base


def _difference(asked: _Asked) -> Weighing:
    heavy = _indication(asked.texts, "with")
    light = _from_zero(asked.texts.get("without"), "without")
    with asked_as("with", asked.texts["with"]):
        load = weighed_by_difference(asked.scale, with_kilogram=heavy, without_kilogram=light)
    return _one(asked, "difference", load)


def _from_zero(text: str | None, field: str) -> float:
    quantity = read_quantity(text or "", Dimension.MASS, field=field)
    if quantity.base < 0:
        raise InputRefused(field, text, "want-not-negative", what="mass", example="80.2 kg")
    return quantity.base


def _placements(asked: _Asked) -> Weighing:
    named = [name for name in PLACEMENTS if name in asked.texts]
    shown = [_indication(asked.texts, name) for name in named]
    if len(shown) < 2:
        empty = next(name for name in PLACEMENTS if name not in asked.texts)
        raise InputRefused(empty, None, "want-weigh-two-placements")
    for name, each in zip(named, shown, strict=True):
        with asked_as(name, asked.texts[name]):
            asked.scale.limit_kilogram(each)
    load = weighed_in_placements(asked.scale, shown)
    spread = repeats(shown).s
    doubts = [Finding("weighing-same", Severity.NOTE)] if len(set(shown)) == 1 else []
    reach = asked.scale.limit_kilogram(max(shown)) + asked.scale.step_kilogram / 2
    if spread > reach:
        facts = {"spread": figure(Known(spread), KILOGRAM[0], digits=2)}
        doubts.append(Finding("weighing-spread", Severity.WARN, facts))
    return _one(asked, "placements", load, spread_kilogram=spread, doubts=doubts)


def _one(
    asked: _Asked,
    way: str,
    load: Load,
    *,
    spread_kilogram: float | None = None,
    doubts: Sequence[Finding] = (),
) -> Weighing:
    """One mass, new or weighed anew."""
    mass = _more_than_its_doubt(asked, true_mass(load, asked.place), WEIGH_FIELDS[way][0])
    name = asked.anew["table"]["name"] if asked.anew is not None else ""
    weighed = WeighedMass(name, mass, as_kept(mass, KILOGRAM[0]), asked.anew)
    found = (*doubts, *_doubts(asked, (weighed,)))
    return Weighing(way, asked.body, asked.texts, (weighed,), None, spread_kilogram, 0, found)


def _rows(text: str, mark: str | None) -> list[str]:
    """One text for each row, the number with its unit."""
    rows = []
    for row in (each.strip() for each in text.replace(";", "\n").split("\n") if each.strip()):
        lying, sign, shown = row.partition("=")
        rows.append(f"{lying.strip()} = {with_unit(shown, 'kg', mark=mark)}" if sign else row)
    if not rows:
        raise InputRefused("rows", None, "want-reckon-row")
    if len(rows) > MOST_ROWS:
        raise InputRefused("rows", f"{len(rows)}", "want-fewer-values", most=MOST_ROWS)
    return rows


def _combinations(asked: _Asked) -> Weighing:
    read = [read_row(row, field="rows") for row in asked.texts["rows"].split("\n")]
    names = list(dict.fromkeys(name for lying, _ in read for name in lying))
    _refuse_namesakes(names)
    design = [[int(name in lying) for name in names] for lying, _ in read]
    shown = [kilogram for _, kilogram in read]
    with asked_as("rows", asked.texts["rows"]):
        found = weighed_in_combinations(asked.scale, design, indications_kilogram=shown)
        loads = found.loads
    masses = tuple(
        _named(asked, name, true_mass(load, asked.place)) for name, load in zip(names, loads, strict=True)
    )
    doubts = _doubts(asked, masses)
    spread = found.spread_kilogram
    if (
        spread is not None
        and spread > max(map(asked.scale.limit_kilogram, shown)) + asked.scale.step_kilogram / 2
    ):
        facts = {"spread": figure(Known(spread), KILOGRAM[0], digits=2)}
        doubts.insert(0, Finding("reckon-combinations-disagree", Severity.WARN, facts))
    return Weighing("combinations", asked.body, asked.texts, masses, None, spread, found.dof, tuple(doubts))


def _refuse_namesakes(names: Sequence[str]) -> None:
    folded = [name.casefold() for name in names]
    for name in names:
        if folded.count(name.casefold()) > 1:
            raise InputRefused("rows", name, "want-rig-own-name")


def _named(asked: _Asked, name: str, mass: Known) -> WeighedMass:
    """A mass of a combination: the one of that name where it is there, else a new one."""
    _more_than_its_doubt(asked, mass, "rows")
    same = (body for body in asked.shelf.everything if body["table"]["name"].casefold() == name.casefold())
    body = next(same, None)
    if body is not None and body["sort"] != "mass":
        raise InputRefused("rows", name, "want-weigh-names")
    return WeighedMass(name, mass, as_kept(mass, KILOGRAM[0]), body)


def _water(asked: _Asked) -> Weighing:
    litre = litre_line(asked.texts.get("volume"), field="volume")
    warm = celsius_line(asked.texts.get("temperature"), field="temperature")
    full = _indication(asked.texts, "full")
    empty = _from_zero(asked.texts.get("empty", "0 kg"), "empty")
    if not full > empty:
        raise InputRefused("full", asked.texts["full"], "want-weigh-full", empty=asked.texts.get("empty"))
    air = asked.place.air.value if asked.place.air is not None else AIR_KG_M3
    with asked_as("temperature", asked.texts["temperature"]):
        gain = water_gain(asked.scale, full - empty, litre=litre, warm=warm, air_kg_m3=air)
    with asked_as("full", asked.texts["full"]):
        line = gain_line(gain, asked.scale.name)
        checked = asked.scale.corrected(line)
    before, after = knows_kilogram(asked.scale, asked.place), knows_kilogram(checked, asked.place)
    found = CheckedScale(gain, as_kept(gain, PERCENT), before, after or 0.0)
    doubts = []
    if before is not None and found.after_kilogram > before:
        facts = {"before": found.said_before, "after": found.said_after}
        doubts.append(Finding("weighing-water-worse", Severity.WARN, facts))
    return Weighing("water", asked.body, asked.texts, checked=found, doubts=tuple(doubts))


def _doubts(asked: _Asked, masses: Sequence[WeighedMass]) -> list[Finding]:
    """What to mind: a scale that knows force, a mass poorly known, one that stood otherwise before."""
    found = []
    if asked.scale.knowing is Knowing.FORCE:
        found.append(Finding("weighing-force", Severity.NOTE, {"scale": asked.scale.name}))
    worst = max(masses, key=lambda each: each.percent)
    if worst.percent > POOR_PERCENT:
        found.append(Finding("weighing-poor", Severity.WARN, {"percent": f"{worst.percent:.2g}"}))
    for each in masses:
        if each.rig is not None and _differs(each):
            facts = {"name": each.name, "before": as_shown(each.rig["table"]["value"])}
            found.append(Finding("weighing-differs", Severity.WARN, facts))
    return found


def _differs(weighed: WeighedMass) -> bool:
    """What stood before and what was weighed leave no mass in common."""
    if weighed.rig is None or "±" not in weighed.rig["table"]["value"]:
        return False
    value, half = read_within(weighed.rig["table"]["value"], Dimension.MASS, field="value")
    reach = (half.base if half else 0.0) + (weighed.known.within or 0.0)
    return abs(value.base - weighed.known.value) > reach
