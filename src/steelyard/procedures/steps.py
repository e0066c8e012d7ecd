"""The steps of a check in their order, and which of them is open."""

from dataclasses import dataclass
from enum import StrEnum


class Step(StrEnum):
    """One page of the bench."""

    WHY = "why"
    LOOK = "look"
    KIT = "kit"
    SET_UP = "set-up"
    EXERCISE = "exercise"
    AS_FOUND = "as-found"
    VERDICT = "verdict"
    ADJUST = "adjust"
    AS_LEFT = "as-left"
    CLOSE = "close"


class StepState(StrEnum):
    """DONE: said. NOW: to be done next. OPEN: can be done. LOCKED: not yet. SKIPPED: not needed."""

    DONE = "done"
    NOW = "now"
    OPEN = "open"
    LOCKED = "locked"
    SKIPPED = "skipped"


@dataclass(frozen=True)
class Progress:
    """How far a check has come.

    is_stopped: damaged on sight, and not gone on with. found, left: all planned pulls are read.
    found_judged, left_judged: a verdict stands that no later pull has made stale. turned: the adjuster was
    turned.
    is_waived: adjusting was let go on purpose. verdict: of the as-found pulls. is_closed: sealed.
    """

    is_looked_over: bool = False
    is_stopped: bool = False
    is_kit_chosen: bool = False
    is_set_up: bool = False
    is_exercised: bool = False
    found: bool = False
    found_judged: bool = False
    verdict: str | None = None
    is_turned: bool = False
    is_waived: bool = False
    left: bool = False
    left_judged: bool = False
    is_closed: bool = False


@dataclass(frozen=True)
class StandingStep:
    """A step and how it stands."""

    step: Step
    state: StepState


def steps_of(progress: Progress) -> tuple[StandingStep, ...]:
    """Every step of a check with its state, in order; at most one is NOW.

    Source: own procedure after common practice in the trade: look, exercise, as found before any
    adjusting, as left after it. Left out: how many pulls make a point; that is planned with the kit.
    """
    done = _done(progress)
    skipped = _skipped(progress)
    now = where_now(progress)
    order = list(Step)
    states = []
    for step in order:
        if step is now:
            state = StepState.NOW
        elif done[step]:
            state = StepState.DONE
        elif step in skipped:
            state = StepState.SKIPPED
        elif _is_open(step, progress):
            state = StepState.OPEN
        else:
            state = StepState.LOCKED
        states.append(StandingStep(step, state))
    return tuple(states)


def where_now(progress: Progress) -> Step:
    """The step to go on with: the first that is neither done nor skipped."""
    done, skipped = _done(progress), _skipped(progress)
    return next((step for step in Step if not done[step] and step not in skipped), Step.CLOSE)


def _done(progress: Progress) -> dict[Step, bool]:
    return {
        Step.WHY: True,
        Step.LOOK: progress.is_looked_over,
        Step.KIT: progress.is_kit_chosen,
        Step.SET_UP: progress.is_set_up,
        Step.EXERCISE: progress.is_exercised,
        Step.AS_FOUND: progress.found,
        Step.VERDICT: progress.found_judged,
        Step.ADJUST: progress.is_turned or progress.is_waived,
        Step.AS_LEFT: progress.left and progress.left_judged,
        Step.CLOSE: progress.is_closed,
    }


def _skipped(progress: Progress) -> set[Step]:
    """Steps that this check does without."""
    if progress.is_stopped:
        return {Step.KIT, Step.SET_UP, Step.EXERCISE, Step.AS_FOUND, Step.VERDICT, Step.ADJUST, Step.AS_LEFT}
    if progress.found_judged and not progress.is_turned:
        needs_no_adjusting = progress.verdict != "out"
        return {Step.AS_LEFT, *([Step.ADJUST] if needs_no_adjusting else [])}
    return set()


def _is_open(step: Step, progress: Progress) -> bool:
    """A step that may be taken out of turn: adjusting is locked until as found is judged."""
    if progress.is_closed:
        return False
    return {
        Step.SET_UP: progress.is_kit_chosen,
        Step.EXERCISE: progress.is_set_up,
        Step.AS_FOUND: progress.is_set_up,
        Step.VERDICT: progress.is_set_up,
        Step.ADJUST: progress.found_judged,
        Step.AS_LEFT: progress.is_turned,
        Step.CLOSE: True,
    }.get(step, False)
