"""A check in hand or sealed: every step as it was taken, every pull with what became of it."""

from typing import Any

from steelyard.records.entry import Entry, day_there, who_and_when
from steelyard.records.kinds import Kind, Subject
from steelyard.records.listing import WIDTH, Body, Fold, Listing, searchable

AS_FOUND, AS_LEFT = "as-found", "as-left"


def _opened(body: Body, entry: Entry) -> dict[str, Any]:
    return {
        **body,
        **entry.payload,
        "opened": who_and_when(entry),
        "look": None,
        "choice": None,
        "setup": None,
        "exercise": [],
        "pulls": [],
        "verdicts": {},
        "turns": [],
        "waived": None,
        "attachments": [],
        "closed": None,
        "corrections": [],
    }


def _step(name: str) -> Fold:
    """A step that holds what was said last."""

    def folded(body: Body, entry: Entry) -> dict[str, Any]:
        return {**body, name: {**who_and_when(entry), **entry.payload}}

    return folded


def _row(name: str) -> Fold:
    """A step that holds all that was said, in order."""

    def folded(body: Body, entry: Entry) -> dict[str, Any]:
        return {**body, name: [*body[name], {**who_and_when(entry), **entry.payload}]}

    return folded


def _set_up(body: Body, entry: Entry) -> dict[str, Any]:
    """The kit as it stands; a later entry mends what was measured wrongly, and counts for all pulls."""
    return {**body, "setup": {**who_and_when(entry), **entry.payload}}


def _estimated(body: Body, entry: Entry) -> dict[str, Any]:
    """One more estimate; a check without trials has no row for them, as before there were any."""
    return {**body, "estimates": [*body.get("estimates", []), {**who_and_when(entry), **entry.payload}]}


def _signed(body: Body, entry: Entry) -> dict[str, Any]:
    """One more signature on the seal; a check that nobody signed has no row for them."""
    return {**body, "signed": [*body.get("signed", []), {**who_and_when(entry), **entry.payload}]}


def _turned(body: Body, entry: Entry) -> dict[str, Any]:
    """One more turn; what was locked before it is loose again."""
    turned = _row("turns")(body, entry)
    return {name: value for name, value in turned.items() if name != "locked"}


def _turn_corrected(body: Body, entry: Entry) -> dict[str, Any]:
    """A turn as it is known to have been made; what was written first stays beside it.

    stands: somebody said that it was made as it was written.
    """
    way = entry.payload["way"]
    turns = [
        {
            **turn,
            "way": way,
            "written": turn.get("written", turn["way"]),
            "stands": way == turn["way"],
            "corrected": who_and_when(entry),
        }
        if turn["number"] == entry.payload["turn"]
        else turn
        for turn in body["turns"]
    ]
    return {**body, "turns": turns}


def _struck_out(body: Body, entry: Entry) -> dict[str, Any]:
    return _with_pull(body, entry, entry.payload["reason"])


def _taken_back(body: Body, entry: Entry) -> dict[str, Any]:
    return _with_pull(body, entry, None)


def _with_pull(body: Body, entry: Entry, struck_out: str | None) -> dict[str, Any]:
    pulls = [
        {**pull, "struck_out": struck_out, "changed": entry.number}
        if pull["number"] == entry.payload["pull"]
        else pull
        for pull in body["pulls"]
    ]
    return {**body, "pulls": pulls}


def _verdict(body: Body, entry: Entry) -> dict[str, Any]:
    said = {**who_and_when(entry), **entry.payload}
    return {**body, "verdicts": {**body["verdicts"], entry.payload["phase"]: said}}


CHECK_FOLDS: dict[str, Fold] = {
    Kind.CHECK_OPENED: _opened,
    Kind.LOOKED_OVER: _step("look"),
    Kind.KIT_CHOSEN: _step("choice"),
    Kind.RIG_SET_UP: _set_up,
    Kind.EXERCISED: _row("exercise"),
    Kind.PULL_READ: _row("pulls"),
    Kind.TRIAL_ANSWERED: _row("pulls"),
    Kind.ESTIMATE_GIVEN: _estimated,
    Kind.PULL_STRUCK_OUT: _struck_out,
    Kind.PULL_TAKEN_BACK: _taken_back,
    Kind.VERDICT_ASKED: _verdict,
    Kind.ADJUSTER_TURNED: _turned,
    Kind.TURN_CORRECTED: _turn_corrected,
    Kind.ADJUSTER_LOCKED: _step("locked"),
    Kind.ADJUSTING_WAIVED: _step("waived"),
    Kind.ATTACHMENT_KEPT: _row("attachments"),
    Kind.CHECK_CLOSED: _step("closed"),
    Kind.CORRECTED: _row("corrections"),
    Kind.SIGNED: _signed,
}


def check_listing(body: Body) -> Listing:
    """Sealed checks in the order of their records, checks in hand in the order of their opening."""
    closed, opened = body["closed"], body["opened"]
    record = f"record {closed['record']}" if closed else None
    number = closed["record"] if closed else body["first"]
    return Listing(
        key=str(number).zfill(WIDTH),
        state=closed["verdict"] if closed else "open",
        day=closed["day"] if closed else day_there(opened["at"], opened["offset_minutes"]),
        owner=Subject.TOOL.named(body["tool"]),
        who=closed["who"] if closed else opened["who"],
        words=searchable(body["tool_number"], body.get("title"), record),
    )
