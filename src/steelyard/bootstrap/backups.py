"""The backup of the day, made while a workshop is served."""

import threading
from collections.abc import Callable

from steelyard.bootstrap.opened import Workshop
from steelyard.errors import SteelyardError
from steelyard.store import SqlLedger, back_up_daily

EVERY_SECONDS = 3600.0
PATIENCE_SECONDS = 10.0


def start_daily_backups(
    opened: Workshop,
    on_trouble: Callable[[SteelyardError], None],
    *,
    every_seconds: float = EVERY_SECONDS,
) -> Callable[[], None]:
    """Look now, and then every hour, whether the day has its backup; returns what ends it.

    on_trouble: told what stood in the way, from another thread; the next look tries again. A throw-away
    workshop and one in memory have none. every_seconds: between two looks. [s]
    """
    is_over = threading.Event()
    if opened.is_demo or not isinstance(opened.ledger, SqlLedger):
        return is_over.set
    ledger = opened.ledger

    def look() -> None:
        while True:
            try:
                back_up_daily(ledger, opened.backup_folder, now=opened.clock.now())
            except SteelyardError as trouble:
                on_trouble(trouble)
            if is_over.wait(every_seconds):
                return

    thread = threading.Thread(target=look, name="daily backup", daemon=True)
    thread.start()

    def stop() -> None:
        is_over.set()
        thread.join(PATIENCE_SECONDS)

    return stop
