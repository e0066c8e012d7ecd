"""The steps of a check in words, as the list beside every page of the bench shows them."""

from steelyard.desk import CheckView, Step, StepState
from steelyard.words import say

SHOWN = {
    StepState.DONE: "done",
    StepState.NOW: "now",
    StepState.OPEN: "todo",
    StepState.LOCKED: "todo",
    StepState.SKIPPED: "skip",
}


def step_list(view: CheckView, here: Step) -> list[tuple[str, str, str, str | None]]:
    """Each step as key, word, state and where it leads; the step of this page is the one that is now."""
    check = view.body["id"]
    rows = []
    for standing in view.steps:
        state = "now" if standing.step is here else SHOWN[standing.state]
        if state == "now" and standing.step is not here:
            state = "todo"
        is_open = standing.state in (StepState.DONE, StepState.NOW, StepState.OPEN)
        href = f"/bench/{check}/{standing.step}" if is_open else None
        rows.append((standing.step.value, say(f"step-{standing.step}"), state, href))
    return rows
