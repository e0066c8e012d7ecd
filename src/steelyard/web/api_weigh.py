"""Weighing a load for a program: what each way is worth, what one gives, and keeping it."""

from typing import Annotated, Literal

from fastapi import APIRouter, Query
from pydantic import BaseModel, ConfigDict, Field

from steelyard.desk import rig_body
from steelyard.desk.typed_table import as_shown
from steelyard.desk.weighing import (
    Weighing,
    better_way,
    keep_weighing,
    weigh,
    weighing_worth,
)
from steelyard.web.api_rigs import RigAnswer, rig_answer
from steelyard.web.api_sent import Asked, FindingAnswer, SentKnowing, Text, finding_answer

router = APIRouter(prefix="/api/rigs/weigh", tags=["rigs"])
Way = Literal["difference", "placements", "combinations", "water"]


class ReadOff(BaseModel):
    """What was read off a scale."""

    model_config = ConfigDict(extra="forbid", populate_by_name=True)
    scale: Text = ""
    mass: Text = ""
    with_it: Text = Field("", alias="with")
    without: Text = ""
    shown1: Text = ""
    shown2: Text = ""
    shown3: Text = ""
    shown4: Text = ""
    shown5: Text = ""
    shown6: Text = ""
    shown7: Text = ""
    shown8: Text = ""
    shown9: Text = ""
    shown10: Text = ""
    rows: Text = ""
    volume: Text = ""
    temperature: Text = ""
    full: Text = ""
    empty: Text = ""


class WorthAsked(BaseModel):
    """scale: id of one, may be left out where there is one alone. load: about what it weighs."""

    model_config = ConfigDict(extra="forbid")
    scale: Text = ""
    load: Text = ""


class WeighTyped(ReadOff, SentKnowing):
    """What was read off a scale, by the names of the fields of the page.

    scale: id of one, may be left out where there is one alone. mass: id of the one that is weighed anew, by
    difference or in placements; else `name` of the new one. By difference `with`, `without`; in placements
    `shown1` to `shown10`; in combinations `rows`, each on a line; of water `volume`, `temperature`, `full`,
    `empty`.
    """

    name: Text = ""


class WayWorth(BaseModel):
    """The ± that a way leaves; null where the class of the scale does not reach."""

    way: str
    within_kilogram: float | None


class WorthAnswer(BaseModel):
    """What each way leaves of the ± of a load. best: the way with the smallest."""

    scale: str
    kilogram: float
    best: str | None
    ways: list[WayWorth]


class MassAnswer(BaseModel):
    """A mass. within: of 95 in 100 cases. stands: as the rigs would keep it. rig: the one weighed anew."""

    name: str
    kilogram: float
    within_kilogram: float
    stands: str
    rig: str | None


class GainAnswer(BaseModel):
    """The error of a scale, shown/right − 1. stands: as the rigs would keep it.

    before, after: ± of a load of 10 kg; before is null where the class of the scale does not reach.
    """

    percent: float
    within_percent: float
    stands: str
    before_kilogram: float | None
    after_kilogram: float


class WeighingAnswer(BaseModel):
    """What a weighing gives; nothing is kept yet. better: the way that would help most."""

    way: str
    scale: str
    masses: list[MassAnswer]
    gain: GainAnswer | None
    spread_kilogram: float | None
    spare_rows: int
    better: WayWorth | None
    findings: list[FindingAnswer]


@router.get("")
def get_worth(ask: Asked, wanted: Annotated[WorthAsked, Query()]) -> WorthAnswer:
    """What each way of weighing a load is worth on a scale."""
    found = weighing_worth(ask.workshop.ledger, wanted.model_dump())
    return WorthAnswer(
        scale=found.scale["id"],
        kilogram=found.kilogram,
        best=found.best.way if found.best is not None else None,
        ways=[WayWorth(way=each.way, within_kilogram=each.within_kilogram) for each in found.ways],
    )


@router.get("/{way}")
def get_weighing(ask: Asked, way: Way, wanted: Annotated[ReadOff, Query()]) -> WeighingAnswer:
    """What was read off a scale, worked out; nothing is kept."""
    found = weigh(ask.workshop.ledger, way, wanted.model_dump(by_alias=True))
    better = better_way(ask.workshop.ledger, found)
    return WeighingAnswer(
        way=found.way,
        scale=found.scale["id"],
        masses=_masses(found),
        gain=_gain(found),
        spread_kilogram=found.spread_kilogram,
        spare_rows=found.spare,
        better=WayWorth(way=better.way, within_kilogram=better.within_kilogram) if better else None,
        findings=[finding_answer(each) for each in found.doubts],
    )


@router.post("/{way}", status_code=201)
def post_weighing(ask: Asked, way: Way, body: WeighTyped) -> list[RigAnswer]:
    """Keep it: a new weight, one weighed anew, several, or the scale that was checked with water."""
    typed = body.typed()
    rigs = keep_weighing(ask.acting(typed), way, typed.values, typed.seen)
    return [rig_answer(ask, rig_body(ask.workshop.ledger, rig)) for rig in rigs]


def _masses(found: Weighing) -> list[MassAnswer]:
    return [
        MassAnswer(
            name=mass.name,
            kilogram=mass.known.value,
            within_kilogram=mass.known.within or 0.0,
            stands=as_shown(mass.stands),
            rig=mass.rig["id"] if mass.rig is not None else None,
        )
        for mass in found.masses
    ]


def _gain(found: Weighing) -> GainAnswer | None:
    checked = found.checked
    if checked is None:
        return None
    return GainAnswer(
        percent=100 * checked.gain.value,
        within_percent=100 * (checked.gain.within or 0.0),
        stands=as_shown(checked.stands),
        before_kilogram=checked.before_kilogram,
        after_kilogram=checked.after_kilogram,
    )
