"""`steelyard able FILE`: what a kit can decide, before any work."""

import argparse
import json
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from steelyard.cli.files import arguments, read_file
from steelyard.cli.sentences import findings, mark, wrapped
from steelyard.words import cautions, say

if TYPE_CHECKING:
    from steelyard.desk import AbleKit, AblePoint

__all__ = ["answer", "arguments", "content", "report"]

EXIT = {"able": 0, "partly": 11, "hopeless": 11}
MOST_CHANGES = 3


def answer(read: argparse.Namespace) -> int:
    """Ask the kit, print, return 0 where it can decide every point, else 11."""
    from steelyard.desk import ask_kit

    able = ask_kit(read_file(read.file))
    if read.json:
        print(json.dumps(content(able), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        print("\n".join(wrapped(report(able))))
    return EXIT[able.verdict]


def report(able: "AbleKit") -> Iterator[str]:
    """The answer in lines of text."""
    yield say("able-title", kit=able.form.kit.name, number=able.form.tool.number)
    yield say("check-rule", rule=say(f"rule-{able.form.rule}"))
    guessed = say("able-guessed") if able.is_guessed else ""
    pulls = able.points[0].form.planned_pulls
    yield say("able-assumes", pulls=pulls, scatter=100 * able.scatter_ratio, guessed=guessed)
    for point in able.points:
        yield ""
        yield from _point(point)
    if able.findings:
        yield ""
        yield from findings(able.findings)
    if any(point.mass_kilogram is not None for point in able.points):
        yield ""
        yield say("section-cautions")
        yield from (f"  {say(code)}" for code in cautions(signals=not able.form.tool.kind.is_indicating))


def _point(point: "AblePoint") -> Iterator[str]:
    fitness = point.fitness
    facts = {"target": point.form.target.typed, "direction": point.form.direction}
    if point.limit_percent is None:
        yield say("able-no-limit", mark=mark("no-limit"), expanded=fitness.expanded_percent, **facts)
    elif fitness.is_hopeless:
        yield say(
            "able-hopeless",
            mark=mark("out"),
            expanded=fitness.expanded_percent,
            limit=point.limit_percent,
            **facts,
        )
    else:
        yield say(
            "able-point",
            mark=mark("in"),
            expanded=fitness.expanded_percent,
            passes=fitness.passes_percent,
            **facts,
        )
    if point.mass_kilogram is not None:
        yield say("able-mass", mass_kilogram=point.mass_kilogram)
    if point.step_kilogram:
        yield say("able-step", step_kilogram=point.step_kilogram)
    if point.grip_newton is not None:
        yield say("able-force", force_newton=point.grip_newton, hand_kilogram=point.grip_kilogram)
    for change in fitness.improvements[:MOST_CHANGES]:
        yield _change(point, change.change, change.expanded_percent)
    if not fitness.improvements:
        yield say("able-enough")


def _change(point: "AblePoint", change: str, expanded: float) -> str:
    if point.limit_percent is None:
        return say("able-better-no-limit", change=say(change), expanded=expanded)
    passes = float(point.limit_percent) - expanded
    code = "able-better" if passes > 0 else "able-better-hopeless"
    return say(code, change=say(change), expanded=expanded, passes=passes)


def content(able: "AbleKit") -> dict[str, Any]:
    """The answer as JSON content, units in the key names."""
    return {
        "steelyard_able": 1,
        "tool": able.form.tool.number,
        "kit": able.form.kit.name,
        "verdict": able.verdict,
        "scatter_percent": 100 * able.scatter_ratio,
        "scatter_is_guessed": able.is_guessed,
        "points": [
            {
                "target": p.form.target.typed,
                "direction": p.form.direction,
                "limit_percent": p.limit_percent,
                "planned_pulls": p.form.planned_pulls,
                "expanded_percent": p.fitness.expanded_percent,
                "passes_inside_percent": p.fitness.passes_percent,
                "hopeless": p.fitness.is_hopeless,
                "mass_kilogram": p.mass_kilogram,
                "step_kilogram": p.step_kilogram,
                "grip_newton": p.grip_newton,
                "improvements": [
                    {"change": c.change, "expanded_percent": c.expanded_percent}
                    for c in p.fitness.improvements
                ],
            }
            for p in able.points
        ],
    }
