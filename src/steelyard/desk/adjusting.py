"""The adjuster: every turn logged, or let be on purpose; locked until the as-found pulls are judged."""

from collections.abc import Iterator, Mapping

from steelyard.desk.acting import Acting
from steelyard.desk.bench import known_last, open_body, write_step
from steelyard.desk.ports import Body
from steelyard.errors import InputRefused
from steelyard.records import AS_FOUND, AS_LEFT, Draft, Fields, Kind, Subject, standing_verdict
from steelyard.words import say

WAYS = ("in", "out", "other")


def turn_adjuster(acting: Acting, check: str, typed: Mapping[str, str], *, seen: int | None = None) -> None:
    """One turn: how far, as typed, which way, and a note. Pulls as left before it are struck out.

    seen: last entry that was known of the check. Refused before as found is judged.
    Raises Conflict, RecordSealed; InputRefused with the field `turns` or `way`.
    """
    body = open_body(acting.ledger, check)
    if standing_verdict(body, AS_FOUND) is None:
        raise InputRefused("turns", None, "want-found-first")
    fields = Fields({k: v for k, v in typed.items() if v.strip()}, place="")
    payload = {
        "turns": fields.needed("turns", fields.text, "want-turns"),
        "way": fields.needed(
            "way", lambda f: fields.choice(f, str, list(WAYS)), "want-one-of", names=", ".join(WAYS)
        ),
        "note": fields.text("turn_note"),
    }
    subject = Subject.CHECK.named(check)
    turn = Draft(Kind.ADJUSTER_TURNED, subject, payload)
    acting.write(turn, *_struck(body, subject), seen={subject: known_last(body, seen)})


def _struck(body: Body, subject: str) -> Iterator[Draft]:
    """Pulls as left that counted: the tool stands otherwise now."""
    for pull in body["pulls"]:
        if pull["phase"] == AS_LEFT and pull["struck_out"] is None:
            struck = {"pull": pull["number"], "reason": say("turned-since")}
            yield Draft(Kind.PULL_STRUCK_OUT, subject, struck)


def waive_adjusting(acting: Acting, check: str, typed: Mapping[str, str], *, seen: int | None = None) -> None:
    """Leave the tool as found, with a reason. Raises as `turn_adjuster`, with the field `waive_reason`."""
    body = open_body(acting.ledger, check)
    fields = Fields({k: v for k, v in typed.items() if v.strip()}, place="")
    reason = fields.needed("waive_reason", fields.text, "want-text")
    write_step(acting, body, Kind.ADJUSTING_WAIVED, {"reason": reason}, seen)
