"""What a reading may be taken for, by where its digits come from: keys, a wire, a tester's memory.

A meter with its probes off reads 0 V like a dead unit, and over range like sound insulation. So nothing is taken by
itself where that would pass: over range, on the way back, and where leads are proved.
"""

from benchapp.judgement.meters.wire import DRIVES_THE_UNIT
from benchapp.quantities.quantity import Bound
from benchapp.sequences.language.vocabulary import ReadingSource, Role, Supply
from benchapp.sequences.planning.answer_content import AnswerContent, ReadingContent
from benchapp.sequences.planning.planned import PlannedStep
from benchapp.words import say

LIFTED = "probes that are off read the same"
PROVES_LEADS = "it proves the leads"
PROVES_METER = "it proves the meter"


def refuse_source(step: PlannedStep, content: AnswerContent) -> str | None:
    """The sentence with which a reading is refused for where it comes from; None where it may be recorded."""
    if not isinstance(content, ReadingContent):
        return None
    if content.source is ReadingSource.steady and (why := never_by_itself(step, content.bound)):
        return say("This reading is never taken by itself: {why}. Look at the meter, and take it by key.", why=why)
    if content.source is ReadingSource.transcribed:
        return _refuse_transcribed(step, content)
    return None


def never_by_itself(step: PlannedStep, bound: Bound = Bound.exact) -> str:
    """Why no reading of the step is taken by itself; empty where one may be."""
    if bound is not Bound.exact:
        return say("over range is no value, and {LIFTED}", LIFTED=LIFTED)
    if step.way_back:
        return say("on the way back it proves a unit dead, and {LIFTED}", LIFTED=LIFTED)
    if Role.leads in step.shows:
        return PROVES_LEADS
    if step.function in DRIVES_THE_UNIT:
        return "the tester puts a voltage or a current on the unit, so its key is pressed with the unit in sight"
    return ""


def _refuse_transcribed(step: PlannedStep, content: ReadingContent) -> str | None:
    """What a tester kept may say something of a dead unit; never that it is dead, nor what it does under power."""
    if step.way_back or Role.leads in step.shows or step.supply is not Supply.none:
        return say(
            "A reading that a tester kept says nothing here: it is taken now, on this unit. Read it with the meter."
        )
    if not content.sent.strip():
        return say("A reading that a tester kept is recorded with the row that it kept. Import it anew from its file.")
    return None
