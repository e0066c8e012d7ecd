"""Cautions for hung weights: codes of the sentences that every door shows before something hangs."""

CAUTIONS = ("caution-feet", "caution-hook", "caution-jump", "caution-drive")
