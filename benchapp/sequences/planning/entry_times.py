"""Times of entries (ISO 8601 in UTC) and what lies between them; nothing here reads a clock."""

from datetime import UTC, date, datetime
from functools import lru_cache

BENCH_DAY = 14 * 3600.0
"""Seconds for which a bench opening, a caution read and a meter taken in hand count as today's.

Not a calendar day: in some regions midnight in UTC falls in the working day (own choice).
"""
DAY = 24 * 3600.0


@lru_cache(maxsize=4096)
def seconds_since_1970(at: str) -> float:
    """The time as seconds since 1970; raises ValueError for a text that is no ISO 8601 time."""
    when = datetime.fromisoformat(at)
    return (when if when.tzinfo else when.replace(tzinfo=UTC)).timestamp()


def is_time(at: str) -> bool:
    """Whether the text is a time, or empty."""
    try:
        return not at or seconds_since_1970(at) is not None
    except ValueError:
        return False


def day_of(at: str) -> date:
    """The date of a time, in UTC: calibrations fall due by whole days."""
    return date.fromisoformat(at[:10])


def seconds_between(earlier: str, later: str) -> float:
    """Seconds from one entry's time to another's; negative when the clock was set back."""
    return seconds_since_1970(later) - seconds_since_1970(earlier)


def after(at: str, seconds: float) -> str:
    """The time that lies so many seconds after an entry's, in the form in which entries say theirs."""
    when = datetime.fromtimestamp(seconds_since_1970(at) + seconds, UTC)
    return when.isoformat(timespec="milliseconds").replace("+00:00", "Z")


def is_todays(earlier: str, later: str) -> bool:
    """Whether both lie in one day at the bench; a clock set back proves nothing."""
    return bool(earlier) and 0 <= seconds_between(earlier, later) <= BENCH_DAY
