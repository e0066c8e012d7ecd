"""The story of the demo workshop, Tern Point Boatyard: who is there, what they own, what they measured.

Everything in it is invented, papers and readings too. Days are counted back from the day it is told, so that
what is overdue, due soon or about to run out stays so on any day.
"""

from collections.abc import Iterator

from steelyard.simulation.story_shape import (
    Adjusts,
    Before,
    Checks,
    Closing,
    Corrects,
    Deed,
    Happens,
    Points,
    Pull,
    Retires,
    RigComes,
    Texts,
    ToolComes,
    added,
    poured,
    readings,
)
from steelyard.simulation.story_things import R_1, R_1_DAYS, RIGS, TOOLS

WORKSHOP: Texts = {
    "name": "Tern Point Boatyard",
    "latitude": "54.3° N",
    "height": "12",
    "unit": "N·m",
    "decimal_mark": ".",
}
ENGINE_SHOP, RIGGER = PEOPLE = ("engine shop", "rigger")
BEGUN = Before(1130, "10:00")

LADDER = tuple(f"M-10 + M-2 + M-1{more}" for more in ("", " + B-100", " + B-200", " + B-200 + B-100"))
QUICK: Texts = {"plan": "quick"}
FULL: Texts = {"plan": "full"}
ON_ADAPTER: Texts = {"axis": "vertical", "zeroed": "with-tool", "room_temperature": "20"}
ON_BENCH: Texts = {"axis": "vertical", "zeroed": "before-tool", "room_temperature": "21"}
ON_ARM: Texts = {
    "arm": "450 mm ± 1 mm",
    "droop": "0° ± 1°",
    "drop": "0 mm ± 5 mm",
    "dribble": "20 g",
    "room_temperature": "19",
}
BEAM_ON_ARM: Texts = {
    "arm": "300 mm ± 1 mm",
    "droop": "0° ± 1°",
    "drop": "0 mm ± 5 mm",
    "zeroed_tool": "yes",
    "load_0": "M-5 + M-2 + HOOK",
    "load_1": "M-10 + M-5 + M-2 + HOOK",
}


def story() -> Iterator[Deed]:
    """Everything that was done after the workshop was set up, the oldest first."""
    yield from _beginning()
    yield from _years()
    yield from _brackets_and_a_wrench_that_cannot_be_told()
    yield _keel(9, poured("3.925 3.955 3.910 3.940 3.935", scale="S-2"), _clicks(1, 2, 1, 1, 2))
    yield _driver()
    yield from _adjusted_by_weights_alone()
    yield from _these_days()


def _beginning() -> Iterator[Deed]:
    for name, (sort, typed) in RIGS.items():
        yield RigComes(Before(1130, "10:30"), ENGINE_SHOP, sort=sort, typed={"name": name, **typed}, days={})
    yield from _tools(Before(1129, "11:10"), "T-01", "T-03", "T-05", "T-07", "T-08", "T-12")


def _tools(when: Before, *numbers: str) -> Iterator[Deed]:
    yield from (ToolComes(when, RIGGER, typed=TOOLS[number]) for number in numbers)


def _years() -> Iterator[Deed]:
    """T-01 and T-03 drift, year by year; T-12 is scrapped; the record of T-08 is corrected."""
    yield _quick(Before(1120, "14:00"), "T-12", "58.9 59.3 59.1")
    yield _keel(1105, poured("3.995 4.015 4.000", scale="S-2"), _clicks(3, 3, 2))
    yield _quick(Before(1080, "13:20"), "T-03", "199.2 200.1 199.5")
    yield _keel(740, poured("3.965 3.990 3.980", scale="S-2"), _clicks(2, 2, 3))
    yield _quick(Before(718, "15:10"), "T-03", "197.0 197.9 197.4")
    why = "The ratchet slips; scrapped for its socket."
    yield Retires(Before(410, "16:30"), RIGGER, tool="T-12", why=why)
    yield _quick(Before(400, "10:15"), "T-08", "139.2 140.1 139.6", due_in_days=-35)
    yield Corrects(
        Before(399, "08:50"),
        RIGGER,
        tool="T-08",
        wrong="The title calls it the yearly round.",
        right="It was checked early, before it went out to the slip.",
    )
    yield from _tools(Before(385, "11:10"), "T-04", "T-06", "T-09", "T-10")
    yield _quick(Before(380, "13:05"), "T-05", "49.4 49.7 49.5")
    yield _keel(372, poured("3.945 3.965 3.955", scale="S-2"), _clicks(2, 1, 2))
    yield _quick(Before(364, "09:00"), "T-06", "297.8 299.0 298.1")
    yield _quick(Before(353, "14:40"), "T-03", "194.8 195.6 195.1", due_in_days=12)
    yield RigComes(Before(340, "10:00"), ENGINE_SHOP, sort="transducer", typed=R_1, days=R_1_DAYS)
    yield from _tools(Before(339, "10:20"), "T-11")
    yield _quick(Before(160, "11:30"), "T-10", "24.9 25.1 25.0")
    yield _quick(Before(150, "15:45"), "T-09", "24.7 24.9 24.8")


def _quick(when: Before, tool: str, line: str, *, due_in_days: int | None = None) -> Checks:
    """Three pulls at the highest on the adapter."""
    return Checks(
        when,
        ENGINE_SHOP,
        tool=tool,
        rig="A-1",
        why="due",
        title="yearly round",
        plan=QUICK,
        set_up=ON_ADAPTER,
        found=readings(line),
        closing=Closing(due_in_days),
    )


def _clicks(*rungs: int) -> tuple[Pull, ...]:
    return added(*rungs, ladder=LADDER)


def _keel(days: int, *points: tuple[Pull, ...]) -> Checks:
    """The wrench for keel bolts on hung weights: 20 N·m by pouring water, 60 N·m by adding masses."""
    return Checks(
        Before(days, "09:40"),
        RIGGER,
        tool="T-01",
        rig="W-1",
        why="due",
        title="keel bolts, before launching",
        plan=_own("20 60", pulls=len(points[0])),
        set_up=ON_ARM,
        found=points,
    )


def _own(targets: str, *, pulls: int) -> Texts:
    """Points of one's own. targets: in the workshop's unit."""
    return {"plan": "own", "targets": targets, "pulls": str(pulls)}


def _brackets_and_a_wrench_that_cannot_be_told() -> Iterator[Deed]:
    """T-07 is in, T-05 is out and set aside, of T-04 the adapter cannot tell."""
    yield Checks(
        Before(33, "16:00"),
        RIGGER,
        tool="T-07",
        rig="W-1",
        why="due",
        title="bicycle corner",
        plan=_own("20 50", pulls=5),
        set_up=BEAM_ON_ARM,
        found=readings("21.5 21.4 21.6 21.5 21.5", "51.0 50.8 51.2 51.0 50.9"),
        exercised=1,
    )
    yield Checks(
        Before(20, "10:05"),
        ENGINE_SHOP,
        tool="T-05",
        rig="A-1",
        why="doubt",
        title="outboard brackets came loose",
        plan=_own("20 50", pulls=3),
        set_up=ON_ADAPTER,
        found=readings("18.2 18.3 18.2", "45.5 45.8 45.6"),
        closing=Closing(
            note="Its bolts are gone over with T-04.", waived="The spring is tired; a new one comes."
        ),
    )
    yield Checks(
        Before(16, "13:30"),
        ENGINE_SHOP,
        tool="T-04",
        rig="A-1",
        why="due",
        title="engine shop, spring round",
        plan=FULL,
        set_up=ON_ADAPTER,
        found=readings(
            "19.6 19.7 19.5 19.7 19.6", "58.9 59.2 58.8 59.1 59.0", "97.4 98.1 /88.2 97.8 98.0 97.7"
        ),
    )
    yield from _tools(Before(12, "09:15"), "T-02")


def _driver() -> Checks:
    """T-11 is out as found, is adjusted, and is in as left."""
    return Checks(
        Before(6, "11:20"),
        ENGINE_SHOP,
        tool="T-11",
        rig="R-1",
        why="new",
        title="instrument panel",
        plan=FULL,
        set_up=ON_BENCH,
        found=_driver_found(),
        turns=(
            {"turns": "1/2", "way": "in", "turn_note": "3.52 N·m at 3.6 now"},
            {"turns": "1/4", "way": "in"},
        ),
        left=readings(
            "1.00 1.01 0.99 1.00 1.00",
            "3.60 3.62 3.58 3.61 3.60",
            "5.97 6.02 5.95 6.00 5.98",
            "-1.00 -0.99 -1.00 -1.01 -1.00",
            "-3.61 -3.63 -3.60 -3.62 -3.61",
            "-6.01 -6.04 -5.98 -6.02 -6.00",
        ),
    )


def _driver_found() -> Points:
    return readings(
        "0.96 0.97 0.95 0.96 0.97",
        "3.41 3.44 3.39 3.42 3.40",
        "5.52 5.57 5.50 5.55 5.53",
        "-0.96 -0.95 -0.97 -0.96 -0.96",
        "-3.43 -3.45 -3.42 -3.44 -3.44",
        "-5.58 -5.61 -5.55 -5.60 -5.57",
    )


def _adjusted_by_weights_alone() -> Iterator[Deed]:
    """T-13 came second-hand: by yes and no it is found low, and turned as advised until it is in."""
    yield from _tools(Before(5, "13:40"), "T-13")
    yield Adjusts(
        Before(5, "14:00"),
        RIGGER,
        tool="T-13",
        rig="W-1",
        why="new",
        title="second-hand, by weights alone",
        plan=_own("30 60", pulls=8),
        set_up=ON_ARM,
        off_newton_metre=-3.0,
        gain_newton_metre=2.4,
        lock_newton_metre=-0.7,
        scatter_percent=0.6,
        most_trials=8,
        most_between=5,
        lock_note="nut tight, screw held",
    )


def _these_days() -> Iterator[Deed]:
    """T-10 is lent, T-09 fell, and T-06 lies half checked on the bench."""
    yield Happens(Before(4, "17:10"), RIGGER, tool="T-10", what="lent", note="the sail loft, until Friday")
    yield Happens(
        Before(2, "09:35"), RIGGER, tool="T-09", what="dropped", note="from the staging onto the slip"
    )
    yield Checks(
        Before(minutes=25),
        ENGINE_SHOP,
        tool="T-06",
        rig="A-1",
        why="due",
        title="shaft couplings",
        plan=FULL,
        set_up=ON_ADAPTER,
        found=readings("59.4 59.8 59.5 59.6 59.5", "178.9 179.6", ""),
        closing=None,
    )
