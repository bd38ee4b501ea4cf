"""The kind `photo`: take photos for the record."""

from dataclasses import dataclass

from pydantic import Field

from benchapp.files.forms import Id
from benchapp.judgement.statements.statements import Judgement
from benchapp.sequences.answering.answers import asked_at, complain, settled
from benchapp.sequences.checks.checked_kind import CheckedKind, nothing_more
from benchapp.sequences.history.unit_state import AnsweringState
from benchapp.sequences.language.steps import StepBase
from benchapp.sequences.language.vocabulary import Facts
from benchapp.sequences.language.worked_cases import CaseLine
from benchapp.sequences.planning.answer_content import AnswerContent
from benchapp.sequences.planning.entries import StepAnswer
from benchapp.sequences.planning.photo_names import MOST_PHOTOS, refuse_photos
from benchapp.sequences.planning.planned import Plan, PlannedStep
from benchapp.sequences.planning.planned_kind import OnTag, one_step
from benchapp.sequences.planning.state import Evaluation


class PhotoStep(StepBase):
    """Take photos for the record."""

    photo: Id
    """the step's own id"""
    at_least: int = Field(default=1, ge=0, le=MOST_PHOTOS)
    """how many are needed"""


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoAnswer(StepAnswer):
    """Photos taken, by the SHA-256 under which the workbook keeps them."""

    photos: tuple[str, ...]
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoContent(AnswerContent):
    """Photos taken, by the SHA-256 under which the workbook keeps them."""

    photos: tuple[str, ...]


class Photo(CheckedKind):
    """Done when as many photos are taken as the step asks for."""

    name = "photo"
    place = 8
    model = PhotoStep
    answer = PhotoAnswer
    content = PhotoContent
    by_hand = True
    on_tag = OnTag.nothing
    digest_keys = ("at_least",)
    shows = {}
    plan = one_step
    check = nothing_more

    def evaluate(self, plan: Plan, state: AnsweringState, step: PlannedStep, given: PhotoAnswer, at: str) -> Evaluation:
        assert isinstance(step.model, PhotoStep)
        if wrong := refuse_photos(given.photos):
            return complain(wrong)
        if len(given.photos) < step.model.at_least:
            return complain(f"{step.model.at_least - len(given.photos)} more to take.")
        return settled(
            PhotoContent(
                **asked_at(step),
                judgement=Judgement.passed,
                sentence=f"{len(given.photos)} photos.",
                photos=given.photos,
                note=given.note,
            )
        )

    def answer_from(self, content: PhotoContent) -> PhotoAnswer:
        return PhotoAnswer(photos=content.photos, note=content.note)

    def case_answer(self, step: PhotoStep, line: CaseLine, facts: Facts) -> PhotoAnswer:
        return PhotoAnswer(photos=stand_ins(max(step.at_least, 1)))


def stand_ins(count: int) -> tuple[str, ...]:
    """Hashes that stand for so many photos in a worked case."""
    return tuple(f"{number:064x}" for number in range(count))
