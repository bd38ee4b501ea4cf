"""How an answer that was tried is put into words and into the content of an entry."""

from collections.abc import Mapping
from typing import Any

from benchapp.sequences.language.steps import NamedFault
from benchapp.sequences.planning.planned import PlannedStep
from benchapp.sequences.planning.state import Evaluation


def complain(sentence: str) -> Evaluation:
    """An answer that cannot be recorded, and why."""
    return Evaluation(complaint=sentence)


def settled(step: PlannedStep, judgement: str, sentence: str, more: Mapping[str, Any], note: str = "") -> Evaluation:
    """An answer with its content; what every answer's entry carries is put here."""
    content = {
        "step": step.kind,
        "step_digest": step.digest,
        "supply": step.supply.value,
        "energises": step.energises,
        "judgement": judgement,
        "sentence": sentence,
        **more,
    }
    if note:
        content["note"] = note
    return Evaluation(judgement=judgement, sentence=sentence, content=content)


def fault_content(fault: NamedFault | None, severity: str, words: str, part: str = "") -> dict[str, str]:
    """A fault as an entry keeps it; one that the author did not name is called by the words of what was asked."""
    if fault is None:
        return {"part": part, "mode": "", "words": words, "grave": severity}
    return {"part": fault.part, "mode": fault.mode, "words": fault.words, "grave": severity}
