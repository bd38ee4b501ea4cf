"""What the day at the bench lets be recorded of a unit: meters proved, the RCD's button tried, the bench not closed."""

from benchapp.sequences.interlock.live_conditions import MAINS_CAUTION
from benchapp.sequences.language.vocabulary import Supply
from benchapp.sequences.planning.answer_content import AnswerContent, meter_of
from benchapp.sequences.planning.bench_day import BenchDay
from benchapp.sequences.planning.content import Content
from benchapp.sequences.planning.entry_contents import (
    CautionContent,
    MeterContent,
    NoteContent,
    ProbedReading,
    SetUpContent,
)
from benchapp.words import say

NOT_TRIED = (
    "The RCD's button was not tried at today's bench opening, and mains comes through it. "
    "Open the bench (F8): press the button, see that it trips, and say so."
)
NOT_OPENED = (
    "This bench was not opened today, so nobody tried its RCD's button, and mains comes through it. The opening of "
    "another bench does not count here. Open the bench (F8): press the button, see that it trips, and say so."
)
CLOSED = "The bench was closed for today: no meter counts as proved since. Open it again first."

NOT_RATED = (
    "The RCD's rating was not read at today's bench opening, or it is above 30 mA, and that protects no people. Open "
    "the bench again (F8) with the residual current that is printed on it, or behind an RCD of 30 mA or less."
)
NOT_RESET = (
    "Nobody said at today's bench opening that the RCD was switched on again after its button had tripped it. Open the "
    "bench again (F8) when it is."
)
UNPROVED = (
    "No meter was proved on a known source at today's bench opening. Open the bench (F8): prove one on a proving unit, "
    "a battery or an extra-low-voltage supply, never in a socket, and say on which."
)
ALONE = (
    "Nobody else is named as in the room at today's bench opening, and nobody works under mains alone. Open the bench "
    "again (F8) when somebody else is in the room, and name them."
)


def refuse_by_the_day(day: BenchDay, content: Content, *, supply: Supply = Supply.none) -> str | None:
    """The sentence with which the day refuses such an entry; None where it may be recorded, as far as the day goes.

    `supply` is that of the step which a set-up is made for.
    """
    match content:
        case SetUpContent():
            return _refuse_reading(day, "", supply)
        case AnswerContent():
            return _refuse_reading(day, meter_of(content), content.supply)
        case NoteContent(probed=ProbedReading() as probed):
            return _refuse_reading(day, probed.meter, probed.supply)
        case CautionContent():
            return _refuse_caution(day, content.caution)
        case MeterContent():
            return _refuse_meter(day, content)
    return None


def _refuse_reading(day: BenchDay, meter: str, supply: Supply) -> str | None:
    """What was found at the bench after a meter was taken in hand counts: the day closed, or the meter not proved."""
    live = supply is not Supply.none
    if live and (shut := _why_not_live(day, meter)):
        return say("If the unit is under power, switch off at once and make it safe (F12). {why}", why=shut)
    return CLOSED if meter and day.closed else None


def _why_not_live(day: BenchDay, meter: str) -> str | None:
    if shut := _why_no_mains(day):
        return shut
    if day.check_of(meter) is not None and not day.proves(meter):
        return say("This meter was not proved at the last bench opening. Take another, or prove it (F8).")
    return None


def _refuse_caution(day: BenchDay, caution: str) -> str | None:
    return _why_no_mains(day) if caution == MAINS_CAUTION else None


def _why_no_mains(day: BenchDay) -> str | None:
    """Mains needs an RCD that protects people, tried that day, a meter proved on a known source, and company."""
    if not day.opened:
        return NOT_OPENED
    if day.closed:
        return CLOSED
    if not day.rcd_button_tested:
        return NOT_TRIED
    if not day.protects_people:
        return NOT_RATED
    if not day.rcd_reset:
        return NOT_RESET
    if not day.is_proved:
        return UNPROVED
    return None if day.room else ALONE


def _refuse_meter(day: BenchDay, said: MeterContent) -> str | None:
    """A meter comes to a unit with what the opening found of it, and nothing else."""
    if said == meter_content(day, said.meter, overdue_accepted=said.overdue_accepted):
        return None
    return say("This is not what the day's bench opening found of this meter. Take it in hand again, as it is.")


def meter_content(day: BenchDay, meter: str, *, overdue_accepted: bool = False) -> MeterContent:
    """What an entry that takes the meter in hand says of the day: when it was proved (empty: never), and its leads."""
    check = day.check_of(meter)
    return MeterContent(
        meter=meter,
        proved=day.opened if day.proves(meter) else "",
        overdue_accepted=overdue_accepted,
        lead_resistance=None if check is None else check.lead_resistance,
        nulled=check is not None and check.nulled,
    )
