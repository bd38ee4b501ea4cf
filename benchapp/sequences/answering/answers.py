"""How an answer that was tried is put into words and into the content of an entry."""

from dataclasses import replace
from typing import Any, TypedDict

from benchapp.sequences.language.steps import NamedFault
from benchapp.sequences.language.vocabulary import Supply
from benchapp.sequences.planning.answer_content import AnswerContent
from benchapp.sequences.planning.entry_contents import FaultContent
from benchapp.sequences.planning.planned import PlannedStep
from benchapp.sequences.planning.state import Evaluation


class AskedAt(TypedDict):
    """What every answer carries of the step at which it was given."""

    step: str
    step_digest: str
    supply: Supply
    energises: bool


def asked_at(step: PlannedStep) -> AskedAt:
    """What an answer given at this step carries of it."""
    return AskedAt(step=step.kind, step_digest=step.digest, supply=step.supply, energises=step.energises)


def complain(sentence: str) -> Evaluation:
    """An answer that cannot be recorded, and why."""
    return Evaluation(complaint=sentence)


def settled(content: AnswerContent) -> Evaluation:
    """An answer that can be recorded as this content."""
    return Evaluation(judgement=content.judgement.value, sentence=content.sentence, content=content)


def with_sentence(tried: Evaluation, sentence: str, **more: Any) -> Evaluation:  # noqa: ANN401 - fields of a content
    """The same with another sentence, and what goes with it, in the evaluation and in its content."""
    assert tried.content is not None
    content = replace(tried.content, sentence=sentence, **more)
    return replace(tried, judgement=content.judgement.value, sentence=sentence, content=content)


def fault_content(
    fault: NamedFault | None, severity: str, words: str, part: str = "", old_hazard: str = ""
) -> FaultContent:
    """A fault as an entry keeps it; one that the author did not name is called by the words of what was asked."""
    if fault is None:
        return FaultContent(part=part, words=words, severity=severity, old_hazard=old_hazard)
    return FaultContent(part=fault.part, mode=fault.mode, words=fault.words, severity=severity, old_hazard=old_hazard)
