"""The age ladder of backups, held for any set of them."""

from datetime import UTC, datetime, timedelta
from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from benchapp.workbook.backup.ladder import Rung, backups_to_drop, most_kept

NOW = datetime(2026, 5, 4, 17, 30, tzinfo=UTC)
YEARS = timedelta(days=900)
SECONDS = st.integers(0, int(YEARS.total_seconds()))


def rungs(moments, sound=True):
    return [Rung(name=str(number), at=at, sound=sound) for number, at in enumerate(moments)]


@st.composite
def ladders(draw):
    """Backups of the last two and a half years, most of them young; some are not sound."""
    young = draw(st.lists(st.integers(0, 200_000), max_size=25))
    old = draw(st.lists(SECONDS, max_size=40))
    ages = [*young, *old]
    sound = draw(st.lists(st.booleans(), min_size=len(ages), max_size=len(ages)))
    return [
        Rung(name=f"b{number}", at=NOW - timedelta(seconds=age), sound=good)
        for number, (age, good) in enumerate(zip(ages, sound, strict=True))
    ]


def kept(now, backups):
    gone = backups_to_drop(now, backups)
    return [backup for backup in backups if backup.name not in gone]


def test_no_backup_none_to_drop():
    assert backups_to_drop(NOW, []) == frozenset()


def test_of_a_working_day_one_an_hour_is_kept():
    opened, again, closed = (NOW.replace(hour=hour, minute=minute) for hour, minute in ((9, 0), (9, 20), (17, 0)))
    assert backups_to_drop(NOW, rungs([opened, again, closed])) == {"0"}


def test_of_a_week_one_a_day_is_kept_the_last_of_each():
    days = [NOW - timedelta(days=2, hours=hours) for hours in (0, 5, 9)]
    assert backups_to_drop(NOW, rungs(days)) == {"1", "2"}


def test_years_of_daily_backups_leave_one_a_month():
    days = [NOW - timedelta(days=number) for number in range(800)]
    left = kept(NOW, rungs(days))
    old = [backup.at for backup in left if NOW - backup.at > timedelta(days=60)]
    assert 24 <= len(old) <= 26
    gaps = [later - earlier for later, earlier in pairwise(old)]
    assert all(timedelta(days=25) <= gap <= timedelta(days=37) for gap in gaps)


def test_an_unsound_backup_never_pushes_out_a_sound_one():
    morning = Rung(name="morning", at=NOW - timedelta(days=3, hours=6), sound=True)
    evening = Rung(name="evening", at=NOW - timedelta(days=3), sound=False)
    later = Rung(name="later", at=NOW, sound=True)
    assert backups_to_drop(NOW, [evening, morning, later]) == {"evening"}


@given(ladders())
def test_the_newest_sound_backup_is_never_dropped(backups):
    sound = [backup for backup in backups if backup.sound]
    gone = backups_to_drop(NOW, backups)
    if sound:
        newest = max(backup.at for backup in sound)
        assert any(backup.name not in gone for backup in sound if backup.at == newest)


@given(ladders())
def test_the_number_kept_is_bounded(backups):
    oldest = min((backup.at for backup in backups), default=NOW)
    assert len(kept(NOW, backups)) <= most_kept(NOW, oldest)


@given(ladders(), st.randoms())
def test_the_order_of_the_list_does_not_matter(backups, chance):
    shuffled = list(backups)
    chance.shuffle(shuffled)
    assert backups_to_drop(NOW, backups) == backups_to_drop(NOW, shuffled)


@given(ladders(), st.lists(st.integers(0, 3000), max_size=6))
def test_asking_often_keeps_the_same_as_asking_once(backups, hours):
    once = {backup.name for backup in kept(NOW + timedelta(hours=3000), backups)}
    left = backups
    for hour in sorted(hours):
        left = kept(NOW + timedelta(hours=hour), left)
    assert {backup.name for backup in kept(NOW + timedelta(hours=3000), left)} == once


@given(ladders())
def test_every_month_keeps_something_of_what_it_had(backups):
    """The judge counts by the ISO week's Thursday itself."""

    def month(at):
        year, week, _ = at.isocalendar()
        thursday = datetime.fromisocalendar(year, week, 4)
        return thursday.year, thursday.month

    assert {month(backup.at) for backup in backups} == {month(backup.at) for backup in kept(NOW, backups)}


@given(ladders())
def test_nothing_is_dropped_twice(backups):
    assert backups_to_drop(NOW, kept(NOW, backups)) == frozenset()
