"""The age ladder of backups: which of them are kept as they grow old. Pure: times come in, names go out.

Of the last day one an hour is kept, of the last week one a day, of the last 60 days one a week, of all time before
that one a month (own choice). Always kept besides: the newest of all, and the newest sound one.

A month here is the calendar month in which a week's Thursday lies (the rule by which ISO 8601 gives a week its year).
So hours lie within days, days within weeks and weeks within months: whoever stands for a month has stood for its week
and its day before, and it makes no difference how often the ladder was asked on the way.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta


@dataclass(frozen=True, slots=True, kw_only=True)
class Rung:
    """One backup on the ladder: its name, when it was made, and whether it was verified and found sound."""

    name: str
    at: datetime
    sound: bool


def backups_to_drop(now: datetime, backups: Sequence[Rung]) -> frozenset[str]:
    """Names of the backups that the ladder no longer keeps at that time."""
    best: dict[tuple[object, ...], Rung] = {}
    for backup in backups:
        for _, period in _LADDER:
            place = (period, *period(backup.at))
            best[place] = max(best.get(place, backup), backup, key=_worth)
    kept = {backup.name for backup in backups if best[_place(now, backup)] is backup}
    kept |= {max(backups, key=worth).name for worth in (_worth, _age) if backups}
    return frozenset(backup.name for backup in backups) - kept


def most_kept(now: datetime, oldest: datetime) -> int:
    """The most backups that the ladder keeps when none is older than that and none lies in the future."""
    months = (now.year - oldest.year) * 12 + now.month - oldest.month + 3
    return 25 + 8 + 10 + months + 2


def _worth(backup: Rung) -> tuple[bool, datetime, str]:
    return backup.sound, backup.at, backup.name


def _age(backup: Rung) -> tuple[datetime, str]:
    return backup.at, backup.name


def _place(now: datetime, backup: Rung) -> tuple[object, ...]:
    age = now - backup.at
    period = next(period for until, period in _LADDER if age < until)
    return period, *period(backup.at)


def _hour(at: datetime) -> tuple[int, ...]:
    return *at.timetuple()[:3], at.hour


def _day(at: datetime) -> tuple[int, ...]:
    return tuple(at.timetuple()[:3])


def _week(at: datetime) -> tuple[int, ...]:
    return at.isocalendar()[:2]


def _month(at: datetime) -> tuple[int, ...]:
    thursday = at + timedelta(days=4 - at.isoweekday())
    return thursday.year, thursday.month


_LADDER: tuple[tuple[timedelta, Callable[[datetime], tuple[int, ...]]], ...] = (
    (timedelta(days=1), _hour),
    (timedelta(days=7), _day),
    (timedelta(days=60), _week),
    (timedelta.max, _month),
)
"""(younger than this, what one backup is kept of)"""
