"""The backup of the day, made while a workshop is served."""

import threading
from collections.abc import Callable
from datetime import date

from steelyard.bootstrap.opened import Workshop
from steelyard.errors import SteelyardError
from steelyard.records import THE_WORKSHOP
from steelyard.store import SqlLedger, back_up_daily

EVERY_SECONDS = 60.0
PATIENCE_SECONDS = 10.0


def start_daily_backups(
    opened: Workshop,
    on_trouble: Callable[[SteelyardError], None],
    *,
    every_seconds: float = EVERY_SECONDS,
) -> Callable[[], None]:
    """See from now on that the day has its backup; returns what ends it.

    It is made at the first look of a day, and anew after the first record that is sealed on it and when
    serving ends, so that a day's work is in it. on_trouble: told what stood in the way, from another thread;
    the next look tries again, and it is told once an hour at most. A throw-away workshop and one in memory
    have none. every_seconds: between two looks. [s]
    """
    is_over = threading.Event()
    if opened.is_demo or not isinstance(opened.ledger, SqlLedger):
        return is_over.set
    watch = _Watch(opened, opened.ledger, on_trouble)

    def look() -> None:
        while True:
            watch.look()
            if is_over.wait(every_seconds):
                return

    thread = threading.Thread(target=look, name="daily backup", daemon=True)
    thread.start()

    def stop() -> None:
        is_over.set()
        thread.join(PATIENCE_SECONDS)
        if not thread.is_alive():
            watch.look(is_last=True)

    return stop


class _Watch:
    """What was seen at the looks so far: how many records there were, on which day they were copied."""

    def __init__(
        self, opened: Workshop, ledger: SqlLedger, on_trouble: Callable[[SteelyardError], None]
    ) -> None:
        self._opened, self._ledger, self._on_trouble = opened, ledger, on_trouble
        self._records: int | None = None
        self._renewed: date | None = None
        self._told: str = ""

    def look(self, *, is_last: bool = False) -> None:
        """Make the backup that is wanting now, if one is."""
        now = self._opened.clock.now()
        try:
            records = int((self._ledger.document(THE_WORKSHOP) or {}).get("records", 0))
            is_sealed = self._records is not None and records > self._records
            afresh = is_last or (is_sealed and self._renewed != now.date())
            back_up_daily(self._ledger, self._opened.backup_folder, now=now, afresh=afresh)
        except SteelyardError as trouble:
            self._tell(trouble, hour=f"{now:%Y-%m-%d %H}")
            return
        if is_sealed:
            self._renewed = now.date()
        self._records = records

    def _tell(self, trouble: SteelyardError, *, hour: str) -> None:
        if self._told != f"{hour} {trouble}":
            self._told = f"{hour} {trouble}"
            self._on_trouble(trouble)
