"""Whether a submission that came again is the same one, or another under a token that was used before."""

from collections.abc import Sequence

from steelyard.errors import InputRefused
from steelyard.records import Draft, Entry, Kind

DRAWN_AFRESH = {Kind.TOOL_ADDED, Kind.RIG_ADDED, Kind.CHECK_OPENED, Kind.PERSON_ADDED}
"""These carry a name that is drawn anew for each sending."""


def refuse_other(token: str, drafts: Sequence[Draft], earlier: Sequence[Entry]) -> None:
    """Raise InputRefused with the field `submission` where the token stood for something else before.

    A lone entry must be the same. Of several, or of one that begins something, only the kinds can be
    compared; a repeat may leave out what is there by now. Without this a program that counts its tokens anew would
    be told that a pull is kept which is not.
    """
    kinds = [draft.kind for draft in drafts]
    if kinds != [entry.kind for entry in earlier][: len(kinds)] or bool(kinds) != bool(earlier):
        raise InputRefused("submission", token, "want-new-submission")
    if len(earlier) != 1 or drafts[0].kind in DRAWN_AFRESH:
        return
    (draft,), (entry,) = drafts, earlier
    if draft.subject != entry.subject or dict(draft.payload) != dict(entry.payload):
        raise InputRefused("submission", token, "want-new-submission")
