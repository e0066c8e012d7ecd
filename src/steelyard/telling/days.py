"""Days and moments as they are said here."""

from datetime import date, datetime, timedelta, timezone

from steelyard.words import say


def day_in_words(day: date) -> str:
    """A day as it is said here: 25 November 2026."""
    return say("today-day", day=day.day, month=say(f"month-{day.month}"), year=day.year)


def at_hour(at: str, offset_minutes: int) -> str:
    """A moment of the ledger as the clock of the workshop showed it."""
    there = datetime.fromisoformat(at).astimezone(timezone(timedelta(minutes=offset_minutes)))
    return say("today-moment", day=day_in_words(there.date()), hour=f"{there:%H:%M}")
