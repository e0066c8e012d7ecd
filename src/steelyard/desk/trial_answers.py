"""The answer of a yes/no trial, kept with the estimate that all answers then give."""

from collections.abc import Mapping
from typing import Any

from steelyard.desk.acting import Acting
from steelyard.desk.bench import known_last
from steelyard.desk.content import threshold_content
from steelyard.desk.ports import Body
from steelyard.desk.pulls import look_at, ready_body, target_unit
from steelyard.desk.running import point_form
from steelyard.desk.trials import MARK_UNIT, trials_of
from steelyard.desk.typed_table import with_unit
from steelyard.desk.workshop import settings
from steelyard.errors import InputRefused
from steelyard.records import Draft, Entry, Fields, Kind, Subject, pulls_by_point


def answer_trial(
    acting: Acting, check: str, phase: str, point: int, typed: Mapping[str, str], *, seen: int | None = None
) -> Entry:
    """Keep one answer, and beside it the estimate that all answers now give.

    typed: `load`, what hung; `clicked`, yes or no; `set`, what the tool was set to where not the target;
    `at`, the mark where not the kit's own; `sure`.
    Returns the entry of the trial. Raises NotFound, RecordSealed, Conflict; InputRefused with the field.
    """
    body = ready_body(acting.ledger, check, phase, point)
    fields = Fields({k: v for k, v in typed.items() if v.strip()}, place="")
    given = fields.needed("clicked", fields.text, "want-yes-no")
    if given not in ("yes", "no"):
        raise InputRefused("clicked", given, "want-yes-no")
    pull: dict[str, Any] = {
        "load": fields.needed("load", fields.text, "want-load"),
        "clicked": given == "yes",
    }
    units = {"set": target_unit(str(body["setup"]["points"][point]["target"])), "at": MARK_UNIT}
    for name, unit in units.items():
        text = fields.text(name)
        if text is not None:
            pull[name] = with_unit(text, unit, mark=settings(acting.ledger).reads_by)
    if typed.get("sure", "") == "yes":
        pull["sure"] = True
    payload = {"phase": phase, "point": point, "pull": pull, "struck_out": None}
    look_at(body, payload)
    subject = Subject.CHECK.named(check)
    estimate = Draft(Kind.ESTIMATE_GIVEN, subject, _estimate(body, payload))
    last = known_last(body, seen)
    (entry, *_) = acting.write(Draft(Kind.TRIAL_ANSWERED, subject, payload), estimate, seen={subject: last})
    return entry


def _estimate(body: Body, payload: Mapping[str, Any]) -> dict[str, Any]:
    """The estimate with one more answer, numbers in percent of the setting."""
    phase, point = payload["phase"], payload["point"]
    rows = (*pulls_by_point(body, phase)[point], payload)
    form = point_form(body, point, rows)
    trials = trials_of(form, form.points[0])
    said = trials.threshold
    return {
        "phase": phase,
        "point": point,
        "answers": said.count,
        "sides": said.sides.value,
        "percent": said.percent if said.is_two_sided else None,
        "low_percent": said.low_percent if said.is_two_sided else None,
        "high_percent": said.high_percent if said.is_two_sided else None,
        "scatter_percent": said.scatter_percent,
        "bracket_percent": threshold_content(said)["bracket_percent"],
        "enough": trials.enough.value if trials.enough is not None else None,
    }
