"""Cautions for hung weights: codes of the sentences that every door shows before something hangs."""

CAUTIONS = ("caution-feet", "caution-hook", "caution-jump", "caution-drive")
OF_A_CLICK = ("caution-jump",)


def cautions(*, signals: bool) -> tuple[str, ...]:
    """The cautions for one tool. signals: it clicks, breaks or slips, so it may jump; not one that shows."""
    return tuple(code for code in CAUTIONS if signals or code not in OF_A_CLICK)
