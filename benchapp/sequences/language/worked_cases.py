"""What a trainer may write as a worked case: answers on one unit, and the judgements that must come out."""

from collections.abc import Mapping

from pydantic import Field

from benchapp.files.models import FileModel
from benchapp.sequences.language.field_types import JudgementWord, Mark, Words


class CaseLine(FileModel):
    """One answer of a worked case and the judgement that must come out."""

    step: str
    """the step's id; one probe of a probe step by step/probe, as in outputs/outlet.1-2"""
    reads: str = ""
    """what the meter shows; at a wait step how long was waited, all of it when not given"""
    marks: Mapping[str, Mark] = Field(default_factory=dict)
    """checkpoints not named are good"""
    answer: str = ""
    """the answer at an ask step"""
    meter: str = ""
    """the case's own meter, when not given"""
    judgement: JudgementWord
    """what must come out"""


class WorkedCase(FileModel):
    """Answers in order, on one piece of equipment, with the judgements that must come out."""

    case: Words
    """what the case is about"""
    equipment: str
    """the design by its id"""
    meter: str = ""
    """the meter that reads, where a line does not name its own"""
    facts: Mapping[str, str | float | bool] = Field(default_factory=dict)
    """what this unit has of its own"""
    leads: str = "0 ohm"
    """resistance of the test leads as measured; nulled when not given, "not measured" where nobody looked"""
    answers: tuple[CaseLine, ...] = Field(min_length=1)
    """the answers in order"""
