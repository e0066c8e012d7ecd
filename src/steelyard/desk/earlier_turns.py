"""What earlier adjustments in this shop taught of a kind of tool; what is usual where there were none."""

from collections.abc import Iterator

from steelyard.adjustment import GainPrior
from steelyard.desk.ports import Body, Ledger, Wanted

LOOKED_AT = 30  # sealed checks, the latest first
USUAL_RATIO, USUAL_SPREAD = 0.04, 0.8  # of the highest torque per turn, our assumption; wide on purpose
LEARNED_SPREAD = 0.5
EVEN = 0.5
MOST_SURE = 0.85  # of a sense by other tools alone: below what spares the test turn


def usual_gain(ledger: Ledger | None, body: Body, highest_newton_metre: float) -> tuple[GainPrior, int]:
    """What to expect of a turn at the highest point, and from how many earlier adjustments it was learned.

    ledger: None where there is none to look into. body: of the check in hand.
    Source: our own choice; the sense is never asserted from other tools.
    """
    kind = str(body["setup"]["form"]["tool"]["kind"])
    gains = list(_gains(ledger, kind, but=str(body.get("id", "")))) if ledger is not None else []
    if not gains:
        return GainPrior(USUAL_RATIO * highest_newton_metre, USUAL_SPREAD, EVEN), 0
    sizes = sorted(abs(gain) for gain in gains)
    share = (1 + sum(gain > 0 for gain in gains)) / (2 + len(gains))
    positive = min(max(share, 1 - MOST_SURE), MOST_SURE)
    return GainPrior(sizes[len(sizes) // 2] * highest_newton_metre, LEARNED_SPREAD, positive), len(gains)


def _gains(ledger: Ledger, kind: str, *, but: str) -> Iterator[float]:
    """Change per turn over the highest torque, of sealed checks of this kind that taught it. [1 per turn]"""
    sealed = Wanted("check", states=("in", "out", "cant-tell"), most=LOOKED_AT, newest_first=True)
    for listed in ledger.documents(sealed):
        body = listed.body
        gain = (body.get("closed") or {}).get("gain_ratio")
        if gain and body["setup"]["form"]["tool"]["kind"] == kind and body["id"] != but:
            yield float(gain)
