"""The adjuster: every turn logged, locked, or let be on purpose; shut until the as-found pulls are judged."""

from collections.abc import Iterator, Mapping

from steelyard.desk.acting import Acting
from steelyard.desk.bench import known_last, open_body, write_step
from steelyard.desk.ports import Body
from steelyard.desk.turns import MOST_TURNS, read_turns
from steelyard.errors import InputRefused
from steelyard.records import AS_FOUND, AS_LEFT, Draft, Fields, Kind, Subject, standing_verdict
from steelyard.words import say

WAYS = ("in", "out", "other")
GUIDED_WAYS = WAYS[:2]
"""Of these the size must be a number, so that it teaches what a turn does."""


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
        "turns": fields.needed("turns", fields.text, "want-turns", most=MOST_TURNS),
        "way": fields.needed(
            "way", lambda f: fields.choice(f, str, list(WAYS)), "want-one-of", names=", ".join(WAYS)
        ),
        "note": fields.text("turn_note"),
    }
    if payload["way"] in GUIDED_WAYS:
        read_turns(str(payload["turns"]), field="turns")
    subject = Subject.CHECK.named(check)
    turn = Draft(Kind.ADJUSTER_TURNED, subject, payload)
    struck = _struck(body, subject, say("turned-since"))
    acting.write(turn, *struck, seen={subject: known_last(body, seen)})


def correct_turn(
    acting: Acting, check: str, turn: int, typed: Mapping[str, str], *, seen: int | None = None
) -> None:
    """How a turn was really made; the entry of the turn stays as it was written.

    turn: its place in the log, from 1. typed: `way`, in or out. The same as written: it is stood by, and what
    the turns before it taught is dropped. No pull is struck out, for the tool stands as it did.
    Raises as `turn_adjuster`, with the field `turn` or `way`.
    """
    body = open_body(acting.ledger, check)
    if not 0 < turn <= len(body["turns"]):
        raise InputRefused("turn", turn, "want-known-turn")
    fields = Fields({k: v for k, v in typed.items() if v.strip()}, place="")
    names = ", ".join(GUIDED_WAYS)
    way = fields.needed("way", lambda f: fields.choice(f, str, list(GUIDED_WAYS)), "want-one-of", names=names)
    made = {"turn": body["turns"][turn - 1]["number"], "way": way}
    write_step(acting, body, Kind.TURN_CORRECTED, made, seen)


def lock_adjuster(acting: Acting, check: str, typed: Mapping[str, str], *, seen: int | None = None) -> None:
    """The lock nut is tight, or there is none. Pulls as left before it are struck out: it moves the setting.

    typed: `lock_note`. Raises as `turn_adjuster`, with the field `lock_note` where nothing was turned yet.
    """
    body = open_body(acting.ledger, check)
    if not body["turns"]:
        raise InputRefused("lock_note", None, "want-turned-first")
    note = typed.get("lock_note", "").strip() or None
    subject = Subject.CHECK.named(check)
    locked = Draft(Kind.ADJUSTER_LOCKED, subject, {"note": note})
    struck = _struck(body, subject, say("locked-since"))
    acting.write(locked, *struck, seen={subject: known_last(body, seen)})


def _struck(body: Body, subject: str, reason: str) -> Iterator[Draft]:
    """Pulls as left that counted: the tool stands otherwise now."""
    for pull in body["pulls"]:
        if pull["phase"] == AS_LEFT and pull["struck_out"] is None:
            struck = {"pull": pull["number"], "reason": reason}
            yield Draft(Kind.PULL_STRUCK_OUT, subject, struck)


def waive_adjusting(acting: Acting, check: str, typed: Mapping[str, str], *, seen: int | None = None) -> None:
    """Leave the tool as found, with a reason. Raises as `turn_adjuster`, with the field `waive_reason`."""
    body = open_body(acting.ledger, check)
    fields = Fields({k: v for k, v in typed.items() if v.strip()}, place="")
    reason = fields.needed("waive_reason", fields.text, "want-text")
    write_step(acting, body, Kind.ADJUSTING_WAIVED, {"reason": reason}, seen)
