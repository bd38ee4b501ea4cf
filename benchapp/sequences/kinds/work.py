"""The kind `work`: carry out actions in order and confirm each."""

from dataclasses import dataclass

from pydantic import Field

from benchapp.files.forms import Id
from benchapp.judgement.statements.statements import Judgement
from benchapp.sequences.answering.answers import asked_at, complain, settled
from benchapp.sequences.checks.checked_kind import CheckedKind, nothing_more
from benchapp.sequences.history.unit_state import AnsweringState
from benchapp.sequences.language.field_types import Words
from benchapp.sequences.language.steps import StepBase
from benchapp.sequences.language.vocabulary import Facts
from benchapp.sequences.language.worked_cases import CaseLine
from benchapp.sequences.planning.answer_content import AnswerContent
from benchapp.sequences.planning.entries import StepAnswer
from benchapp.sequences.planning.entry_contents import PartUsed
from benchapp.sequences.planning.planned import Plan, PlannedStep
from benchapp.sequences.planning.planned_kind import OnTag, one_step
from benchapp.sequences.planning.role_eligibility import BY_HAND
from benchapp.sequences.planning.state import Evaluation


class WorkStep(StepBase):
    """Carry out actions in order and confirm each; parts used may be recorded."""

    work: Id
    """the step's own id"""
    do: tuple[Words, ...] = Field(min_length=1)
    """the actions in order, each confirmed"""
    parts_used: tuple[str, ...] = ()
    """parts that may be used up, for the record and the kit list"""


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkAnswer(StepAnswer):
    """The actions carried out, in the step's words, and the parts used."""

    done: tuple[str, ...]
    parts: tuple[PartUsed, ...] = ()
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkContent(AnswerContent):
    """The actions carried out, in the step's words, and the parts used."""

    done: tuple[str, ...]
    parts_used: tuple[PartUsed, ...] = ()

    @property
    def words(self) -> str:
        return f"{len(self.done)} done"

    def at(self, name: str) -> str:
        return f"the work “{name}”"

    @property
    def lines(self) -> int:
        return len(self.done)


class Work(CheckedKind):
    """Done when every action is confirmed."""

    name = "work"
    place = 2
    model = WorkStep
    answer = WorkAnswer
    content = WorkContent
    by_hand = True
    on_tag = OnTag.nothing
    digest_keys = ("do",)
    shows = dict.fromkeys(BY_HAND, lambda _step: "")
    plan = one_step
    check = nothing_more

    def evaluate(self, plan: Plan, state: AnsweringState, step: PlannedStep, given: WorkAnswer, at: str) -> Evaluation:
        assert isinstance(step.model, WorkStep)
        left = [action for action in step.model.do if action not in given.done]
        if left:
            return complain(f"Still to do: {left[0]}" + (f" and {len(left) - 1} more." if len(left) > 1 else ""))
        return settled(
            WorkContent(
                **asked_at(step),
                judgement=Judgement.passed,
                sentence="Done.",
                done=given.done,
                parts_used=given.parts,
                note=given.note,
            )
        )

    def answer_from(self, content: WorkContent) -> WorkAnswer:
        return WorkAnswer(done=content.done, parts=content.parts_used, note=content.note)

    def case_answer(self, step: WorkStep, line: CaseLine, facts: Facts) -> WorkAnswer:
        return WorkAnswer(done=step.do)
