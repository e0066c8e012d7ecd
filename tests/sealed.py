"""Checks done at the bench and sealed, for tests that read them in the book."""

from collections.abc import Mapping

from steelyard.desk import (
    Acting,
    add_rig,
    add_tool,
    choose_kit,
    close_check,
    exercise,
    judge_phase,
    look_over,
    open_check,
    read_pull,
    set_up,
    strike_out,
    turn_adjuster,
)

TARGETS = ("20", "60", "100")
FOUND = {0: (18.9, 19.0, 18.95), 1: (57.0, 57.2, 57.1), 2: (95.2, 95.0, 95.1)}
LEFT = {0: (19.95, 20.0, 20.05), 1: (60.1, 60.0, 60.2), 2: (100.1, 100.3, 100.2)}


def tool(acting: Acting, number: str = "T-02") -> str:
    """A click wrench from 20 to 100 N·m."""
    typed = {
        "number": number,
        "kind": "click-adjustable",
        "lowest": "20",
        "highest": "100",
        "unit": "N·m",
        "graduation": "1",
        "directions": "cw",
        "limit": "own",
        "limit.percent": "4",
        "limit.source": "our own list",
        "own_way": "skip",
    }
    return add_tool(acting, typed)


def transducer(acting: Acting, name: str = "bench transducer R-1") -> str:
    """A transducer with a stated accuracy and no paper."""
    typed = {"name": name, "resolution": "0.01", "unit": "N·m", "stated_of_reading": "0.5"}
    return add_rig(acting, "transducer", typed)


def opened(acting: Acting, of: str, why: str = "due") -> str:
    """A check of a tool, begun."""
    return open_check(acting, of, {"why": why, "title": "launching day"})


def adjusted(acting: Acting, of: str, rig: str) -> int:
    """A tool found out, adjusted and left in; one pull struck out. Returns the number of the record."""
    check = opened(acting, of)
    look_over(acting, check, {"damaged": "no"})
    choose_kit(acting, check, {"rig": rig, "plan": "own", "targets": " ".join(TARGETS), "pulls": "3"})
    typed = {"is_ready": "yes", "axis": "vertical", "zeroed": "with-tool", "mode": "first-peak"}
    set_up(acting, check, {**typed, "room_temperature": "19"})
    exercise(acting, check, {"exercise_pulls": "5"})
    slipped = read_pull(acting, check, "as-found", 0, {"line": "22.2"})
    strike_out(acting, check, slipped.number, {"reason": "slipped"})
    pull_all(acting, check, "as-found", FOUND)
    judge_phase(acting, check, "as-found", {})
    turn_adjuster(acting, check, {"turns": "1/4", "way": "in", "turn_note": "stiff"})
    pull_all(acting, check, "as-left", LEFT)
    judge_phase(acting, check, "as-left", {})
    return close_check(acting, check, {"next_due": "2027-11-25", "close_note": "spring is old"})


def left_out(acting: Acting, of: str, rig: str) -> int:
    """A check whose last planned point was left out on purpose."""
    check = opened(acting, of)
    look_over(acting, check, {"damaged": "no"})
    choose_kit(acting, check, {"rig": rig, "plan": "own", "targets": " ".join(TARGETS), "pulls": "3"})
    set_up(acting, check, {"is_ready": "yes", "axis": "vertical", "zeroed": "with-tool"})
    pull_all(acting, check, "as-found", {point: LEFT[point] for point in (0, 1)})
    judge_phase(acting, check, "as-found", {"incomplete": "yes"})
    return close_check(acting, check, {"next_due": "2027-11-25"})


def pull_all(acting: Acting, check: str, phase: str, pulls: Mapping[int, tuple[float, ...]]) -> None:
    """Every pull of a phase, as typed."""
    for point, readings in pulls.items():
        for reading in readings:
            read_pull(acting, check, phase, point, {"line": f"{reading:.2f}"})


def stopped(acting: Acting, of: str) -> int:
    """A tool that was damaged on sight."""
    check = opened(acting, of, why="dropped")
    look_over(acting, check, {"damaged": "yes", "look_note": "ratchet cracked"})
    return close_check(acting, check, {})
