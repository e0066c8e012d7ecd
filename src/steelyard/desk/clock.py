"""Whether the computer's clock can be believed, by the last entry that was written."""

from datetime import datetime, timedelta

from steelyard.desk.ports import Clock, Ledger

MOST_BACK = timedelta(minutes=2)  # clocks that are set by a time server step back by less


def clock_is_back(ledger: Ledger, clock: Clock) -> str | None:
    """When the last entry was written, where the clock now stands before that; None where it does not.

    The order of entries is their number, so nothing is lost by it; but the days in records would be wrong.
    """
    last = ledger.head().at
    if not last:
        return None
    written, now = datetime.fromisoformat(last), clock.now()
    if written - now <= MOST_BACK:
        return None
    return written.astimezone(now.tzinfo).isoformat(" ", "minutes")[:16]
