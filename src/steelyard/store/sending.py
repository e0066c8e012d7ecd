"""Whether a submission that came again is the same one, or another under a token that was used before."""

from collections.abc import Sequence

from steelyard.errors import InputRefused
from steelyard.records import Draft, Entry, Kind

DRAWN_AFRESH = {Kind.TOOL_ADDED, Kind.RIG_ADDED, Kind.CHECK_OPENED, Kind.PERSON_ADDED}
"""These carry a name that is drawn anew for each sending."""


def refuse_other(token: str, drafts: Sequence[Draft], earlier: Sequence[Entry]) -> None:
    """Raise InputRefused with the field `submission` where the token stood for something else before.

    A lone entry must be the same. Of several the kinds and subjects are compared, and of what begins
    something the kinds alone; a repeat may leave out what is there by now. Without this a program that counts
    its tokens anew would be told that a pull is kept which is not.
    """
    kinds = [draft.kind for draft in drafts]
    if kinds != [entry.kind for entry in earlier][: len(kinds)] or bool(kinds) != bool(earlier):
        raise InputRefused("submission", token, "want-new-submission")
    if not DRAWN_AFRESH.isdisjoint(kinds):
        return
    is_same = all(draft.subject == entry.subject for draft, entry in zip(drafts, earlier, strict=False))
    if len(earlier) == 1:
        is_same = is_same and dict(drafts[0].payload) == dict(earlier[0].payload)
    if not is_same:
        raise InputRefused("submission", token, "want-new-submission")
