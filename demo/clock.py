"""The clock of a played day: it is as late as the day's work would make it, however fast the keys are struck."""

from datetime import UTC, datetime, timedelta

STEP = timedelta(seconds=5)
"""what passes at each look at the clock: nobody waits for the time that a step takes"""
BEFORE = timedelta(hours=12)
"""how long ago the day began"""


class PlayedClock:
    """Gives the times of entries (ISO 8601, UTC), a little later at each look."""

    def __init__(self) -> None:
        self._now = datetime.now(UTC) - BEFORE

    def __call__(self) -> str:
        """The time now, which is a little later than it was."""
        self._now += STEP
        return self._now.isoformat(timespec="milliseconds").replace("+00:00", "Z")
