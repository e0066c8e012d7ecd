"""What the pages of a point share: pulls, yes/no trials, poured runs."""

from collections.abc import Mapping, Sequence
from functools import partial
from typing import Any

from steelyard.desk import STRIKE_REASONS, Body, CheckView, Glance, Step, goes_by_trials, next_point
from steelyard.errors import InputRefused, SteelyardError
from steelyard.telling import doubt_said
from steelyard.web.asked import Typed
from steelyard.web.step_words import step_list


def point_address(body: Body, phase: str, point: int) -> str:
    """Where a point is gone on with: by its yes/no answers where it is known from them."""
    place = "/trials" if goes_by_trials(body, phase, point) else ""
    return f"/bench/{body['id']}/{phase}{place}?point={point}"


def point_sent(typed: Typed) -> int:
    """The place of a point in the plan, as a form sent it; −1 where it is none."""
    text = typed["point"]
    return int(text) if text.isascii() and text.isdigit() and len(text) < 5 else -1


def point_here(body: Body, phase: str, point: int | None, glance: Sequence[Glance]) -> int:
    """The point that was asked for, else the one to go on with."""
    return point if point is not None and 0 <= point < len(glance) else next_point(body, phase)


def point_context(
    view: CheckView, phase: str, here: int, glance: Sequence[Glance], *, mark: str
) -> dict[str, Any]:
    """The check, its steps, its points, and how doubts and reasons are said, in a reader's decimal mark."""
    return {
        "place": "bench",
        "view": view,
        "check": view.body,
        "tool": view.tool,
        "steps": step_list(view, Step(phase)),
        "phase": phase,
        "here": here,
        "glance": glance,
        "addresses": [point_address(view.body, phase, one.number) for one in glance],
        "doubt_said": partial(doubt_said, mark=mark),
        "reasons": STRIKE_REASONS,
    }


def reworded(refused: SteelyardError, words: Mapping[str, str]) -> SteelyardError:
    """What is refused in the words of a page, where it has its own."""
    if not isinstance(refused, InputRefused):
        return refused
    wanted = words.get(refused.wanted, refused.wanted)
    return InputRefused(refused.field, refused.given, wanted, **refused.facts)
