"""Settings that a workshop may have. The limits are our own choice (common practice)."""

from math import isfinite

from benchapp.sequences.planning.planned import Workshop

MOST_DAYS = 366
"""days for which a dead test may stand in for one of today"""
MOST_SECONDS = 3600.0
"""seconds for which a mains reading may serve: the supply moves within the hour"""
LARGEST_FACTOR = 3.0
"""of the guard band w = r·U (ILAC-G8 uses up to 3)"""


def refuse_workshop(workshop: Workshop) -> str | None:
    """The sentence with which settings are refused; None where they may be kept."""
    days = workshop.dead_tests_last_days
    if isinstance(days, bool) or not isinstance(days, int) or not 1 <= days <= MOST_DAYS:
        return f"Dead tests cannot last {days} days: write a whole number from 1 to {MOST_DAYS}."
    fresh = workshop.mains_fresh_for
    if not isfinite(fresh) or not 0 < fresh <= MOST_SECONDS:
        return f"A mains reading cannot serve for {fresh:g} s: write 1 s to {MOST_SECONDS:g} s."
    factor = workshop.guard_factor
    if not isfinite(factor) or not 0 <= factor <= LARGEST_FACTOR:
        return f"{factor:g} is no factor of a guard band: write 0 to {LARGEST_FACTOR:g}."
    return None if workshop.region.strip() else "Say in which region the workshop is."
