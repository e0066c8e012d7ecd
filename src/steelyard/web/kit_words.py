"""What each kit can decide of a tool, in a few words for the page where one is chosen."""

from dataclasses import dataclass

from steelyard.desk import Ability, AbilityPoint, Body
from steelyard.telling import marked
from steelyard.web.load_words import in_all
from steelyard.words import say


@dataclass(frozen=True)
class KitChoice:
    """One kit to choose.

    sign, verdict: whether it can decide; empty where that was not reckoned. points: a line each.
    better: what helps most, or an empty text.
    """

    id: str
    name: str
    sign: str
    verdict: str
    points: tuple[str, ...]
    better: str


def not_reckoned(rig: Body) -> KitChoice:
    """A kit that was not asked, because several others were."""
    return KitChoice(str(rig["id"]), str(rig["table"]["name"]), "", "", (), "")


def kit_choice(rig: Body, able: Ability, decimal_mark: str) -> KitChoice:
    """A kit with what it can decide."""
    name = str(rig["table"]["name"])
    if able.refused is not None:
        wanted = (say("kit-needs", wanted=able.refused.wish),)
        return KitChoice(str(rig["id"]), name, "no-limit", say("kit-cannot-say"), wanted, "")
    sign, verdict = _verdict(able)
    points = (_point(point, decimal_mark) for point in able.points)
    better = _better(able, decimal_mark)
    return KitChoice(str(rig["id"]), name, sign, verdict, tuple(points), better)


def _verdict(able: Ability) -> tuple[str, str]:
    asked = [point.able.fitness.is_hopeless for point in able.points if point.able is not None]
    if not asked:
        return "no-limit", say("kit-cannot-say")
    if len(asked) == len(able.points) and not any(asked):
        return "in", say("kit-decides-all")
    return ("out", say("kit-decides-none")) if all(asked) else ("cant-tell", say("kit-decides-some"))


def _point(point: AbilityPoint, mark: str) -> str:
    target = f"{point.form.target.typed} {say(f'direction-{point.form.direction}')}"
    if point.able is None:
        return say("kit-point-needs", target=target, wanted=point.refused.wish if point.refused else "")
    fit, limit = point.able.fitness, point.able.limit_percent
    expanded = marked(fit.expanded_percent, mark)
    if fit.passes_percent is None:
        said = say("kit-able-no-limit", target=target, expanded=expanded)
    elif fit.is_hopeless:
        said = say("kit-able-hopeless", target=target, expanded=expanded, limit=limit)
    else:
        said = say("kit-able", target=target, expanded=expanded, passes=marked(fit.passes_percent, mark))
    kilogram = point.able.mass_kilogram
    if kilogram is None:
        return said
    hang = in_all(kilogram, point.able.always, point.able.always_kilogram, mark)
    return say("kit-point-hang", able=said, hang=hang)


def _better(able: Ability, mark: str) -> str:
    """What helps most at the point that is known worst."""
    known = [point.able for point in able.points if point.able is not None]
    worst = max(known, key=lambda point: point.fitness.expanded_percent, default=None)
    if worst is None or not worst.fitness.improvements:
        return ""
    best = worst.fitness.improvements[0]
    return say(
        "kit-better",
        change=say(best.change),
        target=worst.form.target.typed,
        expanded=marked(best.expanded_percent, mark),
    )
